package browser

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/storage"
	"github.com/chromedp/chromedp"
)

// TestLogTroubles has no room, for real and as some browsers report it, and a
// browser that refuses to keep anything: the reading stays in the form or on the
// leaf, and can be saved as a file.
func TestLogTroubles(t *testing.T) {
	h := newHost(t, map[string]string{base: world.folder})
	tb := h.openAt(t, base)
	tb.touch()
	tb.log()
	room := 1.0
	call(tb, storage.OverrideQuotaForOrigin, storage.OverrideQuotaForOriginParams{Origin: h.URL, QuotaSize: &room})
	tb.saveLog(map[string]string{"ph": "8.2"})
	tb.says(`[data-part="said"]`, "The reading is not saved, and stays in the form. This browser has no room left. Save your readings as a file")
	if got := evaluate[string](tb, `document.querySelector("#log_ph").value`); got != "8.2" || len(tb.logged()) != 0 {
		t.Errorf("without room the form holds %q, and kept is %q", got, tb.logged())
	}
	room = 1e9
	call(tb, storage.OverrideQuotaForOrigin, storage.OverrideQuotaForOriginParams{Origin: h.URL, QuotaSize: &room})
	evaluate[bool](tb, `(window.put = IDBObjectStore.prototype.put, IDBObjectStore.prototype.put = () => { throw new DOMException("full", "QuotaExceededError") }, true)`)
	tb.saveLog(map[string]string{"ph": "8.3"})
	tb.says(`[data-part="said"]`, "no room left")
	evaluate[bool](tb, `(IDBObjectStore.prototype.put = window.put, true)`)
	// The browser takes its time to see the room.
	tb.until(func() bool {
		evaluate[bool](tb, `(document.querySelector('[data-part="said"]').replaceChildren(), true)`)
		tb.saveLog(nil)
		// "Not saved yet" is no answer: what is saved just after it empties the form, of
		// which a second press then says nothing.
		tb.await(`/^(?!Not saved yet)./.test(document.querySelector('[data-part="said"]').textContent)`, "the leaf says nothing of what is saved again")
		return strings.HasPrefix(tb.text(`[data-part="said"]`), "Saved: ")
	})
	tb.says(`[data-part="said"]`, "Saved: ")
	if n := len(tb.logged()); n != 1 {
		t.Errorf("with room again, %d readings are kept", n)
	}
	tb.seen() // the browser logs that the room is not enough

	// A newer edition has a newer store.
	evaluate[bool](tb, `new Promise((resolve, reject) => {
		const asked = indexedDB.open("pond log `+base+`", 2);
		asked.onsuccess = () => { asked.result.close(); resolve(true) };
		asked.onerror = asked.onblocked = () => reject(new Error("blocked"));
	})`)
	tb.log()
	tb.says(`[data-part="trouble"]`, "kept by a newer edition of this handbook. They are not lost: reload")

	for name, spoil := range map[string]string{
		"throws": `Object.defineProperty(window, "indexedDB", {get() { throw new DOMException("refused", "SecurityError") }})`,
		"lacks":  `Object.defineProperty(window, "indexedDB", {value: undefined})`,
		"fails":  `IDBFactory.prototype.open = () => { const r = {}; setTimeout(() => r.onerror()); return r }; Object.defineProperty(window, "localStorage", {get() { throw new DOMException("refused", "SecurityError") }})`,
	} {
		tb := open(t)
		tb.touch()
		call(tb, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: spoil})
		tb.log()
		tb.says(`[data-part="trouble"]`, "This browser keeps nothing for this handbook")
		tb.saveLog(map[string]string{"tan": "1.5", "ph": "8.2", "temperature": "21"})
		tb.says(`[data-part="said"]`, "It is held only until you leave this leaf.")
		tb.says(`[data-part="list"]`, "toxic ammonia 0.095\u00a0mg/L")
		if name == "throws" {
			if text := tb.exports("csv", ".csv"); !strings.Contains(text, ",8.2,") {
				t.Errorf("%s: the file is %q", name, text)
			}
		}
	}
}

// TestLogWithoutCalculators has no module: readings are kept and drawn, and the
// leaf says what is missing.
func TestLogWithoutCalculators(t *testing.T) {
	tb := open(t)
	tb.touch()
	call(tb, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: `Worker = class { constructor() { throw new Error("refused") } }`})
	tb.visit("log.html")
	tb.await(logState+` === "ready"`, "the log does not get ready")
	tb.saveLog(map[string]string{"tan": "1.5", "ph": "8.2", "temperature": "21"})
	tb.says(`[data-part="said"]`, "Saved: ")
	tb.says(`[data-part="lacks"]`, "Advice, toxic ammonia and the next test are missing: the calculators did not load.")
	tb.says(`[data-chart="tan"] svg`, "watch from 0.25")
	if n := len(tb.logged()); n != 1 || evaluate[bool](tb, `!!document.querySelector('[data-chart="toxic"]')`) {
		t.Errorf("%d readings, or toxic ammonia from nowhere", n)
	}
}

