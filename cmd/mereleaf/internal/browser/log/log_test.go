package log

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	cdpbrowser "github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"mereleaf/calculators"
	"mereleaf/cmd/mereleaf/internal/browser/browsertest"
)

// openLog opens the leaf of the log and waits until it can be typed into and judges.
func openLog(tb *browsertest.Tab) {
	tb.T.Helper()
	tb.Visit("log.html")
	tb.Await(logState+` === "ready" && document.querySelector(".log").dataset.calculators === "ready"`, "the log does not get ready")
	// A page that glides would be touched beside what is meant.
	browsertest.Evaluate[bool](tb, `(document.documentElement.style.scrollBehavior = "auto", true)`)
}

const logState = `document.querySelector(".log")?.dataset.state`

// fillLog types into the form without saving. What a reader's fingers do,
// TestLogByThumb does.
func fillLog(tb *browsertest.Tab, fields map[string]string) {
	tb.T.Helper()
	text, _ := json.Marshal(fields)
	browsertest.Evaluate[bool](tb, fmt.Sprintf(`(() => {
		const form = document.querySelector("form.entry");
		for (const [name, value] of Object.entries(%s ?? {})) {
			const field = form.elements.namedItem(name);
			field.value = value;
			field.dispatchEvent(new Event("input", {bubbles: true}));
		}
		return true;
	})()`, text))
}

func saveLog(tb *browsertest.Tab, fields map[string]string) {
	tb.T.Helper()
	fillLog(tb, fields)
	tb.Do(chromedp.Click(chromedp.CSS(`.entry [type="submit"]`)))
}

// logged reads what is kept as another program would, without what differs from
// one import to the next; in the order of time.
func logged(tb *browsertest.Tab) []string {
	tb.T.Helper()
	return browsertest.Evaluate[[]string](tb, `new Promise((resolve, reject) => {
		const asked = indexedDB.open("pond log `+browsertest.Base+`");
		asked.onerror = () => reject(asked.error);
		asked.onsuccess = () => {
			const all = asked.result.transaction("readings").objectStore("readings").getAll();
			all.onsuccess = () => {
				asked.result.close();
				const sorted = (o) => Object.fromEntries(Object.entries(o).sort());
				resolve(all.result.map(({at, entered, numbers, typed, choices, note}) => JSON.stringify({at, entered, numbers: sorted(numbers), typed: sorted(typed), choices: sorted(choices), note})).sort());
			};
		};
	})`)
}

// importLog has the leaf read a file.
func importLog(tb *browsertest.Tab, name, text string) {
	tb.T.Helper()
	file := filepath.Join(tb.T.TempDir(), name)
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		tb.T.Fatal(err)
	}
	browsertest.Evaluate[bool](tb, `(document.querySelector('[data-part="said"]').replaceChildren(), true)`)
	tb.Upload(file)
	tb.Await(`document.querySelector('[data-part="said"]').textContent !== ""`, "the leaf says nothing of "+name)
}

// exports saves a file by the button of the given name.
func exports(tb *browsertest.Tab, button, extension string) string {
	tb.T.Helper()
	t := tb.T
	folder := t.TempDir()
	browsertest.Call(tb, cdpbrowser.SetDownloadBehavior, cdpbrowser.SetDownloadBehaviorParams{Behavior: cdpbrowser.SetDownloadBehaviorBehaviorAllow, DownloadPath: folder, BrowserContextID: chromedp.FromContext(tb).BrowserContextID})
	tb.Press(button)
	name := "pond-log-"
	if button == "bad" {
		name += "not-taken-"
	}
	return tb.Downloaded(filepath.Join(folder, name+tb.Now().Format(time.DateOnly)+extension))
}

