package book

import (
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/txtar"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/diag/diagtest"
	"mereleaf/cmd/mereleaf/internal/page"
)

// update rewrites the rendered HTML of testdata/render, and nothing else.
var update = flag.Bool("update", false, "rewrite the rendered HTML of testdata/render")

// tree is a handbook of base.txtar and a case laid over it. A file that says
// only ‹absent› is left out.
func tree(t *testing.T, name string) (files fstest.MapFS, a *txtar.Archive, marks map[string]diag.Position) {
	t.Helper()
	base, err := txtar.ParseFile("testdata/base.txtar")
	if err != nil {
		t.Fatal(err)
	}
	a = &txtar.Archive{}
	if name != "" {
		if a, err = txtar.ParseFile(name); err != nil {
			t.Fatal(err)
		}
	}
	files, marks = fstest.MapFS{}, map[string]diag.Position{}
	for _, f := range append(base.Files, a.Files...) {
		if !strings.Contains(f.Name, "/") {
			continue // what is wanted
		}
		text, found := diagtest.Strip(f.Name, f.Data)
		for mark, p := range found {
			marks[mark] = p
		}
		delete(files, f.Name)
		if !strings.HasPrefix(string(text), "‹absent›") {
			files[f.Name] = &fstest.MapFile{Data: text}
		}
	}
	return files, a, marks
}

func file(t *testing.T, a *txtar.Archive, name string) string {
	t.Helper()
	for _, f := range a.Files {
		if f.Name == name {
			return string(f.Data)
		}
	}
	t.Fatalf("the archive lacks %s", name)
	return ""
}

// double is a calculator small enough to foresee: it doubles a length.
func double() calculators.Set {
	number := calculators.Input{Name: "length", Label: "Length", Help: "Measure it.", Kind: quantity.Length,
		Accept: calculators.Range{Low: 0, High: 10, Origin: "sanity limit"}, Default: "1 m"}
	return calculators.NewSet(calculators.Calculator{
		ID: "double", Title: "Twice a length", Question: "How much is twice a length?", Part: "water",
		Inputs:  []calculators.Input{number},
		Outputs: []calculators.Output{{Name: "twice", Label: "Twice", Unit: "m", Digits: 2}},
		Formulas: []calculators.Formula{{Name: "double", Says: "Adds a length to itself.", TeX: "2x", Basis: "practice",
			Function: "book.double"}},
		Example: calculators.Example{Story: "Ines doubles a plank.", Given: []calculators.Arg{{Name: "length", Value: "2 m"}}},
		Lookup:  calculators.Lookup{Caption: "Doubles", Rows: calculators.Axis{Input: "length", Values: []string{"1 m", "3 m"}}, Show: []string{"twice"}},
		Chart:   calculators.Chart{Caption: "Doubles", X: "length", From: "0 m", To: "10 m", Show: "twice"},
		Compute: func(in calculators.Inputs) (calculators.Result, error) {
			length := in.In("length", "m")
			side, above := fmt.Sprintf(`<svg><path d="M0 0h%g"></path></svg>`, length), `<svg></svg>`
			return calculators.Result{Values: []calculators.Value{calculators.Exactly("twice", 2*length)},
				Sheet: []calculators.Section{{Title: "To buy"}, {Title: "Plank from the side", Drawing: side}, {Title: "Plank from above", Drawing: above}}}, nil
		},
	})
}

func archives(t *testing.T, pattern string) []string {
	t.Helper()
	names, err := filepath.Glob(pattern)
	if err != nil || len(names) == 0 {
		t.Fatalf("no archives match %s (%v)", pattern, err)
	}
	return names
}

func TestBaseIsInOrder(t *testing.T) {
	files, _, _ := tree(t, "")
	if _, faults := Read(files, double()); len(faults) > 0 {
		t.Fatal(faults)
	}
}

// TestFaults reads each archive's handbook and compares all its faults with the
// archive's file of faults.
func TestFaults(t *testing.T) {
	for _, name := range archives(t, "testdata/faults/*.txtar") {
		t.Run(strings.TrimSuffix(filepath.Base(name), ".txtar"), func(t *testing.T) {
			files, a, marks := tree(t, name)
			_, faults := Read(files, double())
			want := diagtest.Expand([]byte(file(t, a, "faults")), marks)
			if diff := cmp.Diff(faults.Error()+"\n", want); diff != "" {
				t.Errorf("faults (-got +want):\n%s", diff)
			}
		})
	}
}

