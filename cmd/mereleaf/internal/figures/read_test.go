package figures

import (
	"bytes"
	"encoding/csv"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"mereleaf/cmd/mereleaf/internal/diag"
)

// Each sample marks with ¦ where its faults are to be reported.
var faultySets = []struct{ name, text, want string }{
	{"empty file", "¦", "no heading"},
	{"no rows", "¦a [m]" + origin, "no rows"},
	{"missing origin columns", "a [m],source,locator,¦basis\n1,,,practice\n", "does not end in source,locator,basis,note"},
	{"unknown unit", "¦a [mug]" + origin + "1,,,practice,\n", "unknown unit"},
	{"column twice", "¦a [m],¦A [m]" + origin + "1,2,,,practice,\n", "stands twice"},
	{"too few cells", "a [m],b" + origin + "1,¦2\n", "the row has 2 cells; expected 6"},
	{"too many cells", "a [m]" + origin + "1,,,practice,,¦2\n", "the row has 6 cells; expected 5"},
	{"unknown basis", "a [m]" + origin + "1,,,¦guess,\n", `the basis is "guess"`},
	{"unknown source", "a [m]" + origin + "1,¦toy-1999,p. 1,published,\n", "the source toy-1999 is not known"},
	{"published without source", "a [m]" + origin + "1,¦,,published,\n", "the row has no source"},
	{"computed without a word", "a [m]" + origin + "1,¦,,library,\n", "neither source nor note"},
	{"invented with source", "a [m]" + origin + "1,¦toy-2001,,scenario,\n", "an invented row names a source"},
	{"quotation mark", "a [m],b" + origin + "1,x¦\"y,,,practice,\n", "quotation marks"},
	{"line break in a cell", "a [m],b" + origin + "1,¦\"x\ny\",,,practice,\n2,z,,,practice,\n", "over the end of the line"},
	{"byte order mark", "¦\uFEFFa [m]" + origin + "1,,,practice,\n", "byte order mark"},
	{"not UTF-8", "a [m],b" + origin + "1,x¦\xff,,,practice,\n", "not UTF-8"},
	{"zero byte", "a [m],b" + origin + "1,x¦\x00,,,practice,\n", "zero byte"},
	{"two faults", "a [m]" + origin + "1,,,¦guess,\n2,,,practice,\n3,,,¦guess,\n", "the basis is"},
}

func TestReadReportsFaultsWhereTheyAre(t *testing.T) {
	for _, c := range faultySets {
		t.Run(c.name, func(t *testing.T) {
			file := Folder + "/toy.csv"
			text, want := unmark(file, c.text)
			_, list := Read(toyFiles(map[string]string{"toy": text}))
			var got []diag.Position
			for _, d := range list {
				got = append(got, d.Position)
				if !strings.Contains(d.String(), c.want) {
					t.Errorf("%s: no word of %q", d, c.want)
				}
				if d.Remedy == "" || strings.Contains(d.String(), "\n") {
					t.Errorf("%q has no remedy or several lines", d)
				}
			}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("places (-want +got):\n%s", diff)
			}
		})
	}
}

func TestReadRefusesFiles(t *testing.T) {
	big := toyFiles(nil)
	big[Folder+"/big.csv"] = &fstest.MapFile{Data: bytes.Repeat([]byte("x"), sizeLimit+1)}
	misnamed := toyFiles(map[string]string{"Toy Air": "a [m]" + origin + "1,,,practice,\n"})
	device := toyFiles(nil)
	device[Folder+"/pipe.csv"] = &fstest.MapFile{Mode: fs.ModeNamedPipe}
	noFolder := fstest.MapFS{SourcesFile: {Data: []byte(toySources)}}
	noSources := toyFiles(map[string]string{"toy": "a [m]" + origin + "1,,,practice,\n"})
	delete(noSources, SourcesFile)
	for _, c := range []struct {
		name string
		fsys fs.FS
		want string
	}{
		{"too big", big, Folder + "/big.csv: the file has 5242881 bytes; expected at most 5 MB"},
		{"bad name", misnamed, Folder + "/Toy Air.csv: this is no name for a figure set"},
		{"pipe", device, Folder + "/pipe.csv: this is not a plain file"},
		{"no folder", noFolder, Folder + ": the folder of the reference figures is missing"},
		{"no sources", noSources, SourcesFile + ": the file is missing"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, list := Read(c.fsys)
			if len(list) != 1 || !strings.HasPrefix(list[0].String(), c.want) {
				t.Errorf("got %q, want one fault %q", list, c.want)
			}
		})
	}
}

