// Package browsertest opens the made handbook in a real Chromium, as a keeper's phone
// does, for the tests in the folders beside it: each is a package, and has a browser of
// its own for as long as it runs.
//
// The tests need Chromium on the machine ("chromium-headless-shell", which is the
// fastest, or "chromium" in PATH, or its path in MERELEAF_CHROMIUM). Without it they
// skip, and fail where CI is set. The tests of accessibility need the axe-core script,
// whose path is in MERELEAF_AXE. With MERELEAF_SHOTS naming a folder, tests leave
// pictures and sheets there to look at; with MERELEAF_HEADED=1 the browser shows its
// window.
//
// It touches files, other programs, the network and the clock.
package browsertest

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// Base is the sub-path at which the tests serve the handbook, as a club's free
// hosting does.
const Base = "/ponds/our-club/"

// Slowdown is how much slower than this machine a phone is taken to be.
const Slowdown = 4

// Browser is what the tests of a package share: the handbook, a plain file server for
// it, and one Chromium in which each test opens a tab. The first test that needs them
// opens them, and Run closes them.
type Browser struct {
	once    sync.Once
	missing string // why there is no browser; empty if there is one
	failed  error  // why it did not open
	close   []func()

	edition string // the folder of the made web site
	address string // of the server, with Base
	context context.Context
	ahead   time.Duration // of the pages' clock
}

// Run runs the tests of a package and returns the code to exit with.
func (b *Browser) Run(m *testing.M) int {
	defer func() {
		for _, end := range slices.Backward(b.close) {
			end()
		}
	}()
	return m.Run()
}

// needed opens the browser, unless it is open, and ends a test where there is none.
func (b *Browser) needed(t testing.TB) {
	t.Helper()
	b.once.Do(func() { b.failed = b.open() })
	if b.failed != nil {
		t.Fatal(b.failed)
	}
	if b.missing != "" {
		SkipOrFail(t, b.missing)
	}
}

func (b *Browser) open() error {
	path, err := Chromium()
	if err != nil {
		b.missing = err.Error()
		return nil
	}
	edition, err := TakeEdition()
	if err != nil {
		return err
	}
	b.close = append(b.close, edition.Close)
	temp, err := os.MkdirTemp("", "mereleaf-browser-")
	if err != nil {
		return err
	}
	b.close = append(b.close, func() { _ = os.RemoveAll(temp) })
	server := httptest.NewServer(http.StripPrefix(Base, http.FileServer(http.Dir(edition.Web))))
	b.close = append(b.close, server.Close)
	browser, quit, err := start(path, filepath.Join(temp, "profile"))
	if err != nil {
		return err
	}
	b.close = append(b.close, quit)
	b.edition, b.address, b.context, b.ahead = edition.Web, server.URL+Base, browser, tillNoon()
	return nil
}

// start starts Chromium with an empty profile.
func start(path, profile string) (browser context.Context, quit func(), err error) {
	allocator, stop := chromedp.NewExecAllocator(context.Background(), append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(path),
		chromedp.NoSandbox, // Chromium refuses its sandbox to root, as whom containers run
		chromedp.Flag("headless", os.Getenv(headed) == ""),
		chromedp.Flag("disable-background-networking", true),
		// A region of metric measures: the pages show what is written.
		chromedp.Flag("lang", "en-GB"),
		chromedp.Flag("accept-lang", "en-GB"),
		chromedp.UserDataDir(profile),
		chromedp.WSURLReadTimeout(5*time.Minute), // to start, on a busy machine
	)...)
	browser, cancel := chromedp.NewContext(allocator)
	quit = func() { cancel(); stop() }
	if err := chromedp.Do(browser); err != nil {
		quit()
		return nil, nil, fmt.Errorf("%s does not start: %w", path, err)
	}
	return browser, quit, nil
}

// headed has the browser show its window.
const headed = "MERELEAF_HEADED"

// Chromium is the path of the browser: of the build that has no window at all, if there
// is one and none is to be shown, because the others draw one for each profile even if
// nobody sees it, which takes more of the processor than most tests.
func Chromium() (string, error) {
	if path := os.Getenv("MERELEAF_CHROMIUM"); path != "" {
		return path, nil
	}
	names := []string{"chromium-headless-shell", "chromium", "chromium-browser", "google-chrome"}
	if os.Getenv(headed) != "" {
		names = names[1:]
	}
	for _, name := range names {
		if path, err := exec.LookPath(name); err == nil {
			return path, nil
		}
	}
	return "", errors.New("no Chromium in PATH; install the package chromium, or set MERELEAF_CHROMIUM to its path")
}

// SkipOrFail ends a test that lacks a tool: in CI nothing may be skipped.
func SkipOrFail(t testing.TB, reason string) {
	t.Helper()
	if os.Getenv("CI") != "" {
		t.Fatal(reason)
	}
	t.Skip(reason)
}

// Edition is the folder of the web site under test, which no test may change. Beside
// it lie the single file and the e-book.
func (b *Browser) Edition(t testing.TB) string {
	t.Helper()
	b.needed(t)
	return b.edition
}

// Pages lists the edition's HTML files by path.
func (b *Browser) Pages(t testing.TB) []string {
	t.Helper()
	folder := b.Edition(t)
	var list []string
	err := filepath.WalkDir(folder, func(path string, _ os.DirEntry, err error) error {
		if strings.HasSuffix(path, ".html") {
			relative, _ := filepath.Rel(folder, path)
			list = append(list, filepath.ToSlash(relative))
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(list) == 0 {
		t.Fatal("the edition has no pages")
	}
	return list
}

// EachPage goes through pages in several tabs at once, one for each processor.
func (b *Browser) EachPage(t *testing.T, list []string, see func(tb *Tab, path string)) {
	t.Helper()
	tabs := runtime.GOMAXPROCS(0)
	for i := range tabs {
		t.Run(fmt.Sprintf("tab %d", i+1), func(t *testing.T) {
			t.Parallel()
			var tb *Tab
			for j := i; j < len(list); j += tabs {
				if j/tabs%40 == 0 { // a tab is not for hundreds of pages
					tb = b.Open(t)
					tb.Phone()
				}
				tb.Visit(list[j])
				see(tb, list[j])
				for _, f := range tb.Seen() {
					t.Errorf("%s: %s", list[j], f)
				}
			}
		})
	}
}

// EveryColour has the tests that look at all pages do so in every colour, which takes
// minutes; .ci/long sets it.
const EveryColour = "MERELEAF_EVERY_COLOUR"

// OfEachKind chooses of each kind of page the longest, in which most is to be found,
// and the shortest: pages of one folder have one template, those of none each their
// own. All pages but the one for paper are chosen where EveryColour is set.
func (b *Browser) OfEachKind(list []string) map[string]bool {
	chosen := map[string]bool{}
	size := func(path string) int64 {
		info, err := os.Stat(filepath.Join(b.edition, filepath.FromSlash(path)))
		if err != nil {
			return 0
		}
		return info.Size()
	}
	kinds := map[string][]string{}
	for _, path := range list {
		kind := filepath.ToSlash(filepath.Dir(path))
		if kind == "." || os.Getenv(EveryColour) != "" {
			kind = path
		}
		if path != "print.html" {
			kinds[kind] = append(kinds[kind], path)
		}
	}
	for _, of := range kinds {
		slices.SortFunc(of, func(a, b string) int { return cmp.Compare(size(a), size(b)) })
		chosen[of[0]], chosen[of[len(of)-1]] = true, true
	}
	return chosen
}
