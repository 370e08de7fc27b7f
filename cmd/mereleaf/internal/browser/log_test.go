package browser

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
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/storage"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"mereleaf/calculators"
)

// log opens the leaf of the log and waits until it can be typed into and judges.
func (tb *tab) log() {
	tb.t.Helper()
	tb.visit("log.html")
	tb.await(logState+` === "ready" && document.querySelector(".log").dataset.calculators === "ready"`, "the log does not get ready")
	// A page that glides would be touched beside what is meant.
	evaluate[bool](tb, `(document.documentElement.style.scrollBehavior = "auto", true)`)
}

const logState = `document.querySelector(".log")?.dataset.state`

// fillLog types into the form without saving. What a reader's fingers do,
// TestLogByThumb does.
func (tb *tab) fillLog(fields map[string]string) {
	tb.t.Helper()
	text, _ := json.Marshal(fields)
	evaluate[bool](tb, fmt.Sprintf(`(() => {
		const form = document.querySelector("form.entry");
		for (const [name, value] of Object.entries(%s ?? {})) {
			const field = form.elements.namedItem(name);
			field.value = value;
			field.dispatchEvent(new Event("input", {bubbles: true}));
		}
		return true;
	})()`, text))
}

func (tb *tab) saveLog(fields map[string]string) {
	tb.t.Helper()
	tb.fillLog(fields)
	tb.do(chromedp.Click(chromedp.CSS(`.entry [type="submit"]`)))
}

