package log

import (
	"encoding/csv"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"mereleaf/calculators/catalog"
	"mereleaf/cmd/mereleaf/internal/browser/browsertest"
	"mereleaf/cmd/mereleaf/internal/ponds/logfile"
)

// TestLogRoundTrip logs 200 readings through the form, reloads, saves them in
// both kinds of file, erases them, and reads each file back.
func TestLogRoundTrip(t *testing.T) {
	tb := browser.Open(t)
	tb.Touch()
	openLog(tb)
	tb.Choose(`[data-part="span"]`, "30") // or every reading would be drawn again at each of the next
	browsertest.Evaluate[bool](tb, `(async () => {
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
			while (!said.textContent) await new Promise(r => setTimeout(r, 5));
			if (!said.textContent.startsWith("Saved: ")) throw new Error(i + ": " + said.textContent);
			said.replaceChildren();
		}
		return true;
	})()`)
	before := logged(tb)
	if len(before) != 200 {
		t.Fatalf("%d readings are kept; want 200", len(before))
	}
	openLog(tb)
	if got := browsertest.Evaluate[int](tb, `document.querySelectorAll('[data-chart="ph"] circle').length`); got != 200 {
		t.Errorf("after the reload the chart of pH has %d readings", got)
	}
	for _, button := range []string{"json", "csv"} {
		extension := "." + button
		text := exports(tb, button, extension)
		if extension == ".csv" {
			checkCSV(t, text)
		} else {
			checkJSON(t, text)
		}
		tb.Press("erase")
		tb.Press("no")
		if n := len(logged(tb)); n != 200 {
			t.Fatalf("erased although the reader said no: %d", n)
		}
		tb.Press("erase")
		tb.Press("yes")
		tb.Says(`[data-part="said"]`, "Erased: no reading is kept")
		if n := len(logged(tb)); n != 0 {
			t.Fatalf("after erasing, %d readings are kept", n)
		}
		importLog(tb, "log"+extension, text)
		tb.Says(`[data-part="said"]`, "200 readings")
		if after := logged(tb); !slices.Equal(after, before) {
			for i := range min(len(after), len(before)) {
				if after[i] != before[i] {
					t.Fatalf("%s: reading %d is %s; it was %s", extension, i, after[i], before[i])
				}
			}
			t.Fatalf("%s: %d readings; want 200", extension, len(after))
		}
		importLog(tb, "again"+extension, text)
		tb.Says(`[data-part="said"]`, "200 readings of it were here already and were not doubled")
	}
}

// checkJSON reads a file as the handbook reads the logs of its own ponds.
func checkJSON(t *testing.T, text string) {
	t.Helper()
	c, _ := catalog.All().Find("readings")
	all, faults := logfile.Read("log.json", []byte(text), c)
	if len(all) != 200 || len(faults) > 0 {
		t.Fatalf("%d readings in the JSON; faults %v", len(all), faults)
	}
	if facts := all[1].Facts; facts["ammonia"] != "0.25 mg/L" || facts["ph"] != "7.5" || facts["temperature"] != "17 Cel" || facts["ammonia-kit"] == "" {
		t.Errorf("the second reading states %v", facts)
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
	tb := browser.Open(t)
	tb.Touch()
	openLog(tb)
	importLog(tb, "own.csv", "date,tan [mg/L],ph [pH],temperature [[degF]],nitrite [g/L]\n2025-07-12T07:05+02:00,1.5,8.2,72,0.0005\n")
	tb.Says(`[data-part="said"]`, "1 reading.")
	before := logged(tb)
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
		importLog(tb, c.name, c.text)
		tb.Says(`[data-part="said"]`, c.says)
		if !slices.Equal(logged(tb), before) {
			t.Fatalf("%s has changed what is kept", c.name)
		}
	}

	// The good rows are taken, the bad ones reported by number, none doubled.
	importLog(tb, "mixed.csv", strings.Join([]string{
		"date,tan [mg/L],ph [pH],nitrite-basis,nitrite [mg/L],moat [m],note",
		"2025-07-12T07:05+02:00,1.5,8.2,,,,other numbers at a time that is here",
		"31/31/2025,1,8,,,,",
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
		tb.Says(`[data-part="said"]`, want)
	}
	for _, want := range []string{
		"Row 3: the date is “31/31/2025”; expected year, month, day", "Row 4: the date is “2025-02-30T07:00Z”", "Row 5: tan is “lots”; expected a number from 0\u00a0mg/L to 100\u00a0mg/L",
		"Row 6: ph is 14; expected a number from 4 to 11", "Row 7: nitrite-basis is “as-no5”; expected as-n, as-no2", "Row 10: holds no reading", "Row 13: has 8 cells; expected 7", "Row 14: has a quote that is not closed",
	} {
		tb.Says(`[data-part="rows"]`, want)
	}
	if n := len(logged(tb)); n != 4 {
		t.Errorf("%d readings are kept; want 4: %q", n, logged(tb))
	}
	if text := exports(tb, "bad", ".csv"); strings.Count(text, "\r\n") != 9 || !strings.Contains(text, "lots") || !strings.Contains(text, "fault") {
		t.Errorf("the file of the rows not taken is %q", text)
	}
	tb.Press("back")
	tb.Says(`[data-part="said"]`, "as they were before")
	if !slices.Equal(logged(tb), before) {
		t.Errorf("the import is not taken back: %q", logged(tb))
	}
	// Trends: the readings lie on a line, jump to and fro, and stay.
	importLog(tb, "trend.csv", "date,temperature [Cel],kh [1],nitrate [mg/L]\n2025-09-01T07:00Z,10,100,20\n2025-09-02T07:00Z,12,120,20\n2025-09-03T07:00Z,14,100,20\n2025-09-04T07:00Z,16,120,20\n2025-09-05T07:00Z,18,100,20\n")
	tb.Says(`[data-chart="temperature"]`, "A straight line through the last 5 readings rises from 10\u00a0°C to 18\u00a0°C in 4 days.")
	tb.Says(`[data-chart="kh"]`, "No clear trend")
	tb.Says(`[data-chart="nitrate"]`, "Lowest 20\u00a0mg/L, highest 20\u00a0mg/L, last 20\u00a0mg/L on 5 Sept 2025. The last 5 readings are the same.")
	// What was dangerous and was not tested again still counts.
	today := tb.Now().UTC()
	importLog(tb, "open.csv", fmt.Sprintf("date,chlorine [mg/L],ph [pH]\n%s,0.05,8\n%s,,8\n", today.Add(-48*time.Hour).Format(time.RFC3339), today.Add(-time.Minute).Format(time.RFC3339)))
	tb.Says(`[data-part="due"]`, "Your next test was due by ")
	tb.Says(`[data-part="open"]`, "Total chlorine 0.05\u00a0mg/L (danger now)")
	tb.Press("back")
	importLog(tb, "semicolons.csv", "date;ph [pH]\n2025-07-12 07:05+02:00;8,25;9\n")
	tb.Says(`[data-part="rows"]`, "Row 2: has 3 cells; expected 2")
	for _, button := range []string{"erase", "yes"} {
		tb.Press(button)
	}
	tb.Says(`[data-part="said"]`, "Erased")
	// As a spreadsheet of another country writes it.
	importLog(tb, "semicolons.csv", "\uFEFFdate;ph [pH];kh [1];kh-unit\n2025-08-01 07:00;8,25;7,5;german\n")
	if got := logged(tb); len(got) != 1 || !strings.Contains(got[0], `"kh":7.5,"ph":8.25`) {
		t.Errorf("taken is %q", got)
	}
}