func TestReadRefusesSymbolicLinks(t *testing.T) {
	root := t.TempDir()
	outside := filepath.Join(t.TempDir(), "secret.csv")
	if err := os.CopyFS(root, toyFiles(map[string]string{"toy": "a [m]" + origin + "1,,,practice,\n"})); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(outside, []byte("a [m]"+origin+"1,,,practice,\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(outside, filepath.Join(root, Folder, "link.csv")); err != nil {
		t.Fatal(err)
	}
	lib, list := Read(os.DirFS(root))
	if len(list) != 1 || !strings.Contains(list[0].String(), "link.csv: this is a symbolic link") {
		t.Errorf("faults: %v", list)
	}
	if len(lib.Sets) != 1 {
		t.Errorf("%d sets, want the plain one only", len(lib.Sets))
	}
}

var faultySources = []struct{ name, text, want string }{
	{"not a list", `¦{"id": "a"}`, "not a list of sources: is a JSON object"},
	{"no end", `[{"id": "a", "type": "book", "title": "A"}¦`, "it has no end"},
	{"no id", `[¦{"type": "book", "title": "A"}]`, "no id"},
	{"twice", `[{"id": "a", "type": "book", "title": "A"}, ¦{"id": "a", "type": "book", "title": "A"}]`, "stands twice"},
	{"order", `[{"id": "b", "type": "book", "title": "B"}, ¦{"id": "a", "type": "book", "title": "A"}]`, "the source a stands out of order"},
	{"twice, and apart", `[{"id": "a", "type": "book", "title": "A"}, {"id": "b", "type": "book", "title": "B"}, ¦{"id": "a", "type": "book", "title": "A"}]`, "a stands twice"},
	{"one too early", `[{"id": "a", "type": "book", "title": "A"}, ¦{"id": "x", "type": "book", "title": "X"}, {"id": "b", "type": "book", "title": "B"}, {"id": "c", "type": "book", "title": "C"}]`, "the source x stands out of order"},
	{"one too late", `[{"id": "b", "type": "book", "title": "B"}, {"id": "c", "type": "book", "title": "C"}, {"id": "d", "type": "book", "title": "D"}, ¦{"id": "a", "type": "book", "title": "A"}]`, "the source a stands out of order"},
	{"no title", `[¦{"id": "a", "type": "book"}]`, "no title or type"},
	{"wrong type", `[¦{"id": 5, "type": "book", "title": "A"}]`, "not a CSL item"},
	{"syntax", `[{"id": "a" ¦"type": "book"}]`, "invalid character"},
}

func TestReadReportsFaultsInTheSources(t *testing.T) {
	for _, c := range faultySources {
		t.Run(c.name, func(t *testing.T) {
			text, want := unmark(SourcesFile, c.text)
			files := toyFiles(map[string]string{"toy": "a [m]" + origin + "1,,,practice,\n"})
			files[SourcesFile] = &fstest.MapFile{Data: []byte(text)}
			_, list := Read(files)
			if len(list) != 1 || !strings.Contains(list[0].Problem, c.want) {
				t.Fatalf("got %v, want one fault with %q", list, c.want)
			}
			if diff := cmp.Diff(want, []diag.Position{list[0].Position}); diff != "" {
				t.Errorf("place (-want +got):\n%s", diff)
			}
		})
	}
}

// A source at a wrong place is one fault that says where it belongs, and is found
// by its key all the same.
func TestOneSourceOutOfOrderIsOneFault(t *testing.T) {
	item := func(id string) string { return `{"id": "` + id + `", "type": "book", "title": "T"}` }
	ids := []string{"b", "m", "c", "d", "e", "f", "g", "a"}
	lines := make([]string, len(ids))
	for i, id := range ids {
		lines[i] = item(id)
	}
	files := toyFiles(map[string]string{"toy": "a [m]" + origin + "1,m,p. 1,published,\n"})
	files[SourcesFile] = &fstest.MapFile{Data: []byte("[\n" + strings.Join(lines, ",\n") + "\n]\n")}
	lib, list := Read(files)
	want := []string{
		"content/sources.json:3:1: the source m stands out of order; expected sources in the order of their ids; move it behind g (see content/sources.json:8:1)",
		"content/sources.json:9:1: the source a stands out of order; expected sources in the order of their ids; move it to the top",
	}
	var got []string
	for _, d := range list {
		got = append(got, d.String())
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("faults (-want +got):\n%s", diff)
	}
	if s, ok := lib.Source("m"); !ok || s.ID != "m" || !slices.IsSortedFunc(lib.Sources, byID) {
		t.Errorf("the sources are read as %v", lib.Sources)
	}
}

func TestCitations(t *testing.T) {
	for _, c := range []struct {
		source      Source
		short, full string
	}{
		{Source{Title: "Ponds", Year: 1980, Authors: []Author{{"Reed", "Ann"}}, Publisher: "Mill"}, "Reed 1980", "Ann Reed (1980). Ponds. Mill."},
		{Source{Title: "Ponds?", Authors: []Author{{"Reed", "Ann"}, {"Sedge", ""}}, Container: "Water", Volume: "3", Page: "1-9", DOI: "10.1/x"}, "Reed and Sedge", "Ann Reed and Sedge. Ponds? Water, volume 3, pages 1-9. doi:10.1/x"},
		{Source{Title: "Ponds", Year: 1999, Authors: []Author{{"Reed", "A."}, {"Sedge", "B."}, {"Rush", "C."}}, URL: "https://example.org/p"}, "Reed and others 1999", "A. Reed, B. Sedge and C. Rush (1999). Ponds. https://example.org/p"},
		{Source{Title: "Pond rules", Year: 2001, Authors: []Author{{"Office", ""}}, Publisher: "Office"}, "Office 2001", "Office (2001). Pond rules."},
		{Source{Title: "Safe ponds", Year: 2013, Number: "PS 12", Publisher: "Mill"}, "Safe ponds 2013", "Safe ponds (2013). PS 12. Mill."},
		{Source{Title: "Ponds", Authors: []Author{{"Reed", "Ann"}}, Number: "24"}, "Reed", "Ann Reed. Ponds. Number 24."},
		{Source{Title: "Nobody's notes"}, "Nobody's notes", "Nobody's notes."},
	} {
		if got := c.source.Short(); got != c.short {
			t.Errorf("short: got %q, want %q", got, c.short)
		}
		if got := c.source.Citation(); got != c.full {
			t.Errorf("citation: got %q, want %q", got, c.full)
		}
	}
}

// write prints a set as a file again.
func write(s *Set) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	line := func(cells []Cell) {
		texts := make([]string, len(cells))
		for i, c := range cells {
			texts[i] = c.Text
		}
		_ = w.Write(texts) // a bytes.Buffer takes everything
	}
	line(s.heading)
	for _, r := range s.Rows {
		line(r.Cells)
	}
	w.Flush()
	return b.Bytes()
}

