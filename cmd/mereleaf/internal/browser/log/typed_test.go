package log

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"mereleaf/cmd/mereleaf/internal/browser/browsertest"
)

// TestLogReadsWhatIsTyped types decimal commas and units into the form, and a number
// that reads two ways.
func TestLogReadsWhatIsTyped(t *testing.T) {
	tb := browser.Open(t)
	tb.Touch()
	openLog(tb)
	saveLog(tb, map[string]string{"nitrate": "1,234"})
	tb.Says(`#log_nitrate_fault`, "may be 1234 or 1.234")
	saveLog(tb, map[string]string{"nitrate": "12,5 ppm", "tan": "0,25", "temperature": "72,5 F", "kh": "3dKH"})
	tb.Says(`[data-part="said"]`, "Saved: ")
	got := strings.Join(logged(tb), "\n")
	for _, want := range []string{`"nitrate":12.5`, `"tan":0.25`, `"temperature":22.5`, `"temperature":"72.5 [degF]"`, `"kh":3`, `"kh-unit":"german"`} {
		if !strings.Contains(got, want) {
			t.Errorf("kept is %s, without %s", got, want)
		}
	}
}

// TestLogAsksAboutDates reads a file whose dates read two ways, and takes nothing
// until the reader has said which.
func TestLogAsksAboutDates(t *testing.T) {
	tb := browser.Open(t)
	tb.Touch()
	openLog(tb)
	file := filepath.Join(t.TempDir(), "sheet.csv")
	if err := os.WriteFile(file, []byte("date;ph [pH];tan [mg/L]\r\n6/1/2026 7:05;8,2;0,5\r\n7/2/2026;8,1;\r\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ press, says, holds string }{{"neither", "Nothing was taken from the file sheet.csv", ""}, {"month", "2 readings", `"at":"2026-06-01T07:05:00`}} {
		tb.Upload(file)
		tb.Says(`[data-part="reads"]`, "is 6/1/2026 7:05 the 6 January 2026 or the 1 June 2026? Nothing is taken until you say.")
		if got := logged(tb); len(got) > 0 {
			t.Errorf("taken before the reader said: %q", got)
		}
		tb.Press(c.press)
		tb.Says(`[data-part="said"]`, c.says)
		if got := strings.Join(logged(tb), "\n"); !strings.Contains(got, c.holds) || c.holds == "" && got != "" {
			t.Errorf("after %s there is kept %s", c.press, got)
		}
	}
	tb.Upload(file)
	tb.Says(`[data-part="reads"]`, "read two ways")
	tb.Press("month")
	tb.Says(`[data-part="said"]`, "2 readings of it were here already and were not doubled")
}

// TestLogWithASilentStore has a browser whose store never answers, one that answers
// late, and one that falls silent later: what was typed is never lost without a word.
func TestLogWithASilentStore(t *testing.T) {
	const reading = "8.2"
	for name, spoil := range map[string]string{
		"never": `IDBFactory.prototype.open = () => ({})`,
		"late":  `(open => { IDBFactory.prototype.open = function (...all) { const asked = {}; window.answer = () => { const real = open.apply(this, all); for (const on of ["onupgradeneeded", "onsuccess", "onerror"]) real[on] = (e) => { asked.result = real.result; asked.error = real.error; asked[on]?.(e) } }; return asked } })(IDBFactory.prototype.open)`,
	} {
		tb := browser.Open(t)
		tb.Touch()
		browsertest.Call(tb, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: spoil})
		tb.Visit("log.html")
		tb.Do(chromedp.WaitVisible(chromedp.CSS(`.entry [type="submit"]`)))
		saveLog(tb, map[string]string{"ph": reading}) // before the leaf has given up waiting
		tb.Pass(`document.querySelector('[data-part="said"]').textContent.includes("Not saved yet: this browser is slow to answer. What you typed stays in the form.")`, name+": it is not said that the browser is slow")
		tb.Pass(`document.querySelector('[data-part="said"]').textContent.includes("It is held only until you leave this leaf.")`, name+": it is not said that nothing is kept")
		tb.Says(`[data-part="trouble"]`, "This browser’s store does not answer. What it keeps is not lost")
		if name == "never" {
			continue
		}
		browsertest.Evaluate[bool](tb, `(window.answer(), true)`)
		tb.Await(`document.querySelector('[data-part="trouble"]').hidden`, "the store has answered, and the leaf does not say so")
		tb.Says(`[data-part="list"]`, reading)
	}

	tb := browser.Open(t)
	tb.Touch()
	openLog(tb)
	browsertest.Evaluate[bool](tb, `(IDBDatabase.prototype.transaction = () => ({objectStore: () => ({put() {}, delete() {}, getAll: () => ({})})}), true)`)
	saveLog(tb, map[string]string{"ph": reading})
	tb.Pass(`document.querySelector('[data-part="said"]').textContent.includes("The reading is not saved, and stays in the form.")`, "a change that is not answered is not said")
	if got := browsertest.Evaluate[string](tb, `document.querySelector("#log_ph").value`); got != reading {
		t.Errorf("the form holds %q", got)
	}
}
