package page

import (
	"flag"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/txtar"

	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/diag/diagtest"
	"mereleaf/cmd/mereleaf/internal/figures"
)

// update rewrites the rendered HTML of testdata/render, and nothing else: what
// is wrong with a chapter, and what a figure is, a person writes.
var update = flag.Bool("update", false, "rewrite the rendered HTML of testdata/render")

func archives(t *testing.T, pattern string) []string {
	t.Helper()
	names, err := filepath.Glob(pattern)
	if err != nil || len(names) == 0 {
		t.Fatalf("no archives match %s (%v)", pattern, err)
	}
	return names
}

func file(a *txtar.Archive, name string) ([]byte, bool) {
	for _, f := range a.Files {
		if f.Name == name {
			return f.Data, true
		}
	}
	return nil, false
}

// TestFaults parses each archive's in.md and compares the faults, all of them,
// with its faults.
func TestFaults(t *testing.T) {
	for _, name := range archives(t, "testdata/faults/*.txtar") {
		t.Run(strings.TrimSuffix(filepath.Base(name), ".txtar"), func(t *testing.T) {
			a, err := txtar.ParseFile(name)
			if err != nil {
				t.Fatal(err)
			}
			in, ok := file(a, "in.md")
			want, wanted := file(a, "faults")
			if !ok || !wanted {
				t.Fatal("the archive lacks in.md or faults")
			}
			text, marks := diagtest.Strip("content/water/10-in.md", in)
			_, faults := Parse("content/water/10-in.md", text)
			got := ""
			if len(faults) > 0 {
				got = faults.Error() + "\n"
			}
			if diff := cmp.Diff(got, diagtest.Expand(want, marks)); diff != "" {
				t.Errorf("faults (-got +want):\n%s", diff)
			}
		})
	}
}

// TestRender writes each archive's in.md and compares it with its out.html.
func TestRender(t *testing.T) {
	for _, name := range archives(t, "testdata/render/*.txtar") {
		t.Run(strings.TrimSuffix(filepath.Base(name), ".txtar"), func(t *testing.T) {
			a, err := txtar.ParseFile(name)
			if err != nil {
				t.Fatal(err)
			}
			in, ok := file(a, "in.md")
			if !ok {
				t.Fatal("the archive lacks in.md")
			}
			text, _ := diagtest.Strip("content/water/10-in.md", in)
			doc, faults := Parse("content/water/10-in.md", text)
			if err := faults.Err(); err != nil {
				t.Fatal(err)
			}
			got := render(t, doc, a)
			if *update {
				rewrite(t, name, a, got)
				return
			}
			want, _ := file(a, "out.html")
			if diff := cmp.Diff(got, string(want)); diff != "" {
				t.Errorf("HTML (-got +want); go test -update rewrites it:\n%s", diff)
			}
		})
	}
}

func render(t *testing.T, doc *Document, a *txtar.Archive) string {
	t.Helper()
	r, faults := resolve(doc, a)
	if err := faults.Err(); err != nil {
		t.Fatal(err)
	}
	summary, err := doc.SummaryHTML(r)
	if err != nil {
		t.Fatal(err)
	}
	body, err := doc.Body(r)
	if err != nil {
		t.Fatal(err)
	}
	return "<p class=\"first\">" + summary + "</p>\n" + body
}

func rewrite(t *testing.T, name string, a *txtar.Archive, got string) {
	t.Helper()
	for i, f := range a.Files {
		if f.Name == "out.html" {
			a.Files = append(a.Files[:i], a.Files[i+1:]...)
			break
		}
	}
	a.Files = append(a.Files, txtar.File{Name: "out.html", Data: []byte(got)})
	if err := os.WriteFile(name, txtar.Format(a), 0o666); err != nil {
		t.Fatal(err)
	}
}

// resolve stands in for package book: links lead to their own names, and tables
// are bound to the figure sets in the archive.
func resolve(doc *Document, a *txtar.Archive) (Resolved, diag.List) {
	files := fstest.MapFS{}
	for _, f := range a.Files {
		files[f.Name] = &fstest.MapFile{Data: f.Data}
	}
	r := Resolved{Origin: plainOrigins{}, Caution: func(name string) (Panel, error) {
		text, _ := file(a, "cautions.md")
		_, _, cautions, _ := ParseCautions("content/cautions.md", text)
		for _, w := range cautions {
			if w.Slug == name {
				return Panel{Warned: w, Resolved: Resolved{Links: []Link{{Href: "a-link"}}}}, nil
			}
		}
		return Panel{}, fs.ErrNotExist
	}, Block: func(b *Block) (string, error) {
		return "<pre>" + string(b.Kind) + " " + b.Name + " " + b.TeX + "</pre>", nil
	}}
	for _, ref := range doc.References {
		r.Links = append(r.Links, Link{Href: ref.Target + "#" + ref.Fragment, Class: string(ref.Scheme), Title: ref.Locator, Alert: ref.Scheme == ToCaution})
	}
	for _, p := range doc.Pictures {
		r.Images = append(r.Images, Image{Src: p.Target, Width: 4, Height: 3})
	}
	var lib *figures.Library
	var faults diag.List
	for _, table := range doc.Tables {
		if !table.Bound {
			r.Tables = append(r.Tables, nil)
			continue
		}
		if lib == nil {
			lib, faults = figures.Read(files)
		}
		bound, f := lib.BindTable(table.Figure)
		r.Tables, faults = append(r.Tables, bound), append(faults, f...)
	}
	return r, faults
}

type plainOrigins struct{}

func (plainOrigins) Citation(key string) string             { return "cited " + key }
func (plainOrigins) SourceHref(key string) string           { return "sources.html#" + key }
func (plainOrigins) RowHref(set *figures.Set, _ int) string { return "figures/" + set.Name + ".html" }

// emptyTables binds no table: every number is left without a figure.
func emptyTables(doc *Document) [][][]figures.Bound {
	return make([][][]figures.Bound, len(doc.Tables))
}
