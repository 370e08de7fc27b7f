package browser

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	goruntime "runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/inspector"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"mereleaf/calculators/catalog"
	"mereleaf/cmd/mereleaf/internal/build"
)

// base is the sub-path at which the tests serve the handbook, as a club's free
// hosting does.
const base = "/ponds/our-club/"

// shared is what all tests use: the handbook made once, a plain file server
// for it, and one browser in which each test opens a tab.
type shared struct {
	folder  string // the made edition
	address string // of the server, with base
	browser context.Context
	missing string        // why there is no browser; empty if there is one
	ahead   time.Duration // of the pages' clock
}

// world is written by TestMain only.
var world shared

func TestMain(m *testing.M) { os.Exit(run(m)) }

func run(m *testing.M) int {
	temp, err := os.MkdirTemp("", "mereleaf-browser-")
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	defer os.RemoveAll(temp)
	world.ahead = tillNoon()
	path, err := chromium()
	if err != nil {
		world.missing = err.Error()
		return m.Run()
	}
	world.folder = filepath.Join(temp, "web")
	root, err := filepath.Abs("../../../..")
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	if _, err := build.Make(context.Background(), build.Options{Root: root, Out: world.folder, Calculators: catalog.All()}); err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	server := httptest.NewServer(http.StripPrefix(base, http.FileServer(http.Dir(world.folder))))
	defer server.Close()
	world.address = server.URL + base
	allocator, stop := chromedp.NewExecAllocator(context.Background(), append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(path),
		chromedp.NoSandbox, // Chromium refuses its sandbox to root, as whom containers run
		chromedp.Flag("headless", os.Getenv("MERELEAF_HEADED") == ""),
		chromedp.Flag("disable-background-networking", true),
		// A region of metric measures: the pages show what is written.
		chromedp.Flag("lang", "en-GB"),
		chromedp.Flag("accept-lang", "en-GB"),
		chromedp.UserDataDir(filepath.Join(temp, "profile")),
		chromedp.WSURLReadTimeout(5*time.Minute), // to start, on a busy machine
	)...)
	defer stop()
	browser, quit := chromedp.NewContext(allocator)
	defer quit()
	if err := chromedp.Do(browser); err != nil {
		fmt.Fprintln(os.Stderr, "Chromium does not start:", err)
		return 1
	}
	world.browser = browser
	return m.Run()
}

func chromium() (string, error) {
	if path := os.Getenv("MERELEAF_CHROMIUM"); path != "" {
		return path, nil
	}
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path, nil
		}
	}
	return "", errors.New("no Chromium in PATH; install the package chromium, or set MERELEAF_CHROMIUM to its path")
}

// skipOrFail ends a test that lacks a tool: in CI nothing may be skipped.
func skipOrFail(t testing.TB, reason string) {
	t.Helper()
	if os.Getenv("CI") != "" {
		t.Fatal(reason)
	}
	t.Skip(reason)
}

// tab is a browser tab that remembers what went wrong in it and which
// addresses it asked for.
type tab struct {
	context.Context
	t       testing.TB
	address string        // where it finds the handbook
	allowed time.Duration // to keep it

	mu       sync.Mutex
	faults   []string
	requests []string
}

// open opens a tab in a profile of its own for one test, and keeps the handbook from
// being fetched whole for the pond there, which costs as much as most tests. When
// the test ends, a script exception, a console error or a request to another host in
// it fails the test.
func open(t testing.TB) *tab {
	t.Helper()
	tb := openKeeping(t)
	call(tb, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: `delete Navigator.prototype.serviceWorker`})
	return tb
}

// openKeeping opens a tab that also keeps the handbook for the pond.
func openKeeping(t testing.TB) *tab {
	t.Helper()
	if world.missing != "" {
		skipOrFail(t, world.missing)
	}
	return openIn(t, world.browser, chromedp.WithNewBrowserContext())
}

// beside opens a second tab in the profile of the first.
func (tb *tab) beside() *tab {
	tb.t.Helper()
	return openIn(tb.t, tb)
}

func openIn(t testing.TB, parent context.Context, profile ...chromedp.ContextOption) *tab {
	t.Helper()
	ctx, cancel := chromedp.NewContext(parent, profile...)
	allowed := patience(t)
	ctx, stop := context.WithTimeout(ctx, allowed)
	tb := &tab{Context: ctx, t: t, address: world.address, allowed: allowed}
	t.Cleanup(func() {
		stop()
		cancel()
		for _, f := range tb.seen() {
			t.Error(f)
		}
	})
	if err := chromedp.Listen(ctx, tb.listen); err != nil {
		t.Fatal(err)
	}
	call(tb, network.Enable, network.EnableParams{})
	call(tb, log.Enable, cdp.Empty{})
	call(tb, runtime.Enable, cdp.Empty{})
	tb.setClock()
	return tb
}

// call runs a command of the browser's protocol in the tab.
func call[P, R any](tb *tab, command cdp.Command[P, R], params P) {
	tb.t.Helper()
	if _, err := chromedp.Call(tb, command, params); err != nil {
		tb.t.Fatal(err)
	}
}

// until asks again and again, for as long as the test may keep the tab, and reports
// whether ok was true in the end. How long a thing takes depends on what else runs.
func (tb *tab) until(ok func() bool) bool {
	tb.t.Helper()
	end, _ := tb.Deadline()
	for end = end.Add(-tb.allowed / 6); !ok(); time.Sleep(20 * time.Millisecond) {
		if time.Now().After(end) {
			return false
		}
	}
	return true
}

// settled waits until no pad of the open page awaits an answer.
const settled = `new Promise((done) => {
	const look = () => document.querySelector(".answer[aria-busy=true]") ? setTimeout(look, 2) : done(true)
	look()
})`

