package log

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/storage"
	"github.com/chromedp/chromedp"

	"mereleaf/cmd/mereleaf/internal/browser/browsertest"
)

// TestLogTroubles has no room, for real and as some browsers report it, and a
// browser that refuses to keep anything: the reading stays in the form or on the
// leaf, and can be saved as a file.
func TestLogTroubles(t *testing.T) {
	h := browsertest.NewHost(t, map[string]string{browsertest.Base: browser.Edition(t)})
	tb := browser.OpenAt(t, h, browsertest.Base)
	tb.Touch()
	openLog(tb)
	room := 1.0
	browsertest.Call(tb, storage.OverrideQuotaForOrigin, storage.OverrideQuotaForOriginParams{Origin: h.URL, QuotaSize: &room})
	saveLog(tb, map[string]string{"ph": "8.2"})
	tb.Says(`[data-part="said"]`, "The reading is not saved, and stays in the form. This browser has no room left. Save your readings as a file")
	if got := browsertest.Evaluate[string](tb, `document.querySelector("#log_ph").value`); got != "8.2" || len(logged(tb)) != 0 {
		t.Errorf("without room the form holds %q, and kept is %q", got, logged(tb))
	}
	room = 1e9
	browsertest.Call(tb, storage.OverrideQuotaForOrigin, storage.OverrideQuotaForOriginParams{Origin: h.URL, QuotaSize: &room})
	browsertest.Evaluate[bool](tb, `(window.put = IDBObjectStore.prototype.put, IDBObjectStore.prototype.put = () => { throw new DOMException("full", "QuotaExceededError") }, true)`)
	saveLog(tb, map[string]string{"ph": "8.3"})
	tb.Says(`[data-part="said"]`, "no room left")
	browsertest.Evaluate[bool](tb, `(IDBObjectStore.prototype.put = window.put, true)`)
	// The browser takes its time to see the room. The leaf is asked again until it has
	// saved, in one step with the look at what it says: a press while it is saving does
	// nothing, and one after that would be of an empty form.
	tb.Pass(`((said) => said.startsWith("Saved: ") || (document.querySelector('.entry [type="submit"]').click(), false))(document.querySelector('[data-part="said"]').textContent)`, "with room again, nothing is saved")
	if n := len(logged(tb)); n != 1 {
		t.Errorf("with room again, %d readings are kept", n)
	}
	tb.Seen() // the browser logs that the room is not enough

	// A newer edition has a newer store.
	browsertest.Evaluate[bool](tb, `new Promise((resolve, reject) => {
		const asked = indexedDB.open("pond log `+browsertest.Base+`", 2);
		asked.onsuccess = () => { asked.result.close(); resolve(true) };
		asked.onerror = asked.onblocked = () => reject(new Error("blocked"));
	})`)
	openLog(tb)
	tb.Says(`[data-part="trouble"]`, "kept by a newer edition of this handbook. They are not lost: reload")

	for name, spoil := range map[string]string{
		"throws": `Object.defineProperty(window, "indexedDB", {get() { throw new DOMException("refused", "SecurityError") }})`,
		"lacks":  `Object.defineProperty(window, "indexedDB", {value: undefined})`,
		"fails":  `IDBFactory.prototype.open = () => { const r = {}; setTimeout(() => r.onerror()); return r }; Object.defineProperty(window, "localStorage", {get() { throw new DOMException("refused", "SecurityError") }})`,
	} {
		tb := browser.Open(t)
		tb.Touch()
		browsertest.Call(tb, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: spoil})
		openLog(tb)
		tb.Says(`[data-part="trouble"]`, "This browser keeps nothing for this handbook")
		saveLog(tb, map[string]string{"tan": "1.5", "ph": "8.2", "temperature": "21"})
		tb.Says(`[data-part="said"]`, "It is held only until you leave this leaf.")
		tb.Says(`[data-part="list"]`, "toxic ammonia 0.095\u00a0mg/L")
		if name == "throws" {
			if text := exports(tb, "csv", ".csv"); !strings.Contains(text, ",8.2,") {
				t.Errorf("%s: the file is %q", name, text)
			}
		}
	}
}

// TestLogWithoutCalculators has no module: readings are kept and drawn, and the
// leaf says what is missing.
func TestLogWithoutCalculators(t *testing.T) {
	tb := browser.Open(t)
	tb.Touch()
	browsertest.Call(tb, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: `Worker = class { constructor() { throw new Error("refused") } }`})
	tb.Visit("log.html")
	tb.Await(logState+` === "ready"`, "the log does not get ready")
	saveLog(tb, map[string]string{"tan": "1.5", "ph": "8.2", "temperature": "21"})
	tb.Says(`[data-part="said"]`, "Saved: ")
	tb.Says(`[data-part="lacks"]`, "Advice, toxic ammonia and the next test are missing: the calculators did not load.")
	tb.Says(`[data-chart="tan"] svg`, "watch from 0.25")
	if n := len(logged(tb)); n != 1 || browsertest.Evaluate[bool](tb, `!!document.querySelector('[data-chart="toxic"]')`) {
		t.Errorf("%d readings, or toxic ammonia from nowhere", n)
	}
}

