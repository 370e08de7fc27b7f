package browsertest

import (
	"fmt"
	"testing"
	"time"

	"github.com/chromedp/cdproto/page"
)

// clock is what a page has for a clock in the tests, for neither midnight nor a busy
// machine to make a test red.
//
// It is noon when the tests begin, so that what is typed today is still of today when
// it is looked at. And a timer of a second or more, which in the handbook is always a
// limit of patience (a store that does not answer, a file to be tried again), does not
// run: such a limit says nothing on a machine that is busy with other things. It runs
// when a test lets the time pass.
const clock = `(() => {
	const Real = Date, shift = %d
	const now = () => Real.now() + shift
	Date = new Proxy(Real, {
		construct: (of, given, as) => Reflect.construct(of, given.length ? given : [now()], as),
		get: (of, key) => key === "now" ? now : Reflect.get(of, key),
	})
	const start = setTimeout, stop = clearTimeout, held = new Map()
	let next = -1
	window.setTimeout = (act, ms = 0, ...all) => {
		if (ms < 1000) return start(act, ms, ...all)
		held.set(next, {ms, act: () => act(...all)})
		return next--
	}
	window.clearTimeout = (id) => void (held.delete(id) || stop(id))
	window.pass = (ms) => {
		for (const timer of held.values()) timer.ms -= ms
		for (const [id, timer] of [...held]) if (timer.ms <= 0 && held.delete(id)) timer.act()
	}
})()`

// tillNoon is how far the clock of the pages is ahead.
func tillNoon() time.Duration {
	now := time.Now()
	return time.Date(now.Year(), now.Month(), now.Day(), 12, 0, 0, 0, now.Location()).Sub(now)
}

// Now is the time by the clock of the pages.
func (tb *Tab) Now() time.Time { return time.Now().Add(tb.browser.ahead) }

// setClock gives the pages of a tab their clock.
func (tb *Tab) setClock() {
	tb.T.Helper()
	Call(tb, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: fmt.Sprintf(clock, tb.browser.ahead.Milliseconds())})
}

// Pass lets the time of the open page pass, by half a second a look, until a script
// expression is true.
func (tb *Tab) Pass(expression, want string) {
	tb.T.Helper()
	tb.Await(`(pass(500), `+expression+`)`, want)
}

// patience is how long a test may keep a tab that it opens now: half the time that is
// left of what the whole run may take, so that one thing that never comes does not
// take the time of all the tests after it.
func patience(t testing.TB) time.Duration {
	if t, ok := t.(*testing.T); ok {
		if end, ok := t.Deadline(); ok {
			return time.Until(end) / 2
		}
	}
	return time.Hour
}
