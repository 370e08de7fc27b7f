package record

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"mereleaf/calculators"
	"mereleaf/cmd/mereleaf/internal/browser/browsertest"
	"mereleaf/cmd/mereleaf/internal/website/units"
)

// TestRefusedIsNotKept types numbers that no pond has, puts one right, and looks at
// the record and at another calculator that asks for the same.
func TestRefusedIsNotKept(t *testing.T) {
	tb := browser.Open(t)
	tb.Touch()
	tb.Reckon("free-ammonia")
	tb.Write("free-ammonia", "temperature", "210")
	tb.Write("free-ammonia", "ph", "74")
	tb.Await(fmt.Sprintf(`document.querySelectorAll(%q).length === 2`, browsertest.Pad("free-ammonia")+" .fault"), "pH 74 and 210 °C are not refused")
	// Nor is the 7 of 74 kept, which the calculator took on the way.
	if got := tb.Kept(); got != "null" && len(browsertest.Facts(t, got)) > 0 {
		t.Errorf("refused and kept: %v", got)
	}
	tb.Do(chromedp.Focus(chromedp.CSS(browsertest.Pad("free-ammonia") + " input[name=tan]")))
	tb.Says(browsertest.Pad("free-ammonia")+" .state", "What is refused is not kept")
	tb.Reckon("carbon-dioxide")
	if got := tb.Text(browsertest.Pad("carbon-dioxide") + " .faults"); got != "" {
		t.Errorf("what was refused elsewhere comes along: %q", got)
	}

	tb.Reckon("free-ammonia")
	tb.Write("free-ammonia", "ph", "7,4")
	tb.Reckon("carbon-dioxide")
	if got := tb.Holds("carbon-dioxide", "ph"); got != "7,4" {
		t.Errorf("pH 7,4, put right, comes along as %q", got)
	}
}

// TestRefusedEarlierIsLeftOut opens calculators over a record in which an earlier
// edition kept what nobody takes, and what only some take.
func TestRefusedEarlierIsLeftOut(t *testing.T) {
	tb := browser.Open(t)
	tb.Touch()
	tb.Visit("terms.html")
	tb.SetKept(`{"pond record":1,"facts":{"ph":"74","temperature":"12 Cel","volume":"30 L"},"typed":{}}`)
	tb.Reckon("free-ammonia")
	if got := tb.Holds("free-ammonia", "ph") + " " + tb.Holds("free-ammonia", "temperature"); strings.Contains(got, "74") || !strings.HasSuffix(got, " 12") {
		t.Errorf("pH and temperature are %q", got)
	}
	tb.Says(browsertest.Pad("free-ammonia")+" .state", "what was kept of “pH” is 74; expected 4 to 11")
	if got := browsertest.Facts(t, tb.Kept()); got["ph"] != "" || got["temperature"] != "12 Cel" || got["volume"] != "30 L" {
		t.Errorf("kept is %v", got)
	}
	tb.Reckon("alkalinity-use") // for ponds of 50 L and more
	if got := tb.Holds("alkalinity-use", "volume"); got == "30" {
		t.Error("a volume that this calculator refuses fills its field")
	}
	if got := browsertest.Facts(t, tb.Kept()); got["volume"] != "30 L" {
		t.Errorf("what other calculators take is gone: %v", got)
	}
}

// TestRecordIsCheckedBeforeItIsTaken reads a file and a link of which some values are
// no pond's.
func TestRecordIsCheckedBeforeItIsTaken(t *testing.T) {
	const text = `{"pond record":1,"facts":{"volume":"javascript:alert(1)","ph":"74","temperature":"<b>12</b> Cel","fish":"koi, 45 cm, 3; koi, 9 m, 2","nitrite":"0,7 mg/L","kh-degrees":"5"}}`
	want := map[string]string{"nitrite": "0,7 mg/L", "kh-degrees": "5"}
	says := []string{"2 facts", "volume: “javascript", "ph: is 74; expected 4 to 11", "temperature: “<b>12</b> Cel” is not a number", "fish: is 9\u00a0m in row 2, length; expected"}
	for i := range says {
		says[i] = strings.NewReplacer("“", `"`, "”", `"`).Replace(says[i])
	}
	file := filepath.Join(t.TempDir(), "a.json")
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	tb := browser.Open(t)
	tb.Touch()
	tb.Record()
	tb.Upload(file)
	for _, part := range says {
		tb.Says(`[data-part="said"]`, part)
	}
	if got := browsertest.Facts(t, tb.Kept()); fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("taken from the file is %v; want %v", got, want)
	}

	tb.SetKept(text)
	tb.Record()
	tb.Await(`document.querySelector("[data-part=link]").value !== ""`, "there is no link")
	link := browsertest.Evaluate[string](tb, `document.querySelector("[data-part=link]").value`)
	fresh := browser.Open(t)
	fresh.Touch()
	fresh.Do(chromedp.Navigate(link))
	for _, part := range says {
		fresh.Says(`[data-part="said"]`, part)
	}
	if got := browsertest.Facts(t, fresh.Kept()); fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("taken from the link is %v; want %v", got, want)
	}
}

