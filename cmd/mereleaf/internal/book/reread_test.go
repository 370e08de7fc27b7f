package book

import (
	"strings"
	"testing"
	"testing/fstest"

	"mereleaf/cmd/mereleaf/internal/diag"
)

func edit(files fstest.MapFS, name, old, replacement string) {
	files[name] = &fstest.MapFile{Data: []byte(strings.ReplaceAll(string(files[name].Data), old, replacement))}
}

func keys(b *Book) map[string]string {
	m := map[string]string{"terms": b.TermsKey()}
	for _, c := range b.Chapters() {
		m[c.File] = b.Key(c)
	}
	return m
}

func bodies(t *testing.T, b *Book) map[string]string {
	t.Helper()
	m := map[string]string{}
	for _, c := range b.Chapters() {
		body, err := b.Body(c)
		if err != nil {
			t.Fatal(err)
		}
		summary, err := b.SummaryHTML(c)
		if err != nil {
			t.Fatal(err)
		}
		m[c.File] = c.Ref + c.Title + string(summary) + string(body)
	}
	for _, term := range b.Terms {
		html, err := b.TermHTML(term)
		if err != nil {
			t.Fatal(err)
		}
		m["terms"] += term.Name + string(html)
	}
	return m
}

// TestReread makes one edit after another and demands that reading again gives
// what reading anew gives, and that a key changes where the bytes do.
func TestReread(t *testing.T) {
	files, _, _ := tree(t, "")
	const first, koi, terms, lid, net = "content/water/10-first.md", "content/fish/10-koi.md", "content/terms.md", "content/water/lid.svg", "content/fish/20-net.md"
	edits := []struct {
		name    string
		edit    func()
		changed string
	}{
		{"text", func() { edit(files, first, "Text.", "Other [words](../fish/10-koi.md#weight).") }, first},
		{"a table", func() {
			edit(files, koi, "Text.", "[Oxygen](figures:oxygen)\n\n| Temperature (°C) | Oxygen (mg/L) |\n|---|---|\n| 10 | 11.3 |")
		}, koi},
		{"a figure", func() { edit(files, "testdata/reference/oxygen.csv", "table 2", "table 3") }, "testdata/reference/oxygen.csv"},
		{"a source", func() { edit(files, "content/sources.json", "Adams", "Baker") }, "content/sources.json"},
		{"a term", func() { edit(files, terms, "How sour", "How sharp") }, terms},
		{"a new chapter", func() {
			files["content/water/05-zero.md"] = &fstest.MapFile{Data: []byte("# Zero\n\nSummary.\n\n```calculator double\n```\n")}
		}, "content/water/05-zero.md"},
		{"a chapter gone", func() { delete(files, "content/water/05-zero.md") }, "content/water/05-zero.md"},
		{"a folder", func() { edit(files, koi, "Summary of the koi", "About koi") }, "content/fish"},
		{"the parts", func() { edit(files, "content/handbook.toml", `letter = "W"`, `letter = "A"`) }, "content/handbook.toml"},
		{"a drawing", func() {
			files[lid] = &fstest.MapFile{Data: []byte(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 344 20"><path d="M0 0h9"/></svg>`)}
			edit(files, first, "Other", "![A lid](lid.svg) Other")
		}, "content/water"},
		{"a line of the drawing", func() { edit(files, lid, "h9", "h12") }, lid},
		{"a section to take", func() {
			files[net] = &fstest.MapFile{Data: []byte("# Net\n\nSummary.\n\n## Steps\n\n1. Wet it.\n\n## Rest\n\nDry.\n")}
			edit(files, first, "Other", "Before.\n\n[Steps](take:../fish/20-net.md#steps)\n\nOther")
		}, "content"},
		{"a step of the section", func() { edit(files, net, "Wet it", "Wet it at [20 °C](figure:oxygen?temperature=20#temperature)") }, net},
		{"what is not taken", func() { edit(files, net, "Dry", "Dried") }, net},
		{"a figure that a taken step shows", func() {
			edit(files, "testdata/reference/oxygen.csv", "20,9.09", "15,10.1,a-1975,table 3,published,\n20,9.09")
		}, "testdata/reference/oxygen.csv"},
		{"the calculators", func() {}, "calculators/water/ammonia.go"},
	}
	b, faults := Read(files, double())
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	for _, e := range edits {
		keysBefore, bodiesBefore := keys(b), bodies(t, b)
		e.edit()
		b, faults = b.Reread(files, []string{e.changed})
		if len(faults) > 0 {
			t.Fatalf("%s: %v", e.name, faults)
		}
		anew, _ := Read(files, double())
		want, got := bodies(t, anew), bodies(t, b)
		for file := range want {
			if got[file] != want[file] {
				t.Errorf("after %s, %s reads again as\n%s\nand anew as\n%s", e.name, file, got[file], want[file])
			}
			if got[file] != bodiesBefore[file] && keys(b)[file] == keysBefore[file] {
				t.Errorf("after %s the bytes of %s change and its key does not", e.name, file)
			}
		}
		if len(want) != len(got) {
			t.Errorf("after %s there are %d files, want %d", e.name, len(got), len(want))
		}
	}
}

// TestRereadKeepsOtherChapters demands that an edit of running text leaves the
// parsed state and the keys of all other chapters alone.
func TestRereadKeepsOtherChapters(t *testing.T) {
	files, _, _ := tree(t, "")
	before, _ := Read(files, double())
	edit(files, "content/water/10-first.md", "Text.", "Other text.")
	after, _ := before.Reread(files, []string{"content/water/10-first.md"})
	for i, c := range after.Chapters() {
		old := before.Chapters()[i]
		edited := c.File == "content/water/10-first.md"
		if same := c.Doc == old.Doc; same == edited {
			t.Errorf("%s: parsed again: %t", c.File, !same)
		}
		if same := after.Key(c) == before.Key(old); same == edited {
			t.Errorf("%s: key kept: %t", c.File, same)
		}
	}
}

// TestRereadReportsAndRecovers breaks a chapter that another links to, and
// mends it.
func TestRereadReportsAndRecovers(t *testing.T) {
	files, _, _ := tree(t, "")
	edit(files, "content/water/10-first.md", "Text.", "[Weight](../fish/10-koi.md#weight).")
	b, faults := Read(files, double())
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	edit(files, "content/fish/10-koi.md", "## Weight", "## Length")
	b, faults = b.Reread(files, []string{"content/fish/10-koi.md"})
	want := diag.Position{File: "content/water/10-first.md", Line: 7, Column: 10}
	if len(faults) != 1 || faults[0].Position != want {
		t.Errorf("got %v; want one fault at %v", faults, want)
	}
	edit(files, "content/fish/10-koi.md", "## Length", "## Weight")
	if _, faults = b.Reread(files, []string{"content/fish/10-koi.md"}); len(faults) > 0 {
		t.Errorf("after mending: %v", faults)
	}
}
