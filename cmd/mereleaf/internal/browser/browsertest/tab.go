package browsertest

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/inspector"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// Tab is a browser tab that remembers what went wrong in it and which
// addresses it asked for.
type Tab struct {
	context.Context
	T       testing.TB
	Address string // where it finds the handbook

	browser *Browser
	allowed time.Duration // to keep it

	mu       sync.Mutex
	faults   []string
	requests []string
}

// Open opens a tab in a profile of its own for one test, and keeps the handbook from
// being fetched whole for the pond there, which costs as much as most tests. When
// the test ends, a script exception, a console error or a request to another host in
// it fails the test.
func (b *Browser) Open(t testing.TB) *Tab {
	t.Helper()
	tb := b.OpenKeeping(t)
	Call(tb, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: `delete Navigator.prototype.serviceWorker`})
	return tb
}

// OpenKeeping opens a tab that also keeps the handbook for the pond.
func (b *Browser) OpenKeeping(t testing.TB) *Tab {
	t.Helper()
	b.needed(t)
	return b.openIn(t, b.context, chromedp.WithNewBrowserContext())
}

// Beside opens a second tab in the profile of the first.
func (tb *Tab) Beside() *Tab {
	tb.T.Helper()
	return tb.browser.openIn(tb.T, tb)
}

func (b *Browser) openIn(t testing.TB, parent context.Context, profile ...chromedp.ContextOption) *Tab {
	t.Helper()
	ctx, cancel := chromedp.NewContext(parent, profile...)
	allowed := patience(t)
	ctx, stop := context.WithTimeout(ctx, allowed)
	tb := &Tab{Context: ctx, T: t, Address: b.address, browser: b, allowed: allowed}
	t.Cleanup(func() {
		stop()
		cancel()
		for _, f := range tb.Seen() {
			t.Error(f)
		}
	})
	if err := chromedp.Listen(ctx, tb.listen); err != nil {
		t.Fatal(err)
	}
	Call(tb, network.Enable, network.EnableParams{})
	Call(tb, log.Enable, cdp.Empty{})
	Call(tb, runtime.Enable, cdp.Empty{})
	tb.setClock()
	return tb
}

func (tb *Tab) listen(event any) {
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
		if !strings.HasPrefix(e.Request.URL, tb.Address) && !strings.HasPrefix(e.Request.URL, "data:") {
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

// Seen returns the faults so far and forgets them.
func (tb *Tab) Seen() []string {
	tb.mu.Lock()
	defer tb.mu.Unlock()
	f := tb.faults
	tb.faults = nil
	return f
}

// Asked returns the addresses that the tab has asked for.
func (tb *Tab) Asked() []string {
	tb.mu.Lock()
	defer tb.mu.Unlock()
	return slices.Clone(tb.requests)
}

// Crash ends the tab's process, as a telephone does that runs out of memory, and waits
// until it has ended.
func (tb *Tab) Crash() {
	tb.T.Helper()
	crashed := make(chan struct{}, 1)
	if err := chromedp.Listen(tb, func(event any) {
		if _, ok := event.(*inspector.EventTargetCrashed); ok {
			crashed <- struct{}{}
		}
	}); err != nil {
		tb.T.Fatal(err)
	}
	Call(tb, inspector.Enable, cdp.Empty{})
	go func() { _, _ = chromedp.Call(tb, page.Crash, cdp.Empty{}) }() // it never answers
	select {
	case <-crashed:
	case <-tb.Done():
		tb.T.Fatal("the tab does not crash")
	}
}

// Back goes back in the tab's history, once the browser has answered that it will: a page
// that goes takes the answer with it.
func (tb *Tab) Back() {
	tb.T.Helper()
	Evaluate[bool](tb, `(setTimeout(() => history.back()), true)`)
}

// Visit opens a page of the handbook by its path in the edition.
func (tb *Tab) Visit(path string) {
	tb.T.Helper()
	tb.Do(chromedp.Navigate(tb.Address + path))
}

// Phone makes the window as small as a small phone's, in CSS pixels.
func (tb *Tab) Phone() { tb.Do(chromedp.EmulateViewport(360, 780, chromedp.EmulateMobile)) }

// Scheme asks for light or dark.
func (tb *Tab) Scheme(name string) {
	Call(tb, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: name}}})
}

// Touch makes the tab a phone that is touched.
func (tb *Tab) Touch() {
	tb.T.Helper()
	tb.Do(chromedp.EmulateViewport(360, 780, chromedp.EmulateMobile, chromedp.EmulateTouch))
}