// evaluate returns the value of a script expression in the open page, when its pads
// have answered.
func evaluate[T any](tb *tab, expression string) T {
	tb.t.Helper()
	v, err := attempt[T](tb, expression)
	if err != nil {
		tb.t.Fatalf("%s: %v", expression, err)
	}
	return v
}

// look is evaluate for what is asked again and again: a page that is on its way to
// another one, or not there as a whole yet, has no value.
func look[T any](tb *tab, expression string) T {
	tb.t.Helper()
	v, err := attempt[*T](tb, `document.readyState === "complete" ? (`+expression+`) : null`)
	if left := (*cdproto.Error)(nil); err != nil && !errors.As(err, &left) {
		tb.t.Fatalf("%s: %v", expression, err)
	}
	if v == nil || err != nil {
		v = new(T)
	}
	return *v
}

func attempt[T any](tb *tab, expression string) (T, error) {
	if _, err := chromedp.Run(tb, chromedp.Evaluate[bool](settled, chromedp.EvalAwaitPromise)); err != nil {
		var none T
		return none, fmt.Errorf("waiting for an answer: %w", err)
	}
	return chromedp.Run(tb, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
}

func (tb *tab) listen(event any) {
	tb.mu.Lock()
	defer tb.mu.Unlock()
	switch e := event.(type) {
	case *runtime.EventExceptionThrown:
		tb.faults = append(tb.faults, fmt.Sprintf("script exception: %+v", *e.ExceptionDetails))
	case *runtime.EventConsoleAPICalled:
		if e.Type == runtime.ConsoleAPICalledTypeError || e.Type == runtime.ConsoleAPICalledTypeWarning {
			tb.faults = append(tb.faults, fmt.Sprintf("console %s: %s", e.Type, values(e.Args)))
		}
	case *log.EventEntryAdded:
		if e.Entry.Level == log.EntryLevelError || e.Entry.Level == log.EntryLevelWarning {
			tb.faults = append(tb.faults, "log: "+e.Entry.Text+" "+e.Entry.URL)
		}
	case *network.EventRequestWillBeSent:
		tb.requests = append(tb.requests, e.Request.URL)
		if !strings.HasPrefix(e.Request.URL, tb.address) && !strings.HasPrefix(e.Request.URL, "data:") {
			tb.faults = append(tb.faults, "request to another place: "+e.Request.URL)
		}
	}
}

func values(args []*runtime.RemoteObject) string {
	var parts []string
	for _, a := range args {
		parts = append(parts, string(a.Value)+a.Description)
	}
	return strings.Join(parts, " ")
}

// seen returns the faults so far and forgets them.
func (tb *tab) seen() []string {
	tb.mu.Lock()
	defer tb.mu.Unlock()
	f := tb.faults
	tb.faults = nil
	return f
}

func (tb *tab) asked() []string {
	tb.mu.Lock()
	defer tb.mu.Unlock()
	return slices.Clone(tb.requests)
}

func (tb *tab) do(actions ...chromedp.Action[chromedp.Void]) {
	tb.t.Helper()
	if err := chromedp.Do(tb, actions...); err != nil {
		tb.t.Fatal(err)
	}
}

// crash ends the tab's process, as a telephone does that runs out of memory, and waits
// until it has ended.
func (tb *tab) crash() {
	tb.t.Helper()
	crashed := make(chan struct{}, 1)
	if err := chromedp.Listen(tb, func(event any) {
		if _, ok := event.(*inspector.EventTargetCrashed); ok {
			crashed <- struct{}{}
		}
	}); err != nil {
		tb.t.Fatal(err)
	}
	call(tb, inspector.Enable, cdp.Empty{})
	go func() { _, _ = chromedp.Call(tb, page.Crash, cdp.Empty{}) }() // it never answers
	select {
	case <-crashed:
	case <-tb.Done():
		tb.t.Fatal("the tab does not crash")
	}
}

// visit opens a page of the handbook by its path in the edition.
func (tb *tab) visit(path string) {
	tb.t.Helper()
	tb.do(chromedp.Navigate(tb.address + path))
}

// text returns all text inside the first element that matches.
func (tb *tab) text(selector string) string {
	tb.t.Helper()
	return evaluate[string](tb, fmt.Sprintf(`document.querySelector(%q).textContent`, selector))
}

// phone makes the window as small as a small phone's, in CSS pixels.
func (tb *tab) phone() { tb.do(chromedp.EmulateViewport(360, 780, chromedp.EmulateMobile)) }

// scheme asks for light or dark.
func (tb *tab) scheme(name string) {
	call(tb, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: name}}})
}

// pages lists the edition's HTML files by path.
func pages(t *testing.T) []string {
	t.Helper()
	if world.missing != "" {
		skipOrFail(t, world.missing)
	}
	var list []string
	err := filepath.WalkDir(world.folder, func(path string, _ os.DirEntry, err error) error {
		if strings.HasSuffix(path, ".html") {
			relative, _ := filepath.Rel(world.folder, path)
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

// eachPage goes through pages in several tabs at once, one for each processor.
func eachPage(t *testing.T, list []string, see func(tb *tab, path string)) {
	t.Helper()
	tabs := goruntime.GOMAXPROCS(0)
	for i := range tabs {
		t.Run(fmt.Sprintf("tab %d", i+1), func(t *testing.T) {
			t.Parallel()
			var tb *tab
			for j := i; j < len(list); j += tabs {
				if j/tabs%40 == 0 { // a tab is not for hundreds of pages
					tb = open(t)
					tb.phone()
				}
				tb.visit(list[j])
				see(tb, list[j])
				for _, f := range tb.seen() {
					t.Errorf("%s: %s", list[j], f)
				}
			}
		})
	}
}
