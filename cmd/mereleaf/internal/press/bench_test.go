package press

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"runtime/metrics"
	"strconv"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"

	"mereleaf/calculators/catalog"
	"mereleaf/cmd/mereleaf/internal/trial"
)

// many is how many chapters the benchmarks print: far more than a club writes.
const many = 1000

// library lays out the real content, repeated to many chapters.
func library(b *testing.B) (root string) {
	b.Helper()
	repository, err := trial.Repository()
	if err != nil {
		b.Fatal(err)
	}
	root = b.TempDir()
	if err := trial.LayOut(root, filepath.Join(repository, "content")); err != nil {
		b.Fatal(err)
	}
	if err := trial.Repeat(root, many); err != nil {
		b.Fatal(err)
	}
	return root
}

// BenchmarkMake1000 makes many chapters, without the assets, and compares the
// time with what goldmark alone takes for the same chapters and the same count
// of files: "ratio". The two take turns, so that both meet the same disk and the
// same neighbours. "peak-MB" is the most memory that Make held at any time.
func BenchmarkMake1000(b *testing.B) {
	root := library(b)
	var ours, alone time.Duration
	var peak float64
	files := 0
	for b.Loop() {
		out := b.TempDir()
		most := watchMemory(b)
		start := time.Now()
		report, err := Make(b.Context(), Options{Root: root, Out: filepath.Join(out, "web"), Calculators: catalog.All(), PagesOnly: true})
		if err != nil {
			b.Fatal(err)
		}
		ours += time.Since(start)
		peak = max(peak, most())
		files = report.Files
		b.StopTimer()
		runtime.GC()
		start = time.Now()
		convertAll(b, root, b.TempDir(), files)
		alone += time.Since(start)
		b.StartTimer()
	}
	b.ReportMetric(ours.Seconds()/alone.Seconds(), "ratio")
	b.ReportMetric(peak, "peak-MB")
	b.ReportMetric(float64(files), "files")
}

// BenchmarkGoldmarkAlone is the other side of BenchmarkMake1000, timed by
// itself.
func BenchmarkGoldmarkAlone(b *testing.B) {
	root := library(b)
	for b.Loop() {
		convertAll(b, root, b.TempDir(), many)
	}
}

// convertAll writes the chapters as goldmark alone converts them, on all
// processors as Make does, and further files of a few bytes until there are
// count.
func convertAll(b *testing.B, root, out string, count int) {
	b.Helper()
	chapters, err := filepath.Glob(filepath.Join(root, "content", "*", "*.md"))
	if err != nil {
		b.Fatal(err)
	}
	markdown := goldmark.New(goldmark.WithExtensions(extension.Table))
	var next atomic.Int64
	var workers sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		workers.Go(func() {
			for i := int(next.Add(1)) - 1; i < count; i = int(next.Add(1)) - 1 {
				chapter := ""
				if i < len(chapters) {
					chapter = chapters[i]
				}
				if err := convert(markdown, chapter, filepath.Join(out, strconv.Itoa(i)+".html")); err != nil {
					b.Error(err)
				}
			}
		})
	}
	workers.Wait()
}

func convert(markdown goldmark.Markdown, chapter, to string) error {
	html := bytes.NewBufferString("<p>")
	if chapter != "" {
		text, err := os.ReadFile(chapter)
		if err != nil {
			return err
		}
		if err := markdown.Convert(text, html); err != nil {
			return err
		}
	}
	return os.WriteFile(to, html.Bytes(), 0o644)
}

// watchMemory begins to watch how much memory the program holds; the returned
// function ends that and gives the most, in MB.
func watchMemory(b *testing.B) func() float64 {
	b.Helper()
	runtime.GC()
	debug.FreeOSMemory() // of what the benchmark laid out
	end, most := make(chan struct{}), make(chan uint64)
	go func() {
		held := []metrics.Sample{{Name: "/memory/classes/total:bytes"}, {Name: "/memory/classes/heap/released:bytes"}}
		tick := time.NewTicker(2 * time.Millisecond)
		defer tick.Stop()
		var peak uint64
		for {
			metrics.Read(held)
			peak = max(peak, held[0].Value.Uint64()-held[1].Value.Uint64())
			select {
			case <-tick.C:
			case <-end:
				most <- peak
				return
			}
		}
	}()
	return func() float64 {
		close(end)
		return float64(<-most) / 1e6
	}
}

// BenchmarkRebuildOneChapter edits one of many chapters and sets what that
// changes, as the preview does. "full/one" is how many times longer it takes to
// read and set everything.
func BenchmarkRebuildOneChapter(b *testing.B) {
	root := library(b)
	p, err := Open(root, catalog.All(), nil)
	if err != nil {
		b.Fatal(err)
	}
	defer p.Close()
	p.PagesOnly = true
	start := time.Now()
	build, err := p.Assemble(b.Context())
	if err != nil {
		b.Fatal(err)
	}
	leaves, all, err := p.Set(b.Context(), build, nil)
	if err != nil {
		b.Fatal(err)
	}
	full := time.Since(start)
	chapter := build.Book.Parts[0].Chapters[0]
	file := filepath.Join(root, filepath.FromSlash(chapter.File))
	rounds, set := 0, 0
	start = time.Now()
	for b.Loop() {
		rounds++
		text := append(bytes.Clone(chapter.Text), fmt.Sprintf("\nEdit %d.\n", rounds)...)
		if err := os.WriteFile(file, text, 0o644); err != nil {
			b.Fatal(err)
		}
		if build, err = p.Reread(build, []string{chapter.File}); err != nil {
			b.Fatal(err)
		}
		if leaves, set, err = p.Set(b.Context(), build, leaves); err != nil {
			b.Fatal(err)
		}
	}
	one := time.Since(start) / time.Duration(rounds)
	b.ReportMetric(full.Seconds()/one.Seconds(), "full/one")
	b.ReportMetric(float64(set), "pages/edit")
	b.ReportMetric(float64(all), "pages")
}
