package preview

import (
	"context"
	"os"
	"os/exec"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"mereleaf/cmd/mereleaf/internal/build"
)

// TestLiveInABrowser opens a page with the handbook's own policy in Chromium,
// publishes faults, then the next build, and sees what the reader sees.
func TestLiveInABrowser(t *testing.T) {
	policy := `<meta http-equiv="Content-Security-Policy" content="` + themePolicy(t) + `">`
	shelf := func(text string) snapshot {
		return snapshot{pages: build.Leaves{"index.html": {Bytes: []byte(`<!doctype html><html lang="en"><head><meta charset="utf-8"><link rel="icon" href="data:,">` + policy + `<title>Leaf</title></head><body><main>` + text + `</main></body></html>`)}}}
	}
	s := newSite()
	s.publish(shelf("first build"))
	address := server(t, s)
	browser, complaints := open(t, address)

	s.blame([]string{"content/water/10-a.md:3:1: <b> is raw HTML", "content/water/10-a.md:9:2: another"})
	await(t, browser, `document.querySelectorAll(".preview-faults li").length === 2`)
	await(t, browser, `document.querySelector(".preview-faults li").textContent.startsWith("content/water/10-a.md:3:1: <b>")`)
	await(t, browser, `getComputedStyle(document.querySelector(".preview-faults")).position === "fixed"`)
	await(t, browser, `document.querySelector("main").textContent === "first build"`)

	s.publish(shelf("second build"))
	await(t, browser, `document.querySelector("main").textContent === "second build" && !document.querySelector(".preview-faults")`)
	if c := complaints(); len(c) > 0 {
		t.Errorf("the browser complains: %q", c)
	}
}

// themePolicy is the Content-Security-Policy of the handbook's pages.
func themePolicy(t *testing.T) string {
	t.Helper()
	template, err := os.ReadFile("../../../../theme/templates/leaf.html")
	if err != nil {
		t.Fatal(err)
	}
	_, rest, ok := strings.Cut(string(template), `http-equiv="Content-Security-Policy" content="`)
	policy, _, closed := strings.Cut(rest, `"`)
	if !ok || !closed {
		t.Fatal("theme/templates/leaf.html has no Content-Security-Policy")
	}
	return policy
}

// open shows an address in a new browser, and returns what it complains of.
func open(t *testing.T, address string) (context.Context, func() []string) {
	t.Helper()
	path := chromium(t)
	allocator, stop := chromedp.NewExecAllocator(t.Context(), append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(path),
		chromedp.NoSandbox, // Chromium refuses its sandbox to root, as whom containers run
		chromedp.UserDataDir(t.TempDir()),
	)...)
	t.Cleanup(stop)
	var mu sync.Mutex
	var all []string
	browser, quit := chromedp.NewContext(allocator, chromedp.WithListener(func(event any) {
		mu.Lock()
		defer mu.Unlock()
		switch e := event.(type) {
		case *log.EventEntryAdded:
			all = append(all, e.Entry.Text)
		case *runtime.EventExceptionThrown:
			all = append(all, e.ExceptionDetails.Text)
		}
	}))
	t.Cleanup(quit)
	if err := chromedp.Do(browser); err != nil { // starts the browser
		t.Fatal(err)
	}
	if _, err := chromedp.Call(browser, log.Enable, cdp.Empty{}); err != nil {
		t.Fatal(err)
	}
	if err := chromedp.Do(browser, chromedp.Navigate(address)); err != nil {
		t.Fatal(err)
	}
	return browser, func() []string {
		mu.Lock()
		defer mu.Unlock()
		return all
	}
}

func chromium(t *testing.T) string {
	t.Helper()
	if path := os.Getenv("MERELEAF_CHROMIUM"); path != "" {
		return path
	}
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	if os.Getenv("CI") != "" {
		t.Fatal("no Chromium in PATH")
	}
	t.Skip("no Chromium in PATH; install it, or set MERELEAF_CHROMIUM to its path")
	return ""
}

// await waits until an expression is true in the page.
func await(t *testing.T, browser context.Context, expression string) {
	t.Helper()
	for end := time.Now().Add(3 * patience); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		// While the page reloads, there may be nothing to ask.
		if holds, err := chromedp.Run(browser, chromedp.Evaluate[bool](expression)); err == nil && holds {
			return
		}
	}
	t.Fatalf("never true: %s", expression)
}
