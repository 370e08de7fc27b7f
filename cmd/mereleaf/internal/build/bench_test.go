package build

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"runtime/metrics"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/renderer/html"

	"mereleaf/calculators/catalog"
	"mereleaf/cmd/mereleaf/internal/book/booktest"
)

// many is how many chapters the benchmarks print: far more than a club writes.
const many = 1000

// library lays out the real content, repeated to many chapters.
func library(b *testing.B) (root string) {
	b.Helper()
	repository, err := booktest.Repository()
	if err != nil {
		b.Fatal(err)
	}
	root = b.TempDir()
	if err := booktest.LayOut(root, filepath.Join(repository, "content")); err != nil {
		b.Fatal(err)
	}
	if err := booktest.Repeat(root, many); err != nil {
		b.Fatal(err)
	}
	return root
}

// BenchmarkMake1000 makes a handbook of many chapters, all but the calculators'
// module, and compares the time with what goldmark alone takes: "ratio", of the
// medians. Goldmark alone reads the same chapters, converts them on as many
// processors with the one extension that chapters use, in XHTML too, and writes
// as many files into folders of the same names. It checks nothing, resolves no
// link, and puts no frame around a page.
//
// The leaves of calculators and figure sets, which a handbook has once however
// many chapters, have no counterpart in goldmark alone: Make works them out in
// full, and goldmark alone writes a few bytes for each. So the ratio is that of
// what a user waits for, not of conversion alone.
//
// The two take turns, and which goes first changes from round to round, so that
// both meet the same disk and the same neighbours. The ratio depends on the disk:
// set TMPDIR to a folder in memory to compare the work without the writing.
// "peak-MB" is the most memory that Make's Go heap and its overhead held at any
// time; "peak-RSS-MB", on Linux, the most that the process had resident.
func BenchmarkMake1000(b *testing.B) {
	root := library(b)
	var ours, alone []time.Duration
	var peak, resident float64
	files := 0
	ourTurn := func() {
		out := b.TempDir()
		most := watchMemory(b)
		watched := resetResident()
		start := time.Now()
		report, err := Make(b.Context(), Options{Root: root, Out: filepath.Join(out, "web"), Calculators: catalog.All(), PagesOnly: true})
		if err != nil {
			b.Fatal(err)
		}
		ours = append(ours, time.Since(start))
		peak, files = max(peak, most()), report.Files
		if watched {
			resident = max(resident, mostResident(b))
		}
	}
	itsTurn := func() {
		out := b.TempDir()
		runtime.GC()
		start := time.Now()
		convertAll(b, root, out, files)
		alone = append(alone, time.Since(start))
	}
	ourTurn() // to know the count of files
	ours = nil
	for b.Loop() {
		if len(ours)%2 == 0 {
			ourTurn()
			itsTurn()
		} else {
			itsTurn()
			ourTurn()
		}
	}
	b.ReportMetric(median(ours).Seconds()/median(alone).Seconds(), "ratio")
	b.ReportMetric(median(ours).Seconds()*1000, "make-ms")
	b.ReportMetric(median(alone).Seconds()*1000, "goldmark-ms")
	b.ReportMetric(peak, "peak-MB")
	if resident > 0 {
		b.ReportMetric(resident, "peak-RSS-MB")
	}
	b.ReportMetric(float64(files), "files")
	b.ReportMetric(0, "ns/op") // of both turns together it says nothing
}

// BenchmarkEditions makes the pages of the real handbook alone, and all there is: the
// calculators' module, the web site, the book for paper, the single file and the
// e-book, in turns. "all/pages" is the ratio of the medians.
func BenchmarkEditions(b *testing.B) {
	root, err := booktest.Repository()
	if err != nil {
		b.Fatal(err)
	}
	var all, alone []time.Duration
	turn := func(pagesOnly bool) time.Duration {
		out := b.TempDir()
		runtime.GC()
		start := time.Now()
		if _, err := Make(b.Context(), Options{Root: root, Out: filepath.Join(out, "web"), Calculators: catalog.All(), PagesOnly: pagesOnly}); err != nil {
			b.Fatal(err)
		}
		return time.Since(start)
	}
	turn(false) // which compiles the module, if nobody has yet
	for b.Loop() {
		alone = append(alone, turn(true))
		all = append(all, turn(false))
	}
	b.ReportMetric(median(all).Seconds()/median(alone).Seconds(), "all/pages")
	b.ReportMetric(median(all).Seconds()*1000, "all-ms")
	b.ReportMetric(median(alone).Seconds()*1000, "pages-ms")
	b.ReportMetric(0, "ns/op") // of both turns together it says nothing
}