// TestLogInTwoTabs logs in one tab while the other shows the log.
func TestLogInTwoTabs(t *testing.T) {
	first := browser.Open(t)
	first.Touch()
	openLog(first)
	second := first.Beside()
	second.Touch()
	openLog(second)
	fillLog(second, map[string]string{"nitrite": "0.1"})
	saveLog(first, map[string]string{"ph": "8.2"})
	second.Says(`[data-part="list"]`, "pH 8.2")
	if got := browsertest.Evaluate[string](second, `document.querySelector("#log_nitrite").value`); got != "0.1" {
		t.Errorf("what was being typed in the other tab is now %q", got)
	}
	saveLog(second, nil)
	first.Says(`[data-part="list"]`, "Nitrite 0.1")
	if n := len(logged(first)); n != 2 {
		t.Errorf("of two tabs %d readings are kept", n)
	}
	first.Press("erase")
	first.Press("yes")
	second.Await(`!document.querySelector('[data-part="none"]').hidden`, "the other tab shows what is erased")
}

// TestLogSurvivesACrash ends a tab while it is typed into and while it saves:
// what was typed is then in the form or in the log, and in one of them alone.
func TestLogSurvivesACrash(t *testing.T) {
	first := browser.Open(t)
	first.Touch()
	openLog(first)
	for i, end := range []string{"typing", "saving"} {
		tb := first.Beside()
		tb.Touch()
		openLog(tb)
		text := fmt.Sprint(80 + i)
		fillLog(tb, map[string]string{"kh": text, "note": end})
		if end == "saving" {
			// The page ends in the very step that began to save.
			_, _ = chromedp.Run(tb, chromedp.Evaluate[bool](`(document.querySelector("form.entry").requestSubmit(), true)`))
		}
		tb.Crash()
		tb.Seen()
		openLog(first)
		draft := browsertest.Evaluate[string](first, `document.querySelector("#log_kh").value`)
		kept := strings.Contains(strings.Join(logged(first), "\n"), `"kh":`+text)
		if (draft == text) == kept {
			t.Errorf("%s: after the crash the form holds %q, and in the log: %v", end, draft, kept)
		}
		if draft == text {
			first.Says(`[data-part="said"]`, "What you had typed is still here. It is not saved yet.")
			saveLog(first, nil)
			first.Says(`[data-part="said"]`, "Saved: ")
		}
		if got := logged(first); len(got) != i+1 {
			t.Fatalf("%s: %d readings are kept: %q", end, len(got), got)
		}
	}
}

// TestLogClock logs with a clock that has jumped, ahead and back.
func TestLogClock(t *testing.T) {
	tb := browser.Open(t)
	tb.Touch()
	browsertest.Call(tb, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: `
		const Real = Date;
		window.shift = Number(sessionStorage.getItem("shift"));
		Date = class extends Real { constructor(...a) { a.length ? super(...a) : super(Real.now() + window.shift) } static now() { return Real.now() + window.shift } }`})
	openLog(tb)
	saveLog(tb, map[string]string{"ph": "8.0"})
	tb.Says(`[data-part="said"]`, "Saved: ")
	// A date in the future, typed.
	saveLog(tb, map[string]string{"ph": "8.1", "at": tb.Now().AddDate(0, 0, 3).Format("2006-01-02T15:04")})
	tb.Says(`[data-part="question"]`, "which is in the future")
	if n := len(logged(tb)); n != 1 {
		t.Errorf("%d readings are kept before the question is answered", n)
	}
	tb.Press("unsure")
	if browsertest.Evaluate[string](tb, `document.activeElement.id`) != "log_at" {
		t.Error("the date to change has no focus")
	}
	saveLog(tb, map[string]string{})
	tb.Press("sure")
	tb.Says(`[data-part="list"]`, "(in the future)")
	// A clock that has gone back.
	browsertest.Evaluate[bool](tb, `(sessionStorage.setItem("shift", String(-400 * 24 * 3600e3)), true)`)
	openLog(tb)
	saveLog(tb, map[string]string{"ph": "8.2"})
	tb.Says(`[data-part="question"]`, "The clock has gone back. Is the date right?")
	tb.Press("sure")
	tb.Says(`[data-part="said"]`, "There are later readings, so it stands below them")
	// And one that has leapt ahead.
	browsertest.Evaluate[bool](tb, `(sessionStorage.setItem("shift", String(800 * 24 * 3600e3)), true)`)
	openLog(tb)
	saveLog(tb, map[string]string{"ph": "8.3"})
	tb.Says(`[data-part="question"]`, "more than a year after your last reading")
	tb.Press("sure")
	tb.Says(`[data-part="said"]`, "Saved: ")
	if n := len(logged(tb)); n != 4 {
		t.Errorf("%d readings are kept; want 4", n)
	}
}