// TestLogByThumb logs a reading with few keys, on a phone: the toxic part of the
// ammonia is that of a published table, the limits are drawn, and the advice and
// the next test follow. Then it changes, deletes and brings back.
func TestLogByThumb(t *testing.T) {
	ph, warm, percent := trussell(t)
	tb := browser.Open(t)
	tb.Touch()
	openLog(tb)
	tb.SetKept(`{"pond record":1,"facts":{"volume":"9100 L"}}`)
	tb.Do(chromedp.Click(chromedp.CSS("#log_tan")))
	tb.Do(chromedp.KeyEvent("10" + kb.Enter + ph + kb.Enter + warm + kb.Enter + "0,05"))
	for _, small := range browsertest.Evaluate[[]string](tb, `[...document.querySelectorAll(".entry input, .entry select, .log button, .log summary")].filter(e => e.checkVisibility() && e.getBoundingClientRect().height < 43.5).map(e => e.outerHTML.slice(0, 80))`) {
		t.Errorf("smaller than 44 px: %s", small)
	}
	if away := browsertest.Evaluate[float64](tb, `innerHeight - document.querySelector(".save button").getBoundingClientRect().bottom`); away < 40 || away > 150 {
		t.Errorf("the button that saves ends %v px above the lower edge, away from the thumb", away)
	}
	tb.Do(chromedp.Click(chromedp.CSS(`.entry [type="submit"]`)))
	tb.Says(`[data-part="said"]`, "Saved: ")
	tb.Says(`[data-part="list"]`, "Nitrite 0.05\u00a0mg/L")
	shown := regexp.MustCompile(`toxic ammonia ([0-9.]+)\x{a0}mg/L`).FindStringSubmatch(tb.Text(`[data-part="list"] .values`))
	if shown == nil {
		t.Fatalf("no toxic ammonia in %q", tb.Text(`[data-part="list"]`))
	}
	toxic, _ := strconv.ParseFloat(shown[1], 64)
	if want := 10 * percent / 100; math.Abs(toxic-want) > 0.03*want { // two digits are shown
		t.Errorf("toxic ammonia %v mg/L; the table has %v", toxic, want)
	}
	view := browsertest.Answer(t, "readings", calculators.Arg{Name: "tan", Value: "10 mg/L"}, calculators.Arg{Name: "ph", Value: ph},
		calculators.Arg{Name: "temperature", Value: warm + " Cel"}, calculators.Arg{Name: "nitrite", Value: "0.05 mg/L"},
		calculators.Arg{Name: "volume", Value: "9100 L"})
	for _, want := range view.Advice {
		// The page keeps a number and its unit on one line.
		plain := strings.NewReplacer("\u00a0", " ").Replace
		if got := tb.Text(`[data-part="answer"]`); !strings.Contains(plain(got), plain(want)) {
			t.Errorf("the advice is %q; want %q in it", got, want)
		}
	}
	tb.Says(`[data-part="about"]`, "My pond adds: Water in the pond.")
	tb.Says(`[data-part="due"]`, "Next test due by ")
	limits := browsertest.Evaluate[[]string](tb, `[...document.querySelectorAll('[data-chart="nitrite"] .name')].map(e => e.textContent)`)
	if want := []string{"watch from 0.05\u00a0mg/L", "act today from 0.15\u00a0mg/L", "danger now from 0.5\u00a0mg/L"}; !slices.Equal(limits, want) {
		t.Errorf("the chart of nitrite has the limits %q; want %q", limits, want)
	}
	tb.Says(`[data-chart="toxic"]`, "One reading: ")
	tb.Says(`[data-chart="ph"]`, "Too few readings for a trend.")
	if got := browsertest.Facts(t, tb.Kept()); got["ammonia"] != "10 mg/L" || got["ph"] != ph || got["ammonia-kit"] != "as-n" {
		t.Errorf("My pond holds %v", got)
	}

	// What was typed wrong is said at its field, and nothing is saved.
	saveLog(tb, map[string]string{"ph": "82"})
	tb.Says("#log_ph_fault", "is 82; expected a number from 4 to 11")
	saveLog(tb, map[string]string{"ph": "8.4", "kh": "7", "kh-unit": "german", "fish": "hiding", "note": "windy"})
	tb.Says(`[data-part="said"]`, "KH, alkalinity 7 German degrees (dKH)")
	if n := len(logged(tb)); n != 2 {
		t.Fatalf("%d readings are kept; want 2", n)
	}
	tb.Says(`[data-chart="kh"]`, "One reading: 125\u00a0mg/L") // 7 times 17.8

	tb.Do(chromedp.Click(chromedp.CSS(`[data-part="list"] li:first-child button`)))
	if got := browsertest.Evaluate[string](tb, `["ph", "kh", "kh-unit", "note"].map(n => document.querySelector("form.entry").elements.namedItem(n).value).join(" ")`); got != "8.4 7 german windy" {
		t.Errorf("to be changed, the form holds %q", got)
	}
	saveLog(tb, map[string]string{"ph": "8.1"})
	tb.Says(`[data-part="said"]`, "Changed: ")
	before := logged(tb)
	if len(before) != 2 || !strings.Contains(before[1], `"ph":"8.1"`) {
		t.Errorf("changed, there is kept %q", before)
	}
	tb.Do(chromedp.Click(chromedp.CSS(`[data-part="list"] li:first-child [aria-label^="Delete"]`)))
	tb.Says(`[data-part="said"]`, "Deleted: ")
	if n := len(logged(tb)); n != 1 {
		t.Errorf("after deleting, %d readings are kept", n)
	}
	tb.Press("back")
	tb.Says(`[data-part="said"]`, "as they were before")
	if !slices.Equal(logged(tb), before) {
		t.Errorf("the deleted reading does not come back: %q", logged(tb))
	}
}

