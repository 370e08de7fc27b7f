package book

import (
	"bytes"
	"fmt"
	"os"
	"path"
	"testing"
	"testing/fstest"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"

	"mereleaf/calculators/catalog"
)

const projectRoot = "../../../.."

// copies is the project's own handbook with its chapters copied until there are
// n of them. It is skipped while the handbook has faults, which verify reports.
func copies(b *testing.B, n int) (fstest.MapFS, *Book) {
	b.Helper()
	own, _ := Read(os.DirFS(projectRoot), catalog.All())
	files := fstest.MapFS{}
	add := func(name string) {
		data, err := os.ReadFile(path.Join(projectRoot, name))
		if err != nil {
			b.Fatal(err)
		}
		files[name] = &fstest.MapFile{Data: data}
	}
	for _, s := range own.Library.Sets {
		add(s.File)
	}
	for _, name := range []string{ConfigFile, TermsFile, "content/sources.json"} {
		add(name)
	}
	chapters := own.Chapters()
	for i := range n {
		c := chapters[i%len(chapters)]
		name := c.File
		if i >= len(chapters) {
			name = fmt.Sprintf("%s/%04d-%s-%d.md", path.Dir(c.File), 100+i, c.Slug, i)
		}
		files[name] = &fstest.MapFile{Data: c.Text}
	}
	return files, own
}

// BenchmarkThousandChapters reads and writes 1,000 chapters, files left out.
// Compare with BenchmarkThousandByGoldmark.
func BenchmarkThousandChapters(b *testing.B) {
	files, _ := copies(b, 1000)
	b.ReportAllocs()
	for b.Loop() {
		read, _ := Read(files, catalog.All())
		all := read.Chapters()
		parallel(len(all), func(i int) {
			if _, err := read.Body(all[i]); err != nil {
				b.Error(err)
			}
		})
	}
}

// BenchmarkThousandByGoldmark parses and writes the same text by goldmark with
// its tables, and nothing of the handbook.
func BenchmarkThousandByGoldmark(b *testing.B) {
	files, _ := copies(b, 1000)
	read, _ := Read(files, catalog.All())
	all := read.Chapters()
	markdown := goldmark.New(goldmark.WithExtensions(extension.Table))
	b.ReportAllocs()
	for b.Loop() {
		parallel(len(all), func(i int) {
			var out bytes.Buffer
			if err := markdown.Convert(all[i].Text, &out); err != nil {
				b.Error(err)
			}
		})
	}
}

// BenchmarkOneEdit reads 1,000 chapters again after one of them changed, and
// writes that one.
func BenchmarkOneEdit(b *testing.B) {
	files, own := copies(b, 1000)
	read, _ := Read(files, catalog.All())
	edited := own.Chapters()[0]
	for i := 0; b.Loop(); i++ {
		files[edited.File] = &fstest.MapFile{Data: fmt.Appendf(bytes.Clone(edited.Text), "\nEdit number %d.\n", i)}
		read, _ = read.Reread(files, []string{edited.File})
		if _, err := read.Body(read.Chapters()[0]); err != nil {
			b.Fatal(err)
		}
	}
}