// logged reads what is kept as another program would, without what differs from
// one import to the next; in the order of time.
func (tb *tab) logged() []string {
	tb.t.Helper()
	return evaluate[[]string](tb, `new Promise((resolve, reject) => {
		const asked = indexedDB.open("pond log `+base+`");
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
func (tb *tab) importLog(name, text string) {
	tb.t.Helper()
	file := filepath.Join(tb.t.(*testing.T).TempDir(), name)
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		tb.t.Fatal(err)
	}
	evaluate[bool](tb, `(document.querySelector('[data-part="said"]').replaceChildren(), true)`)
	tb.upload(file)
	tb.await(`document.querySelector('[data-part="said"]').textContent !== ""`, "the leaf says nothing of "+name)
}

// exports saves a file by the button of the given name.
func (tb *tab) exports(button, extension string) string {
	tb.t.Helper()
	t := tb.t.(*testing.T)
	folder := t.TempDir()
	call(tb, cdpbrowser.SetDownloadBehavior, cdpbrowser.SetDownloadBehaviorParams{Behavior: cdpbrowser.SetDownloadBehaviorBehaviorAllow, DownloadPath: folder, BrowserContextID: chromedp.FromContext(tb).BrowserContextID})
	tb.press(button)
	name := "pond-log-"
	if button == "bad" {
		name += "not-taken-"
	}
	return downloaded(t, filepath.Join(folder, name+time.Now().Format(time.DateOnly)+extension))
}

// TestLogByThumb logs a reading with few keys, on a phone: the toxic part of the
// ammonia is that of a published table, the limits are drawn, and the advice and
// the next test follow. Then it changes, deletes and brings back.
func TestLogByThumb(t *testing.T) {
	ph, warm, percent := trussell(t)
	tb := open(t)
	tb.touch()
	tb.log()
	tb.setKept(`{"pond record":1,"facts":{"volume":"9100 L"}}`)
	tb.do(chromedp.Click(chromedp.CSS("#log_tan")))
	tb.do(chromedp.KeyEvent("10" + kb.Enter + ph + kb.Enter + warm + kb.Enter + "0,05"))
	for _, small := range evaluate[[]string](tb, `[...document.querySelectorAll(".entry input, .entry select, .log button, .log summary")].filter(e => e.checkVisibility() && e.getBoundingClientRect().height < 43.5).map(e => e.outerHTML.slice(0, 80))`) {
		t.Errorf("smaller than 44 px: %s", small)
	}
	if away := evaluate[float64](tb, `innerHeight - document.querySelector(".save button").getBoundingClientRect().bottom`); away < 40 || away > 150 {
		t.Errorf("the button that saves ends %v px above the lower edge, away from the thumb", away)
	}
	tb.do(chromedp.Click(chromedp.CSS(`.entry [type="submit"]`)))
	tb.says(`[data-part="said"]`, "Saved: ")
	tb.says(`[data-part="list"]`, "Nitrite 0.05\u00a0mg/L")
	shown := regexp.MustCompile(`toxic ammonia ([0-9.]+)\x{a0}mg/L`).FindStringSubmatch(tb.text(`[data-part="list"] .values`))
	if shown == nil {
		t.Fatalf("no toxic ammonia in %q", tb.text(`[data-part="list"]`))
	}
	toxic, _ := strconv.ParseFloat(shown[1], 64)
	if want := 10 * percent / 100; math.Abs(toxic-want) > 0.03*want { // two digits are shown
		t.Errorf("toxic ammonia %v mg/L; the table has %v", toxic, want)
	}
	view := native(t, "readings", calculators.Arg{Name: "tan", Value: "10 mg/L"}, calculators.Arg{Name: "ph", Value: ph},
		calculators.Arg{Name: "temperature", Value: warm + " Cel"}, calculators.Arg{Name: "nitrite", Value: "0.05 mg/L"},
		calculators.Arg{Name: "volume", Value: "9100 L"})
	for _, want := range view.Advice {
		if got := tb.text(`[data-part="answer"]`); !strings.Contains(got, want) {
			t.Errorf("the advice is %q; want %q in it", got, want)
		}
	}
	tb.says(`[data-part="about"]`, "My pond adds: Water in the pond.")
	tb.says(`[data-part="due"]`, "Next test due by ")
	limits := evaluate[[]string](tb, `[...document.querySelectorAll('[data-chart="nitrite"] .name')].map(e => e.textContent)`)
	if want := []string{"watch from 0.05\u00a0mg/L", "act today from 0.15\u00a0mg/L", "danger now from 0.5\u00a0mg/L"}; !slices.Equal(limits, want) {
		t.Errorf("the chart of nitrite has the limits %q; want %q", limits, want)
	}
	tb.says(`[data-chart="toxic"]`, "One reading: ")
	tb.says(`[data-chart="ph"]`, "Too few readings for a trend.")
	if got := facts(t, tb.kept()); got["ammonia"] != "10 mg/L" || got["ph"] != ph || got["ammonia-kit"] != "as-n" {
		t.Errorf("My pond holds %v", got)
	}

	// What was typed wrong is said at its field, and nothing is saved.
	tb.saveLog(map[string]string{"ph": "82"})
	tb.says("#log_ph_fault", "is 82; expected a number from 4 to 11")
	tb.saveLog(map[string]string{"ph": "8.4", "kh": "7", "kh-unit": "german", "fish": "hiding", "note": "windy"})
	tb.says(`[data-part="said"]`, "KH, alkalinity 7 German degrees (dKH)")
	if n := len(tb.logged()); n != 2 {
		t.Fatalf("%d readings are kept; want 2", n)
	}
	tb.says(`[data-chart="kh"]`, "One reading: 125\u00a0mg/L") // 7 times 17.8

	tb.do(chromedp.Click(chromedp.CSS(`[data-part="list"] li:first-child button`)))
	if got := evaluate[string](tb, `["ph", "kh", "kh-unit", "note"].map(n => document.querySelector("form.entry").elements.namedItem(n).value).join(" ")`); got != "8.4 7 german windy" {
		t.Errorf("to be changed, the form holds %q", got)
	}
	tb.saveLog(map[string]string{"ph": "8.1"})
	tb.says(`[data-part="said"]`, "Changed: ")
	before := tb.logged()
	if len(before) != 2 || !strings.Contains(before[1], `"ph":"8.1"`) {
		t.Errorf("changed, there is kept %q", before)
	}
	tb.do(chromedp.Click(chromedp.CSS(`[data-part="list"] li:first-child [aria-label^="Delete"]`)))
	tb.says(`[data-part="said"]`, "Deleted: ")
	if n := len(tb.logged()); n != 1 {
		t.Errorf("after deleting, %d readings are kept", n)
	}
	tb.press("back")
	tb.says(`[data-part="said"]`, "as they were before")
	if !slices.Equal(tb.logged(), before) {
		t.Errorf("the deleted reading does not come back: %q", tb.logged())
	}
}

// trussell is a published row of how much of the ammonia is toxic.
func trussell(t *testing.T) (ph, warm string, percent float64) {
	t.Helper()
	f, err := os.Open("../../../../testdata/reference/water-nh3-percent-freshwater-trussell.csv")
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

// TestLogRoundTrip logs 200 readings through the form, reloads, saves them in
// both kinds of file, erases them, and reads each file back.
func TestLogRoundTrip(t *testing.T) {
	tb := open(t)
	tb.touch()
	tb.log()
	evaluate[bool](tb, `(async () => {
		const form = document.querySelector("form.entry");
		const put = (name, value) => {
			const field = form.elements.namedItem(name);
			field.value = value;
			field.dispatchEvent(new Event("input", {bubbles: true}));
		};
		const unit = form.querySelector('[data-test="temperature"] select');
		for (let i = 0; i < 200; i++) {
			const at = new Date(2025, 0, 1 + i, 7, i % 60);
			put("at", new Date(at.getTime() - at.getTimezoneOffset() * 60e3).toISOString().slice(0, 16));
			put("tan", ["0", "0.25", "0.50", "1,5"][i % 4]);
			put("ph", (7.4 + (i % 9) / 10).toFixed(1));
			unit.value = i % 3 ? "Cel" : "[degF]";
			put("temperature", i % 3 ? String(16 + i % 7) : String(61 + i % 9));
			put("nitrate-basis", i % 10 ? "as-no3" : "as-n");
			if (i % 5 === 0) put("nitrate", String(5 + i % 40));
			if (i % 7 === 0) put("fish", "normal");
			if (i % 11 === 0) put("note", 'wind; "rain", ½ cold ' + i);
			form.requestSubmit();
			const said = document.querySelector('[data-part="said"]');
			for (let n = 0; !said.textContent.startsWith("Saved: ") && n < 400; n++) await new Promise(r => setTimeout(r, 5));
			if (!said.textContent.startsWith("Saved: ")) throw new Error(i + ": " + said.textContent);
			said.replaceChildren();
		}
		return true;
	})()`)
	before := tb.logged()
	if len(before) != 200 {
		t.Fatalf("%d readings are kept; want 200", len(before))
	}
	tb.log()
	if got := evaluate[int](tb, `document.querySelectorAll('[data-chart="ph"] circle').length`); got != 200 {
		t.Errorf("after the reload the chart of pH has %d readings", got)
	}
	for _, button := range []string{"json", "csv"} {
		extension := "." + button
		text := tb.exports(button, extension)
		if extension == ".csv" {
			checkCSV(t, text)
		}
		tb.press("erase")
		tb.press("no")
		if n := len(tb.logged()); n != 200 {
			t.Fatalf("erased although the reader said no: %d", n)
		}
		tb.press("erase")
		tb.press("yes")
		tb.says(`[data-part="said"]`, "Erased: no reading is kept")
		if n := len(tb.logged()); n != 0 {
			t.Fatalf("after erasing, %d readings are kept", n)
		}
		tb.importLog("log"+extension, text)
		tb.says(`[data-part="said"]`, "200 readings")
		if after := tb.logged(); !slices.Equal(after, before) {
			for i := range min(len(after), len(before)) {
				if after[i] != before[i] {
					t.Fatalf("%s: reading %d is %s; it was %s", extension, i, after[i], before[i])
				}
			}
			t.Fatalf("%s: %d readings; want 200", extension, len(after))
		}
		tb.importLog("again"+extension, text)
		tb.says(`[data-part="said"]`, "200 readings of it were here already and were not doubled")
	}
}

// checkCSV reads a file as RFC 4180 wants it.
func checkCSV(t *testing.T, text string) {
	t.Helper()
	if strings.Count(text, "\n") != strings.Count(text, "\r\n") || !strings.HasSuffix(text, "\r\n") {
		t.Error("lines of the CSV do not end in CRLF")
	}
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, heading := range []string{"date", "tan [mg/L]", "ph [pH]", "temperature [Cel]", "ammonia-basis"} {
		if !slices.Contains(rows[0], heading) {
			t.Errorf("the CSV has no column %q: %q", heading, rows[0])
		}
	}
	for _, row := range rows[1:] {
		if _, err := time.Parse(time.RFC3339, row[0]); err != nil {
			t.Fatalf("a date is not ISO 8601: %v", err)
		}
	}
}

// TestLogImportReports reads files with something wrong in them over a log.
func TestLogImportReports(t *testing.T) {
	tb := open(t)
	tb.touch()
	tb.log()
	tb.importLog("own.csv", "date,tan [mg/L],ph [pH],temperature [[degF]],nitrite [g/L]\n2025-07-12T07:05+02:00,1.5,8.2,72,0.0005\n")
	tb.says(`[data-part="said"]`, "1 reading.")
	before := tb.logged()
	if len(before) != 1 || !strings.Contains(before[0], `"nitrite":0.5`) || !strings.Contains(before[0], `"temperature":22.22`) || !strings.Contains(before[0], `72 [degF]`) {
		t.Fatalf("taken is %q", before)
	}
	for _, c := range []struct{ name, text, says string }{
		{"cut.json", `{"pond log":1,"readings":[{"at":"`, "is damaged or cut short"},
		{"record.json", `{"pond record":1,"facts":{"volume":"9100 L"}}`, "is a pond record, not a log of readings: read it on the leaf My pond"},
		{"newer.json", `{"pond log":2,"readings":[]}`, "comes from a newer edition of this handbook: reload this leaf"},
		{"photo.csv", "\x89PNG\r\n\x1a\n\x00\x00", "is no log of readings: choose a file that was saved on this leaf"},
		{"letter.csv", "Dear club,\r\nhere are my readings.\r\n", "is no log of readings"},
		{"other.json", `[1, 2]`, "is no log of readings"},
		{"empty.csv", "", "is no log of readings"},
	} {
		tb.importLog(c.name, c.text)
		tb.says(`[data-part="said"]`, c.says)
		if !slices.Equal(tb.logged(), before) {
			t.Fatalf("%s has changed what is kept", c.name)
		}
	}

	// The good rows are taken, the bad ones reported by number, none doubled.
	tb.importLog("mixed.csv", strings.Join([]string{
		"date,tan [mg/L],ph [pH],nitrite-basis,nitrite [mg/L],moat [m],note",
		"2025-07-12T07:05+02:00,1.5,8.2,,,,other numbers at a time that is here",
		"12/07/2025,1,8,,,,",
		"2025-02-30T07:00Z,1,8,,,,",
		"2025-07-13T07:00Z,lots,8,,,,",
		"2025-07-14T07:00Z,1,14,,,,",
		"2025-07-15T07:00Z,1,8,as-no5,1,,",
		"2025-07-16T07:00Z,1,8,,,2,\"two, \"\"three\"\"\r\nfour\"",
		"",
		"2025-07-17T07:00Z,,,,,,",
		"2025-07-18,1,8,,,,",
		"2025-07-16T07:00Z,1,8,,,,\"two, \"\"three\"\"\r\nfour\"",
		"2025-07-19T07:00Z,1,8,,,,a,b",
		"2025-07-20T07:00Z,1,8,,,,\"open",
	}, "\r\n"))
	for _, want := range []string{
		"Taken from the file mixed.csv: 3 readings.", "1 reading of it was here already", "1 reading of it has the time of another reading and other numbers: both are kept", "Not taken: 8 rows",
		"“moat [m]” was not taken", "1 date says no time zone",
	} {
		tb.says(`[data-part="said"]`, want)
	}
	for _, want := range []string{
		"Row 3: the date is “12/07/2025”; expected year, month, day", "Row 4: the date is “2025-02-30T07:00Z”", "Row 5: tan is “lots”; expected a number from 0\u00a0mg/L to 100\u00a0mg/L",
		"Row 6: ph is 14; expected a number from 4 to 11", "Row 7: nitrite-basis is “as-no5”; expected as-n, as-no2", "Row 10: holds no reading", "Row 13: has 8 cells; expected 7", "Row 14: has a quote that is not closed",
	} {
		tb.says(`[data-part="rows"]`, want)
	}
	if n := len(tb.logged()); n != 4 {
		t.Errorf("%d readings are kept; want 4: %q", n, tb.logged())
	}
	if text := tb.exports("bad", ".csv"); strings.Count(text, "\r\n") != 9 || !strings.Contains(text, "lots") || !strings.Contains(text, "fault") {
		t.Errorf("the file of the rows not taken is %q", text)
	}
	tb.press("back")
	tb.says(`[data-part="said"]`, "as they were before")
	if !slices.Equal(tb.logged(), before) {
		t.Errorf("the import is not taken back: %q", tb.logged())
	}
	// Trends: the readings lie on a line, jump to and fro, and stay.
	tb.importLog("trend.csv", "date,temperature [Cel],kh [1],nitrate [mg/L]\n2025-09-01T07:00Z,10,100,20\n2025-09-02T07:00Z,12,120,20\n2025-09-03T07:00Z,14,100,20\n2025-09-04T07:00Z,16,120,20\n2025-09-05T07:00Z,18,100,20\n")
	tb.says(`[data-chart="temperature"]`, "A straight line through the last 5 readings rises from 10\u00a0°C to 18\u00a0°C in 4 days.")
	tb.says(`[data-chart="kh"]`, "No clear trend")
	tb.says(`[data-chart="nitrate"]`, "Lowest 20\u00a0mg/L, highest 20\u00a0mg/L, last 20\u00a0mg/L on 5 Sept 2025. The last 5 readings are the same.")
	// What was dangerous and was not tested again still counts.
	now := time.Now().UTC()
	tb.importLog("open.csv", fmt.Sprintf("date,chlorine [mg/L],ph [pH]\n%s,0.05,8\n%s,,8\n", now.Add(-48*time.Hour).Format(time.RFC3339), now.Add(-time.Minute).Format(time.RFC3339)))
	tb.says(`[data-part="due"]`, "Your next test was due by ")
	tb.says(`[data-part="open"]`, "Total chlorine 0.05\u00a0mg/L (danger now)")
	tb.press("back")
	tb.importLog("semicolons.csv", "date;ph [pH]\n2025-07-12 07:05+02:00;8,25;9\n")
	tb.says(`[data-part="rows"]`, "Row 2: has 3 cells; expected 2")
	for _, button := range []string{"erase", "yes"} {
		tb.press(button)
	}
	tb.says(`[data-part="said"]`, "Erased")
	// As a spreadsheet of another country writes it.
	tb.importLog("semicolons.csv", "\uFEFFdate;ph [pH];kh [1];kh-unit\n2025-08-01 07:00;8,25;7,5;german\n")
	if got := tb.logged(); len(got) != 1 || !strings.Contains(got[0], `"kh":7.5,"ph":8.25`) {
		t.Errorf("taken is %q", got)
	}
}

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
	for range 20 { // the browser takes its time to see the room
		if tb.saveLog(nil); evaluate[bool](tb, `new Promise(r => setTimeout(() => r(document.querySelector('[data-part="said"]').textContent.startsWith("Saved: ")), 250))`) {
			break
		}
	}
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
		go func() { _, _ = chromedp.Call(tb, page.Crash, cdp.Empty{}) }() // it never answers
		time.Sleep(300 * time.Millisecond)
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
	tb.saveLog(map[string]string{"ph": "8.1", "at": time.Now().AddDate(0, 0, 3).Format("2006-01-02T15:04")})
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

// TestLogLooks takes pictures of the log and runs axe-core over it, in light and
// dark, with a question, faults and rows that were not taken. Nothing may be wider
// than the screen. Without JavaScript the leaf says what is amiss.
func TestLogLooks(t *testing.T) {
	script := axeScript(t)
	tb := open(t)
	tb.touch()
	tb.log()
	rows := []string{"date,tan [mg/L],ph [pH],temperature [Cel],nitrite [mg/L],oxygen [mg/L],kh [1],nitrate [mg/L],fish,note"}
	for i := range 40 {
		rows = append(rows, fmt.Sprintf("2025-06-%02dT07:%02dZ,%.2f,%.1f,%d,%.2f,%.1f,%d,%d,normal,", 1+i*3/4, i, float64(i%6)/4, 7.6+float64(i%7)/10, 14+i/5, float64(i%5)/20, 6+float64(i%4)/2, 90+i, 20+i%9))
	}
	rows = append(rows, "2025-07-01T07:00Z,,99,,,,,,,")
	tb.importLog("pond.csv", strings.Join(rows, "\n"))
	tb.says(`[data-part="said"]`, "40 readings")
	for _, mode := range []string{"light", "dark"} {
		tb.scheme(mode)
		for _, width := range []int64{1280, 360} {
			tb.do(chromedp.EmulateViewport(width, 780))
			if os.Getenv("MERELEAF_SHOTS") != "" {
				picture, err := chromedp.Run(tb, chromedp.FullScreenshot(100))
				if err != nil {
					t.Fatal(err)
				}
				keep(t, fmt.Sprintf("log-%d-%s.png", width, mode), picture)
			}
			if wide := evaluate[int64](tb, `document.scrollingElement.scrollWidth`); wide > width {
				t.Errorf("the log is %d px wide on a screen of %d", wide, width)
			}
		}
		if mode == "dark" {
			tb.saveLog(map[string]string{"ph": "99"})
			tb.press("erase")
		} else {
			tb.saveLog(map[string]string{"ph": "8", "at": "2099-01-01T00:00"})
			tb.says(`[data-part="question"]`, "future")
		}
		tb.accessible(script, mode, everyRule)
	}
	call(tb, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
	tb.visit("log.html")
	if text := evaluate[string](tb, `document.querySelector("main").innerText`); !strings.Contains(text, "needs JavaScript") || strings.Contains(text, "Save") {
		t.Errorf("without JavaScript the leaf says %q", text)
	}
}

// TestLogInTheSingleFile logs in the file, without a server, and finds it after a
// reload and from another leaf.
func TestLogInTheSingleFile(t *testing.T) {
	tb := single(t)
	ready := func() {
		tb.await(logState+` === "ready" && document.querySelector(".log").dataset.calculators === "ready"`, "the log does not get ready")
	}
	tb.leaf("reckon/readings.html")
	tb.do(chromedp.Click(chromedp.CSS(`main a[href="#log.html"]`)))
	ready()
	tb.saveLog(map[string]string{"tan": "1.5", "ph": "8.2", "temperature": "21"})
	tb.says(`[data-part="list"]`, "toxic ammonia 0.095\u00a0mg/L")
	tb.do(chromedp.Reload())
	ready()
	tb.says(`[data-part="list"]`, "pH 8.2")
	tb.leaf("terms.html")
	tb.leaf("log.html")
	ready()
	tb.says(`[data-part="list"]`, "pH 8.2")
	tb.press("erase")
	tb.press("yes")
	tb.says(`[data-part="said"]`, "Erased")
}
