package browser

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"mereleaf/calculators"
	"mereleaf/cmd/mereleaf/internal/website/units"
)

// TestRefusedIsNotKept types numbers that no pond has, puts one right, and looks at
// the record and at another calculator that asks for the same.
func TestRefusedIsNotKept(t *testing.T) {
	tb := open(t)
	tb.touch()
	tb.reckon("free-ammonia")
	tb.write("free-ammonia", "temperature", "210")
	tb.write("free-ammonia", "ph", "74")
	tb.await(fmt.Sprintf(`document.querySelectorAll(%q).length === 2`, pad("free-ammonia")+" .fault"), "pH 74 and 210 °C are not refused")
	// Nor is the 7 of 74 kept, which the calculator took on the way.
	if got := tb.kept(); got != "null" && len(facts(t, got)) > 0 {
		t.Errorf("refused and kept: %v", got)
	}
	tb.do(chromedp.Focus(chromedp.CSS(pad("free-ammonia") + " input[name=tan]")))
	tb.says(pad("free-ammonia")+" .state", "What is refused is not kept")
	tb.reckon("carbon-dioxide")
	if got := tb.text(pad("carbon-dioxide") + " .faults"); got != "" {
		t.Errorf("what was refused elsewhere comes along: %q", got)
	}

	tb.reckon("free-ammonia")
	tb.write("free-ammonia", "ph", "7,4")
	tb.reckon("carbon-dioxide")
	if got := tb.holds("carbon-dioxide", "ph"); got != "7,4" {
		t.Errorf("pH 7,4, put right, comes along as %q", got)
	}
}

// TestRefusedEarlierIsLeftOut opens calculators over a record in which an earlier
// edition kept what nobody takes, and what only some take.
func TestRefusedEarlierIsLeftOut(t *testing.T) {
	tb := open(t)
	tb.touch()
	tb.visit("terms.html")
	tb.setKept(`{"pond record":1,"facts":{"ph":"74","temperature":"12 Cel","volume":"30 L"},"typed":{}}`)
	tb.reckon("free-ammonia")
	if got := tb.holds("free-ammonia", "ph") + " " + tb.holds("free-ammonia", "temperature"); strings.Contains(got, "74") || !strings.HasSuffix(got, " 12") {
		t.Errorf("pH and temperature are %q", got)
	}
	tb.says(pad("free-ammonia")+" .state", "what was kept of “pH” is 74; expected 4 to 11")
	if got := facts(t, tb.kept()); got["ph"] != "" || got["temperature"] != "12 Cel" || got["volume"] != "30 L" {
		t.Errorf("kept is %v", got)
	}
	tb.reckon("alkalinity-use") // for ponds of 50 L and more
	if got := tb.holds("alkalinity-use", "volume"); got == "30" {
		t.Error("a volume that this calculator refuses fills its field")
	}
	if got := facts(t, tb.kept()); got["volume"] != "30 L" {
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
	tb := open(t)
	tb.touch()
	tb.record()
	tb.upload(file)
	for _, part := range says {
		tb.says(`[data-part="said"]`, part)
	}
	if got := facts(t, tb.kept()); fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("taken from the file is %v; want %v", got, want)
	}

	tb.setKept(text)
	tb.record()
	tb.await(`document.querySelector("[data-part=link]").value !== ""`, "there is no link")
	link := evaluate[string](tb, `document.querySelector("[data-part=link]").value`)
	fresh := open(t)
	fresh.touch()
	fresh.do(chromedp.Navigate(link))
	for _, part := range says {
		fresh.says(`[data-part="said"]`, part)
	}
	if got := facts(t, fresh.kept()); fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("taken from the link is %v; want %v", got, want)
	}
}