// TestRender writes one chapter of each archive's handbook, water/10-first.md.
func TestRender(t *testing.T) {
	for _, name := range archives(t, "testdata/render/*.txtar") {
		t.Run(strings.TrimSuffix(filepath.Base(name), ".txtar"), func(t *testing.T) {
			files, a, _ := tree(t, name)
			b, faults := Read(files, double())
			if err := faults.Err(); err != nil {
				t.Fatal(err)
			}
			body, err := b.Body(b.Parts[0].Chapters[0])
			if err != nil {
				t.Fatal(err)
			}
			if *update {
				rewrite(t, name, string(body))
				return
			}
			if diff := cmp.Diff(string(body), file(t, a, "out.html")); diff != "" {
				t.Errorf("HTML (-got +want); go test -update rewrites it:\n%s", diff)
			}
		})
	}
}

func rewrite(t *testing.T, name, html string) {
	t.Helper()
	a, err := txtar.ParseFile(name)
	if err != nil {
		t.Fatal(err)
	}
	kept := a.Files[:0]
	for _, f := range a.Files {
		if f.Name != "out.html" {
			kept = append(kept, f)
		}
	}
	a.Files = append(kept, txtar.File{Name: "out.html", Data: []byte(html)})
	if err := os.WriteFile(name, txtar.Format(a), 0o666); err != nil {
		t.Fatal(err)
	}
}

// endless is a file that states a small size and has no end.
type endless struct {
	fs.File
	read *int
}

func (e endless) Read(p []byte) (int, error) {
	*e.read += len(p)
	return len(p), nil
}

// lying serves one endless file in a handbook otherwise in order.
type lying struct {
	fstest.MapFS
	name string
	read *int
}

func (l lying) Open(name string) (fs.File, error) {
	f, err := l.MapFS.Open(name)
	if err != nil || name != l.name {
		return f, err
	}
	return endless{f, l.read}, nil
}

func TestHugeFileIsNotReadWhole(t *testing.T) {
	root := t.TempDir()
	files, _, _ := tree(t, "")
	if err := os.CopyFS(root, files); err != nil {
		t.Fatal(err)
	}
	huge := filepath.Join(root, "content", "water", "20-huge.md")
	if err := os.WriteFile(huge, nil, 0o666); err != nil {
		t.Fatal(err)
	}
	const size = 50 << 20
	if err := os.Truncate(huge, size); err != nil {
		t.Fatal(err)
	}
	_, faults := Read(os.DirFS(root), double())
	want := "content/water/20-huge.md: the file has " + strconv.Itoa(size) + " bytes; expected at most 1048576; divide it into several chapters, and keep pictures in files of their own"
	if faults.Error() != want {
		t.Errorf("got %s\nwant %s", faults.Error(), want)
	}
	allocated := testing.Benchmark(func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			_, _ = readText(os.DirFS(root), "content/water/20-huge.md")
		}
	}).AllocedBytesPerOp()
	if allocated > 100_000 {
		t.Errorf("refusing the file took %d bytes of memory", allocated)
	}
}

func TestEndlessFileIsRefused(t *testing.T) {
	files, _, _ := tree(t, "")
	read := 0
	_, faults := Read(lying{files, "content/water/10-first.md", &read}, double())
	if !strings.Contains(faults.Error(), "content/water/10-first.md: the file has ") {
		t.Errorf("got %v", faults)
	}
	if read > 2*page.MaxSize {
		t.Errorf("%d bytes were read", read)
	}
}

func TestSymbolicLinksAreRefused(t *testing.T) {
	root, outside := t.TempDir(), t.TempDir()
	files, _, _ := tree(t, "")
	if err := os.CopyFS(root, files); err != nil {
		t.Fatal(err)
	}
	secret := filepath.Join(outside, "secret.md")
	if err := os.WriteFile(secret, []byte("# Secret\n\nText.\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(secret, filepath.Join(root, "content", "water", "20-secret.md")); err != nil {
		t.Fatal(err)
	}
	_, faults := Read(os.DirFS(root), double())
	want := "content/water/20-secret.md: this is a symbolic link, which may lead out of the project; expected a file or folder; put a copy in its place"
	if faults.Error() != want {
		t.Errorf("got %s\nwant %s", faults.Error(), want)
	}
}