// TestLogInTwoTabs logs in one tab while the other shows the log.
func TestLogInTwoTabs(t *testing.T) {
	first := open(t)
	first.touch()
	first.log()
	second := first.beside()
	second.touch()
	second.log()
	second.fillLog(map[string]string{"nitrite": "0.1"})
	first.saveLog(map[string]string{"ph": "8.2"})
	second.says(`[data-part="list"]`, "pH 8.2")
	if got := evaluate[string](second, `document.querySelector("#log_nitrite").value`); got != "0.1" {
		t.Errorf("what was being typed in the other tab is now %q", got)
	}
	second.saveLog(nil)
	first.says(`[data-part="list"]`, "Nitrite 0.1")
	if n := len(first.logged()); n != 2 {
		t.Errorf("of two tabs %d readings are kept", n)
	}
	first.press("erase")
	first.press("yes")
	second.await(`!document.querySelector('[data-part="none"]').hidden`, "the other tab shows what is erased")
}

// TestLogSurvivesACrash ends a tab while it is typed into and while it saves:
// what was typed is then in the form or in the log, and in one of them alone.
func TestLogSurvivesACrash(t *testing.T) {
	first := open(t)
	first.touch()
	first.log()
	for i, end := range []string{"typing", "saving"} {
		tb := first.beside()
		tb.touch()
		tb.log()
		text := fmt.Sprint(80 + i)
		tb.fillLog(map[string]string{"kh": text, "note": end})
		if end == "saving" {
			// The page ends in the very step that began to save.
			_, _ = chromedp.Run(tb, chromedp.Evaluate[bool](`(document.querySelector("form.entry").requestSubmit(), true)`))
		}
		tb.crash()
		tb.seen()
		first.log()
		draft := evaluate[string](first, `document.querySelector("#log_kh").value`)
		kept := strings.Contains(strings.Join(first.logged(), "\n"), `"kh":`+text)
		if (draft == text) == kept {
			t.Errorf("%s: after the crash the form holds %q, and in the log: %v", end, draft, kept)
		}
		if draft == text {
			first.says(`[data-part="said"]`, "What you had typed is still here. It is not saved yet.")
			first.saveLog(nil)
			first.says(`[data-part="said"]`, "Saved: ")
		}
		if got := first.logged(); len(got) != i+1 {
			t.Fatalf("%s: %d readings are kept: %q", end, len(got), got)
		}
	}
}

// TestLogClock logs with a clock that has jumped, ahead and back.
func TestLogClock(t *testing.T) {
	tb := open(t)
	tb.touch()
	call(tb, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: `
		const Real = Date;
		window.shift = Number(sessionStorage.getItem("shift"));
		Date = class extends Real { constructor(...a) { a.length ? super(...a) : super(Real.now() + window.shift) } static now() { return Real.now() + window.shift } }`})
	tb.log()
	tb.saveLog(map[string]string{"ph": "8.0"})
	tb.says(`[data-part="said"]`, "Saved: ")
	// A date in the future, typed.
	tb.saveLog(map[string]string{"ph": "8.1", "at": now().AddDate(0, 0, 3).Format("2006-01-02T15:04")})
	tb.says(`[data-part="question"]`, "which is in the future")
	if n := len(tb.logged()); n != 1 {
		t.Errorf("%d readings are kept before the question is answered", n)
	}
	tb.press("unsure")
	if evaluate[string](tb, `document.activeElement.id`) != "log_at" {
		t.Error("the date to change has no focus")
	}
	tb.saveLog(map[string]string{})
	tb.press("sure")
	tb.says(`[data-part="list"]`, "(in the future)")
	// A clock that has gone back.
	evaluate[bool](tb, `(sessionStorage.setItem("shift", String(-400 * 24 * 3600e3)), true)`)
	tb.log()
	tb.saveLog(map[string]string{"ph": "8.2"})
	tb.says(`[data-part="question"]`, "The clock has gone back. Is the date right?")
	tb.press("sure")
	tb.says(`[data-part="said"]`, "There are later readings, so it stands below them")
	// And one that has leapt ahead.
	evaluate[bool](tb, `(sessionStorage.setItem("shift", String(800 * 24 * 3600e3)), true)`)
	tb.log()
	tb.saveLog(map[string]string{"ph": "8.3"})
	tb.says(`[data-part="question"]`, "more than a year after your last reading")
	tb.press("sure")
	tb.says(`[data-part="said"]`, "Saved: ")
	if n := len(tb.logged()); n != 4 {
		t.Errorf("%d readings are kept; want 4", n)
	}
}
