package browsertest

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/chromedp/cdproto"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/chromedp"
)

// Call runs a command of the browser's protocol in the tab.
func Call[P, R any](tb *Tab, command cdp.Command[P, R], params P) {
	tb.T.Helper()
	if _, err := chromedp.Call(tb, command, params); err != nil {
		tb.T.Fatal(err)
	}
}

// Do has the browser do things in the tab, one after the other.
func (tb *Tab) Do(actions ...chromedp.Action[chromedp.Void]) {
	tb.T.Helper()
	if err := chromedp.Do(tb, actions...); err != nil {
		tb.T.Fatal(err)
	}
}

// Until asks again and again, for as long as the test may keep the tab, and reports
// whether ok was true in the end. How long a thing takes depends on what else runs.
func (tb *Tab) Until(ok func() bool) bool {
	tb.T.Helper()
	end, _ := tb.Deadline()
	end = end.Add(-tb.allowed / 6)
	// What is there soon is seen soon; what takes long is not slowed down by questions.
	for pause := 5 * time.Millisecond; !ok(); time.Sleep(pause) {
		pause = min(pause*5/4, 100*time.Millisecond)
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

// Evaluate returns the value of a script expression in the open page, when its pads
// have answered.
func Evaluate[T any](tb *Tab, expression string) T {
	tb.T.Helper()
	v, err := attempt[T](tb, expression)
	if err != nil {
		tb.T.Fatalf("%s: %v", expression, err)
	}
	return v
}

// Look is Evaluate for what is asked again and again: a page that is on its way to
// another one, or not there as a whole yet, has no value.
func Look[T any](tb *Tab, expression string) T {
	tb.T.Helper()
	v, err := attempt[*T](tb, `document.readyState === "complete" ? (`+expression+`) : null`)
	if left := (*cdproto.Error)(nil); err != nil && !errors.As(err, &left) {
		tb.T.Fatalf("%s: %v", expression, err)
	}
	if v == nil || err != nil {
		v = new(T)
	}
	return *v
}

func attempt[T any](tb *Tab, expression string) (T, error) {
	if _, err := chromedp.Run(tb, chromedp.Evaluate[bool](settled, chromedp.EvalAwaitPromise)); err != nil {
		var none T
		return none, fmt.Errorf("waiting for an answer: %w", err)
	}
	return chromedp.Run(tb, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
}

// Text returns all text inside the first element that matches.
func (tb *Tab) Text(selector string) string {
	tb.T.Helper()
	return Evaluate[string](tb, fmt.Sprintf(`document.querySelector(%q).textContent`, selector))
}

// Await polls a script expression until it is true.
func (tb *Tab) Await(expression, want string) {
	tb.T.Helper()
	if !tb.Until(func() bool { return Look[bool](tb, expression) }) {
		tb.T.Fatal(want)
	}
}

// Says waits until an element holds some words.
func (tb *Tab) Says(part, want string) {
	tb.T.Helper()
	said := ""
	if !tb.Until(func() bool {
		said = Look[string](tb, fmt.Sprintf(`document.querySelector(%q).textContent`, part))
		return strings.Contains(said, want)
	}) {
		tb.T.Fatalf("%s does not say %q; it says %q", part, want, said)
	}
}