// trussell is a published row of how much of the ammonia is toxic.
func trussell(t *testing.T) (ph, warm string, percent float64) {
	t.Helper()
	f, err := os.Open("../../../../../testdata/reference/water-nh3-percent-freshwater-trussell.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows[1:] {
		if row[0] == "7.9" && row[1] == "20" {
			percent, err = strconv.ParseFloat(row[2], 64)
			if err != nil {
				t.Fatal(err)
			}
			return row[0], row[1], percent
		}
	}
	t.Fatal("the table has no pH 7.9 at 20 °C")
	return
}

// TestLogLooks takes pictures of the log and runs axe-core over it, in light and
// dark, with a question, faults and rows that were not taken. Nothing may be wider
// than the screen. Without JavaScript the leaf says what is amiss.
func TestLogLooks(t *testing.T) {
	script := browsertest.AxeScript(t)
	tb := browser.Open(t)
	tb.Touch()
	openLog(tb)
	rows := []string{"date,tan [mg/L],ph [pH],temperature [Cel],nitrite [mg/L],oxygen [mg/L],kh [1],nitrate [mg/L],fish,note"}
	for i := range 40 {
		rows = append(rows, fmt.Sprintf("2025-06-%02dT07:%02dZ,%.2f,%.1f,%d,%.2f,%.1f,%d,%d,normal,", 1+i*3/4, i, float64(i%6)/4, 7.6+float64(i%7)/10, 14+i/5, float64(i%5)/20, 6+float64(i%4)/2, 90+i, 20+i%9))
	}
	rows = append(rows, "2025-07-01T07:00Z,,99,,,,,,,")
	importLog(tb, "pond.csv", strings.Join(rows, "\n"))
	tb.Says(`[data-part="said"]`, "40 readings")
	for _, mode := range []string{"light", "dark"} {
		tb.Scheme(mode)
		for _, width := range []int64{1280, 360} {
			tb.Do(chromedp.EmulateViewport(width, 780))
			if os.Getenv("MERELEAF_SHOTS") != "" {
				picture, err := chromedp.Run(tb, chromedp.FullScreenshot(100))
				if err != nil {
					t.Fatal(err)
				}
				browsertest.Keep(t, fmt.Sprintf("log-%d-%s.png", width, mode), picture)
			}
			if wide := browsertest.Evaluate[int64](tb, `document.scrollingElement.scrollWidth`); wide > width {
				t.Errorf("the log is %d px wide on a screen of %d", wide, width)
			}
		}
		if mode == "dark" {
			saveLog(tb, map[string]string{"ph": "99"})
			tb.Press("erase")
		} else {
			saveLog(tb, map[string]string{"ph": "8", "at": "2099-01-01T00:00"})
			tb.Says(`[data-part="question"]`, "future")
		}
		tb.Accessible(script, mode, browsertest.EveryRule)
	}
	browsertest.Call(tb, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
	tb.Visit("log.html")
	if text := browsertest.Evaluate[string](tb, `document.querySelector("main").innerText`); !strings.Contains(text, "needs JavaScript") || strings.Contains(text, "Save") {
		t.Errorf("without JavaScript the leaf says %q", text)
	}
}

// TestLogInTheSingleFile logs in the file, without a server, and finds it after a
// reload and from another leaf.
func TestLogInTheSingleFile(t *testing.T) {
	tb := browser.Single(t)
	ready := func() {
		tb.Await(logState+` === "ready" && document.querySelector(".log").dataset.calculators === "ready"`, "the log does not get ready")
	}
	tb.Leaf("reckon/readings.html")
	tb.Do(chromedp.Click(chromedp.CSS(`main a[href="#log.html"]`)))
	ready()
	saveLog(tb, map[string]string{"tan": "1.5", "ph": "8.2", "temperature": "21"})
	tb.Says(`[data-part="list"]`, "toxic ammonia 0.095\u00a0mg/L")
	tb.Do(chromedp.Reload())
	ready()
	tb.Says(`[data-part="list"]`, "pH 8.2")
	tb.Leaf("terms.html")
	tb.Leaf("log.html")
	ready()
	tb.Says(`[data-part="list"]`, "pH 8.2")
	tb.Press("erase")
	tb.Press("yes")
	tb.Says(`[data-part="said"]`, "Erased")
}