// FuzzRead checks that a set read without fault is the same set after it is
// written and read again, and that no input stops the reader.
func FuzzRead(f *testing.F) {
	names, err := fs.Glob(project(), Folder+"/*.csv")
	if err != nil {
		f.Fatal(err)
	}
	for _, name := range names {
		b, err := fs.ReadFile(project(), name)
		if err != nil {
			f.Fatal(err)
		}
		if len(b) < 4000 { // longer seeds slow the fuzzing and show nothing new
			f.Add(b)
		}
	}
	for _, c := range faultySets {
		f.Add([]byte(c.text))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		set, list := parse("toy.csv", b)
		for _, d := range list {
			if d.Line < 1 || d.Column < 1 || d.Remedy == "" {
				t.Errorf("fault without place or remedy: %q", d)
			}
		}
		if set == nil || len(list) > 0 {
			return
		}
		again, list := parse("toy.csv", write(set))
		if len(list) > 0 {
			t.Fatalf("the set written out is refused: %v", list)
		}
		texts := func(s *Set) (out [][]string) {
			for _, r := range s.Rows {
				row := []string{r.Source, r.Locator, r.Basis, r.Note}
				for _, c := range r.Cells {
					row = append(row, c.Text)
				}
				out = append(out, row)
			}
			return out
		}
		if !slices.EqualFunc(set.Columns, again.Columns, func(a, b Column) bool { return a == b }) {
			t.Errorf("columns %v became %v", set.Columns, again.Columns)
		}
		if diff := cmp.Diff(texts(set), texts(again)); diff != "" {
			t.Errorf("rows (-first +second):\n%s", diff)
		}
	})
}