func median(all []time.Duration) time.Duration {
	slices.Sort(all)
	return all[len(all)/2]
}

// convertAll writes the chapters as goldmark alone converts them, and further
// files of a few bytes until there are count.
func convertAll(b *testing.B, root, out string, count int) {
	b.Helper()
	chapters, err := filepath.Glob(filepath.Join(root, "content", "*", "*.md"))
	if err != nil {
		b.Fatal(err)
	}
	target := make([]string, count)
	for i := range target {
		folder := "figures"
		if i < len(chapters) {
			folder = filepath.Base(filepath.Dir(chapters[i]))
		}
		target[i] = filepath.Join(out, folder, strconv.Itoa(i)+".html")
		if i > 0 && filepath.Dir(target[i-1]) == filepath.Dir(target[i]) {
			continue
		}
		if err := os.MkdirAll(filepath.Dir(target[i]), 0o755); err != nil {
			b.Fatal(err)
		}
	}
	markdown := goldmark.New(goldmark.WithExtensions(extension.Table), goldmark.WithRendererOptions(html.WithXHTML()))
	var next atomic.Int64
	var workers sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		workers.Go(func() {
			for i := int(next.Add(1)) - 1; i < count; i = int(next.Add(1)) - 1 {
				chapter := ""
				if i < len(chapters) {
					chapter = chapters[i]
				}
				if err := convert(markdown, chapter, target[i]); err != nil {
					b.Error(err)
				}
			}
		})
	}
	workers.Wait()
}

func convert(markdown goldmark.Markdown, chapter, to string) error {
	page := bytes.NewBufferString("<p>")
	if chapter != "" {
		text, err := os.ReadFile(chapter)
		if err != nil {
			return err
		}
		if err := markdown.Convert(text, page); err != nil {
			return err
		}
	}
	return os.WriteFile(to, page.Bytes(), 0o644)
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

// resetResident makes the kernel forget how much memory was resident before; it
// is false where that cannot be done.
func resetResident() bool {
	return os.WriteFile("/proc/self/clear_refs", []byte("5"), 0) == nil
}

// mostResident returns the most memory that was resident since then, in MB.
func mostResident(b *testing.B) float64 {
	b.Helper()
	status, err := os.ReadFile("/proc/self/status")
	if err != nil {
		b.Fatal(err)
	}
	_, after, _ := strings.Cut(string(status), "VmHWM:")
	kilobytes, err := strconv.ParseFloat(strings.Fields(after)[0], 64)
	if err != nil {
		b.Fatal(err)
	}
	return kilobytes * 1024 / 1e6
}

// edits is how many edits there are to a full build, which is far slower.
const edits = 20

// BenchmarkRebuildOneChapter edits one of many chapters and sets what that
// changes, as the preview does: it takes turns with reading, checking and setting
// everything. "full/one" is how many times longer that takes, by the medians.
// Neither writes files, and saving the edited chapter is not counted.
func BenchmarkRebuildOneChapter(b *testing.B) {
	root := library(b)
	p, err := Open(root, catalog.All(), nil)
	if err != nil {
		b.Fatal(err)
	}
	defer p.Close()
	p.PagesOnly = true
	var full, one []time.Duration
	set, all := 0, 0
	for b.Loop() {
		runtime.GC()
		start := time.Now()
		build, err := p.Assemble(b.Context())
		if err != nil {
			b.Fatal(err)
		}
		var leaves Leaves
		if leaves, all, err = p.Set(b.Context(), build, nil); err != nil {
			b.Fatal(err)
		}
		full = append(full, time.Since(start))
		chapter := build.Book.Parts[0].Chapters[0]
		for i := range edits {
			text := append(bytes.Clone(chapter.Text), fmt.Sprintf("\nEdit %d.\n", i)...)
			if err := os.WriteFile(filepath.Join(root, filepath.FromSlash(chapter.File)), text, 0o644); err != nil {
				b.Fatal(err)
			}
			start := time.Now()
			if build, err = p.Reread(build, []string{chapter.File}); err != nil {
				b.Fatal(err)
			}
			if leaves, set, err = p.Set(b.Context(), build, leaves); err != nil {
				b.Fatal(err)
			}
			one = append(one, time.Since(start))
		}
	}
	b.ReportMetric(median(full).Seconds()/median(one).Seconds(), "full/one")
	b.ReportMetric(median(full).Seconds()*1000, "full-ms")
	b.ReportMetric(median(one).Seconds()*1000, "one-ms")
	b.ReportMetric(float64(set), "pages/edit")
	b.ReportMetric(float64(all), "pages")
	b.ReportMetric(0, "ns/op")
}
