package verify

import (
	"io/fs"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"mereleaf/calculators"
	"mereleaf/calculators/catalog"
	"mereleaf/cmd/mereleaf/internal/book"
	"mereleaf/cmd/mereleaf/internal/figures"
	"mereleaf/cmd/mereleaf/internal/ponds"
)

// copied is the handbook with one file changed.
func copied(t *testing.T, changed, before, after string) fs.FS {
	t.Helper()
	files := fstest.MapFS{}
	root := os.DirFS("../../../..")
	for _, folder := range []string{book.Folder, figures.Folder, "calculators"} {
		err := fs.WalkDir(root, folder, func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() {
				return err
			}
			text, err := fs.ReadFile(root, path)
			files[path] = &fstest.MapFile{Data: text}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	text := string(files[changed].Data)
	if strings.Count(text, before) != 1 {
		t.Fatalf("%s: %q stands there %d times", changed, before, strings.Count(text, before))
	}
	files[changed].Data = []byte(strings.Replace(text, before, after, 1))
	return files
}

// Another pump in one line of the worked pond's record: tables, pads, drawings and
// examples follow by themselves, and each fault names a sentence that no longer
// holds. Nothing else is left to change by hand.
func TestAnotherPumpNamesTheSentences(t *testing.T) {
	files := copied(t, ponds.Folder+"/ines.json", "0 L/h, 3.2 m; 2000 L/h, 2.8 m; 4000 L/h, 1.9 m; 6000 L/h, 0.4 m", "0 L/h, 3.6 m; 2000 L/h, 3.2 m; 4000 L/h, 2.2 m; 6000 L/h, 0.6 m")
	b, _ := book.Read(files, catalog.All())
	tower, _ := b.Calculators.Find("tower")
	ines, ok := b.Ponds.Find("ines")
	if !ok {
		t.Fatal("there is no pond ines")
	}
	flow := func(args []calculators.Arg) float64 {
		_, r, err := tower.Evaluate(args)
		if err != nil {
			t.Fatal(err)
		}
		v, _ := r.Value("flow")
		return v.Likely
	}
	if asRead, worked := flow(ines.Args(tower, nil)), flow(tower.Example.Given); asRead < 3200 || worked != asRead {
		t.Fatalf("the pump brings %v L/h, in the worked example %v", asRead, worked)
	}
	_, faults := Run(b)
	sentences := 0
	for _, f := range faults {
		if f.Line == 0 || !strings.HasPrefix(f.File, book.Folder+"/") || !strings.HasPrefix(f.Problem, `"`) {
			t.Errorf("no sentence: %s", f)
		}
		sentences++
	}
	t.Logf("%d sentences no longer hold", sentences)
	if sentences == 0 {
		t.Error("no sentence tells of the pump; then the test proves nothing")
	}
}
