package browsertest

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"
)

// Record opens the leaf of the pond record.
func (tb *Tab) Record() {
	tb.T.Helper()
	tb.Visit("record.html")
	tb.Do(chromedp.WaitVisible(chromedp.CSS(`[data-part="export"]`)))
}

// Press touches a button of the leaf of the record, or of the log.
func (tb *Tab) Press(name string) {
	tb.T.Helper()
	// What was done before may still be moving the leaf, and the click would miss.
	Evaluate[bool](tb, fmt.Sprintf(`new Promise((done) => {
		let last = 0, still = 0
		const look = () => {
			const top = document.querySelector('[data-do=%q]')?.getBoundingClientRect().top ?? 0
			still = top === last ? still + 1 : 0
			last = top
			still > 3 ? done(true) : setTimeout(look, 20)
		}
		look()
	})`, name))
	tb.Do(chromedp.Click(chromedp.CSS(fmt.Sprintf(`[data-do=%q]`, name))))
}

// Kept is the text behind the record's key, "null" without one.
func (tb *Tab) Kept() string {
	tb.T.Helper()
	return Evaluate[string](tb, `String(localStorage.getItem("pond record `+Base+`"))`)
}

// SetKept puts a text behind the record's key.
func (tb *Tab) SetKept(text string) {
	tb.T.Helper()
	Evaluate[bool](tb, fmt.Sprintf(`(localStorage.setItem("pond record `+Base+`", %q), true)`, text))
}

// Facts reads a record as another program would.
func Facts(t testing.TB, text string) map[string]string {
	t.Helper()
	var record struct {
		Version int               `json:"pond record"`
		Facts   map[string]string `json:"facts"`
	}
	if err := json.Unmarshal([]byte(text), &record); err != nil || record.Version != 1 {
		t.Fatalf("%v: version %d of %s", err, record.Version, text)
	}
	return record.Facts
}

// FillPond types into two calculators, and returns the facts that are kept then.
func (tb *Tab) FillPond() map[string]string {
	tb.T.Helper()
	tb.Reckon("nitrite")
	tb.Write("nitrite", "volume", "2400")
	tb.Choose(Pad("nitrite")+` [data-input="volume"] select.unit`, "[gal_br]")
	tb.Write("nitrite", "reading", "0.7")
	tb.Reckon("fish-weight")
	tb.Do(chromedp.Click(chromedp.CSS(Pad("fish-weight") + " .add")))
	row := Pad("fish-weight") + " .lines > .line:nth-child(2) "
	tb.Choose(row+`[data-column="species"] select`, "tench")
	tb.Do(chromedp.SendKeys(chromedp.CSS(row+`input[name="length"]`), "35"))
	tb.Do(chromedp.SendKeys(chromedp.CSS(row+`input[name="count"]`), "4"))
	given, _ := Argument(Calculator(tb.T, "fish-weight").Example.Given, "fish")
	return map[string]string{"volume": "2400 [gal_br]", "nitrite": "0.7 mg/L", "fish": given + "; tench, 35 cm, 4"}
}

// Downloaded waits for a file that the tab saves, and returns its text.
func (tb *Tab) Downloaded(file string) string {
	tb.T.Helper()
	var text []byte
	if !tb.Until(func() bool {
		var err error
		text, err = os.ReadFile(file)
		return err == nil && len(text) > 0
	}) {
		tb.T.Fatalf("%s has not been saved", filepath.Base(file))
	}
	return string(text)
}

// Upload has the leaf of the record, or of the log, read a file.
func (tb *Tab) Upload(file string) {
	tb.T.Helper()
	tb.Do(chromedp.SetUploadFiles(chromedp.CSS(`[data-part="import"]`), []string{file}))
}