// TestDecimalComma types as the keys of many phones have it.
func TestDecimalComma(t *testing.T) {
	tb := browser.Open(t)
	tb.Touch()
	given := browsertest.Calculator(t, "free-ammonia").Example.Given
	for _, value := range [][2]string{{"tan", "0,5"}, {"ph", "8,4"}, {"temperature", "18,5"}} {
		given = calculators.With(given, calculators.Arg{Name: value[0], Value: strings.Replace(value[1], ",", ".", 1) + map[string]string{"tan": " mg/L", "temperature": " Cel"}[value[0]]})
	}
	tb.Reckon("free-ammonia")
	for _, value := range [][2]string{{"tan", "0,5"}, {"ph", "8,4"}, {"temperature", "18,5"}} {
		tb.Write("free-ammonia", value[0], value[1])
	}
	tb.Figure("free-ammonia", browsertest.Answer(t, "free-ammonia", given...))

	tb.Reckon("salt")
	for _, c := range [][2]string{{"1,234", "may be 1234 or 1.234"}, {"15.000", "may be 15 or 15000"}} {
		tb.Write("salt", "volume", c[0])
		tb.Says(browsertest.Pad("salt")+` [data-input="volume"] .fault`, c[1])
	}
	tb.Write("salt", "volume", "1234,5")
	tb.Figure("salt", browsertest.Answer(t, "salt", calculators.With(browsertest.Calculator(t, "salt").Example.Given, calculators.Arg{Name: "volume", Value: "1234.5 L"})...))

	tb.Reckon("fish-weight") // the cells of a row are parted by a comma too
	tb.Write("fish-weight", "length", "45,5")
	fish, _ := browsertest.Argument(browsertest.Calculator(t, "fish-weight").Example.Given, "fish")
	cells := strings.SplitN(fish, ", ", 3)
	cells[1] = "45.5 cm"
	tb.Figure("fish-weight", browsertest.Answer(t, "fish-weight", calculators.With(browsertest.Calculator(t, "fish-weight").Example.Given, calculators.Arg{Name: "fish", Value: strings.Join(cells, ", ")})...))
}

// TestShownNumberTypedAgain types the length that the field shows in the reader's unit
// already: 12 ft, for the 3.6 m of the example. It counts as shown, and no longer as
// the number behind it: 3.6576 × 2.2 × 1.15 m are 2,440 gal, and with 3.6 m 2,410.
func TestShownNumberTypedAgain(t *testing.T) {
	const id = "pond-volume"
	tb := browser.Open(t)
	tb.Phone()
	tb.Visit("reckon/" + id + ".html")
	tb.Measure(units.US)
	tb.Ready(id)
	if got := tb.Holds(id, "length") + " " + tb.Text(browsertest.Pad(id)+" output"); got != "12 2,410\u00a0gal\u00a0(US)" {
		t.Fatalf("the example is shown as %q", got)
	}
	tb.Write(id, "length", "12")
	tb.Await(fmt.Sprintf(`document.querySelector(%q).textContent === "2,440\u00a0gal\u00a0(US)"`, browsertest.Pad(id)+" output"), "12 ft, typed again, are not 12 ft")
	if got := browsertest.Facts(t, tb.Kept())["pond-length"]; got != "12 [ft_i]" {
		t.Errorf("12 ft, typed again, are kept as %q", got)
	}
}

// TestUnitsThatPeopleType types units that no list beside a field offers.
func TestUnitsThatPeopleType(t *testing.T) {
	tb := browser.Open(t)
	tb.Touch()
	tb.Reckon("salt")
	for _, c := range [][2]string{{"5000 cups", "5000 [cup_us]"}, {"300 gal (imp)", "300 [gal_br]"}, {"40 fl oz (US)", "40 [foz_us]"}} {
		tb.Write("salt", "volume", c[0])
		tb.Figure("salt", browsertest.Answer(t, "salt", calculators.With(browsertest.Calculator(t, "salt").Example.Given, calculators.Arg{Name: "volume", Value: c[1]})...))
	}
	tb.Write("salt", "volume", "300 litters")
	tb.Says(browsertest.Pad("salt")+` [data-input="volume"] .fault`, "is it liters or litres?")
	// A unit that the list beside the field offers goes there.
	tb.Write("salt", "volume", "300 gal (imp)")
	tb.Do(chromedp.Focus(chromedp.CSS(browsertest.Pad("salt") + " input[name=target]")))
	if got := tb.Holds("salt", "volume") + " " + browsertest.Evaluate[string](tb, fmt.Sprintf(`document.querySelector(%q).value`, browsertest.Pad("salt")+` [data-input="volume"] .unit`)); got != "300 [gal_br]" {
		t.Errorf("300 gal (imp) stands as %q", got)
	}
	tb.Reckon("readings")
	tb.Write("readings", "kh", "3dKH")
	tb.Figure("readings", browsertest.Answer(t, "readings", calculators.With(calculators.With(browsertest.Calculator(t, "readings").Example.Given, calculators.Arg{Name: "kh", Value: "3"}), calculators.Arg{Name: "kh-unit", Value: "german"})...))
}

// Inputs that were called pond once: an old link still fills them, and so does a
// record that an earlier edition kept.
func TestEarlierNamesAreRead(t *testing.T) {
	tb := browser.Open(t)
	tb.Touch()
	tb.Visit("reckon/chlorine.html?new-water=500+L&pond=8765+L")
	tb.Ready("chlorine")
	if got := tb.Holds("chlorine", "volume"); got != "8765" {
		t.Errorf("the link's pond=8765 L shows as %q", got)
	}
	tb.SetKept(`{"pond record":1,"facts":{"new-fish.pond":"17 Cel","tower.pond":"ellipse"}}`)
	tb.Reckon("new-fish")
	if got := tb.Holds("new-fish", "pond-temperature"); got != "17" {
		t.Errorf("the kept new-fish.pond shows as %q", got)
	}
	tb.Reckon("tower")
	if got := tb.Holds("tower", "volume-from"); got != "ellipse" {
		t.Errorf("the kept tower.pond shows as %q", got)
	}
}