// TestDecimalComma types as the keys of many phones have it.
func TestDecimalComma(t *testing.T) {
	tb := open(t)
	tb.touch()
	given := mustFind(t, "free-ammonia").Example.Given
	for _, value := range [][2]string{{"tan", "0,5"}, {"ph", "8,4"}, {"temperature", "18,5"}} {
		given = calculators.With(given, calculators.Arg{Name: value[0], Value: strings.Replace(value[1], ",", ".", 1) + map[string]string{"tan": " mg/L", "temperature": " Cel"}[value[0]]})
	}
	tb.reckon("free-ammonia")
	for _, value := range [][2]string{{"tan", "0,5"}, {"ph", "8,4"}, {"temperature", "18,5"}} {
		tb.write("free-ammonia", value[0], value[1])
	}
	tb.main("free-ammonia", native(t, "free-ammonia", given...))

	tb.reckon("salt")
	for _, c := range [][2]string{{"1,234", "may be 1234 or 1.234"}, {"15.000", "may be 15 or 15000"}} {
		tb.write("salt", "volume", c[0])
		tb.says(pad("salt")+` [data-input="volume"] .fault`, c[1])
	}
	tb.write("salt", "volume", "1234,5")
	tb.main("salt", native(t, "salt", calculators.With(mustFind(t, "salt").Example.Given, calculators.Arg{Name: "volume", Value: "1234.5 L"})...))

	tb.reckon("fish-weight") // the cells of a row are parted by a comma too
	tb.write("fish-weight", "length", "45,5")
	fish, _ := argument(mustFind(t, "fish-weight").Example.Given, "fish")
	cells := strings.SplitN(fish, ", ", 3)
	cells[1] = "45.5 cm"
	tb.main("fish-weight", native(t, "fish-weight", calculators.With(mustFind(t, "fish-weight").Example.Given, calculators.Arg{Name: "fish", Value: strings.Join(cells, ", ")})...))
}

// TestShownNumberTypedAgain types the length that the field shows in the reader's unit
// already: 12 ft, for the 3.6 m of the example. It counts as shown, and no longer as
// the number behind it: 3.6576 × 2.2 × 1.15 m are 2,440 gal, and with 3.6 m 2,410.
func TestShownNumberTypedAgain(t *testing.T) {
	const id = "pond-volume"
	tb := open(t)
	tb.phone()
	tb.visit("reckon/" + id + ".html")
	tb.measure(units.US)
	tb.ready(id)
	if got := tb.holds(id, "length") + " " + tb.text(pad(id)+" output"); got != "12 2,410\u00a0gal\u00a0(US)" {
		t.Fatalf("the example is shown as %q", got)
	}
	tb.write(id, "length", "12")
	tb.await(fmt.Sprintf(`document.querySelector(%q).textContent === "2,440\u00a0gal\u00a0(US)"`, pad(id)+" output"), "12 ft, typed again, are not 12 ft")
	if got := facts(t, tb.kept())["pond-length"]; got != "12 [ft_i]" {
		t.Errorf("12 ft, typed again, are kept as %q", got)
	}
}

// TestUnitsThatPeopleType types units that no list beside a field offers.
func TestUnitsThatPeopleType(t *testing.T) {
	tb := open(t)
	tb.touch()
	tb.reckon("salt")
	for _, c := range [][2]string{{"5000 cups", "5000 [cup_us]"}, {"300 gal (imp)", "300 [gal_br]"}, {"40 fl oz (US)", "40 [foz_us]"}} {
		tb.write("salt", "volume", c[0])
		tb.main("salt", native(t, "salt", calculators.With(mustFind(t, "salt").Example.Given, calculators.Arg{Name: "volume", Value: c[1]})...))
	}
	tb.write("salt", "volume", "300 litters")
	tb.says(pad("salt")+` [data-input="volume"] .fault`, "is it liters or litres?")
	// A unit that the list beside the field offers goes there.
	tb.write("salt", "volume", "300 gal (imp)")
	tb.do(chromedp.Focus(chromedp.CSS(pad("salt") + " input[name=target]")))
	if got := tb.holds("salt", "volume") + " " + evaluate[string](tb, fmt.Sprintf(`document.querySelector(%q).value`, pad("salt")+` [data-input="volume"] .unit`)); got != "300 [gal_br]" {
		t.Errorf("300 gal (imp) stands as %q", got)
	}
	tb.reckon("readings")
	tb.write("readings", "kh", "3dKH")
	tb.main("readings", native(t, "readings", calculators.With(calculators.With(mustFind(t, "readings").Example.Given, calculators.Arg{Name: "kh", Value: "3"}), calculators.Arg{Name: "kh-unit", Value: "german"})...))
}
