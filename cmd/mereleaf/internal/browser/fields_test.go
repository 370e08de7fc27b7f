package browser

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"mereleaf/calculators"
)

// choose picks an option of a choice, or a unit, as a reader does.
func (tb *tab) choose(selector, value string) {
	tb.t.Helper()
	if !evaluate[bool](tb, fmt.Sprintf(`(s => (s.value = %q, s.dispatchEvent(new Event("input", {bubbles: true})), s.value === %q))(document.querySelector(%q))`, value, value, selector)) {
		tb.t.Fatalf("%s has no option %q", selector, value)
	}
}

// native is the answer that a pad must show.
func native(t *testing.T, id string, args ...calculators.Arg) calculators.View {
	t.Helper()
	v, err := mustFind(t, id).Reckon(args)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// main compares the large figure of a pad, which no part of another can match.
func (tb *tab) main(id string, want calculators.View) {
	tb.t.Helper()
	if got := tb.text(pad(id) + " output"); got != want.Values[0].Text {
		tb.t.Errorf("%s: the pad shows %q; want %q", id, got, want.Values[0].Text)
	}
}

// TestListOfFish adds a row to a list, makes a mistake in it, and takes it out.
func TestListOfFish(t *testing.T) {
	const id = "fish-weight"
	tb := open(t)
	tb.phone()
	tb.visit("reckon/" + id + ".html")
	tb.ready(id)
	before := tb.text(pad(id) + " output")
	row := func(n int) string { return fmt.Sprintf("%s .lines > .line:nth-child(%d) ", pad(id), n) }
	tb.do(chromedp.Click(chromedp.CSS(pad(id) + " .add")))
	tb.choose(row(2)+`[data-column="species"] select`, "tench")
	tb.do(chromedp.SendKeys(chromedp.CSS(row(2)+`input[name="length"]`), "35"))
	tb.do(chromedp.SendKeys(chromedp.CSS(row(2)+`input[name="count"]`), "4"))
	given, _ := argument(mustFind(t, id).Example.Given, "fish")
	tb.main(id, native(t, id, calculators.Arg{Name: "fish", Value: given + "; tench, 35 cm, 4"}))

	tb.do(chromedp.SendKeys(chromedp.CSS(row(2)+`input[name="count"]`), "x"))
	if !evaluate[bool](tb, fmt.Sprintf(`document.querySelector(%q).getAttribute("aria-invalid") === "true"`, row(2)+`input[name="count"]`)) {
		t.Error("the mistake in the second row is not marked there")
	}
	if evaluate[bool](tb, fmt.Sprintf(`!!document.querySelector(%q)`, row(1)+`[aria-invalid]`)) {
		t.Error("the mistake in the second row is marked in the first")
	}
	tb.do(chromedp.Click(chromedp.CSS(row(2) + ".remove")))
	if got := tb.text(pad(id) + " output"); got != before {
		t.Errorf("with the row taken out the pad shows %q; before it was %q", got, before)
	}
}

func argument(args []calculators.Arg, name string) (string, bool) {
	for _, a := range args {
		if a.Name == name {
			return a.Value, true
		}
	}
	return "", false
}

// TestConditionShowsTheRightFields chooses where the air pressure comes from.
func TestConditionShowsTheRightFields(t *testing.T) {
	const id = "oxygen-saturation"
	tb := open(t)
	tb.phone()
	tb.visit("reckon/" + id + ".html")
	tb.ready(id)
	hidden := func(input string) bool {
		return evaluate[bool](tb, fmt.Sprintf(`document.querySelector(%q).hidden`, pad(id)+fmt.Sprintf(` [data-input=%q]`, input)))
	}
	if hidden("altitude") || !hidden("pressure") {
		t.Error("at first the altitude must show and the barometer not")
	}
	tb.choose(pad(id)+` select[name="pressure-from"]`, "barometer")
	if !hidden("altitude") || hidden("pressure") {
		t.Error("with a barometer the pressure must show and the altitude not")
	}
	tb.write(id, "pressure", "98.5")
	args := calculators.With(calculators.With(mustFind(t, id).Example.Given, calculators.Arg{Name: "pressure-from", Value: "barometer"}), calculators.Arg{Name: "pressure", Value: "98.5 kPa"})
	var kept []calculators.Arg
	for _, a := range args {
		if a.Name != "altitude" {
			kept = append(kept, a)
		}
	}
	tb.main(id, native(t, id, kept...))
}

// TestLinkBringsNumbers opens a link with numbers in it, in a unit that is not
// the field's first.
func TestLinkBringsNumbers(t *testing.T) {
	const id = "free-ammonia"
	want := native(t, id, calculators.Arg{Name: "tan", Value: "2.25 mg/L"}, calculators.Arg{Name: "ph", Value: "7.9"}, calculators.Arg{Name: "temperature", Value: "76 [degF]"})
	for _, link := range []string{"?tan=2.25+mg%2FL&ph=7.9&temperature=76+%5BdegF%5D", "#free-ammonia?tan=2.25+mg%2FL&ph=7.9&temperature=76+%C2%B0F"} {
		tb := open(t)
		tb.phone()
		tb.visit("reckon/" + id + ".html" + link)
		tb.ready(id)
		tb.main(id, want)
		if unit := evaluate[string](tb, fmt.Sprintf(`document.querySelector(%q).value`, pad(id)+` [data-input="temperature"] select`)); unit != "[degF]" {
			t.Errorf("%s: the unit beside the temperature is %q", link, unit)
		}
	}
}

// TestUnits changes the unit beside a number, which must keep the number, and
// writes another one into the field, which must count.
func TestUnits(t *testing.T) {
	const id = "free-ammonia"
	args := func(temperature string) []calculators.Arg {
		return calculators.With(mustFind(t, id).Example.Given, calculators.Arg{Name: "temperature", Value: temperature})
	}
	tb := open(t)
	tb.phone()
	tb.visit("reckon/" + id + ".html")
	tb.ready(id)
	tb.write(id, "temperature", "45")
	tb.choose(pad(id)+` [data-input="temperature"] select`, "[degF]")
	tb.main(id, native(t, id, args("45 [degF]")...))
	tb.write(id, "temperature", "18 °C")
	tb.main(id, native(t, id, args("18 Cel")...))
}

// TestOldAnswerIsMarked makes a mistake and corrects it.
func TestOldAnswerIsMarked(t *testing.T) {
	const id = "free-ammonia"
	tb := open(t)
	tb.phone()
	tb.visit("reckon/" + id + ".html")
	tb.ready(id)
	tb.do(chromedp.Click(chromedp.CSS(pad(id) + " .working summary")))
	old := tb.text(pad(id) + " output")
	marked := func() bool {
		return evaluate[bool](tb, fmt.Sprintf(`document.querySelector(%q).classList.contains("old")`, pad(id)+" .answer"))
	}
	tb.write(id, "ph", "19")
	if got := tb.text(pad(id) + " output"); got != old || !marked() {
		t.Errorf("with a mistake in the pH the pad shows %q, marked as old: %v; want %q, marked", got, marked(), old)
	}
	if said := tb.text(pad(id) + " .faults"); !strings.Contains(said, "ph") || !strings.Contains(said, "Not updated") {
		t.Errorf("the pad says %q of the mistake", said)
	}
	tb.write(id, "ph", "7.5")
	if said := tb.text(pad(id) + " .faults"); said != "" || marked() {
		t.Errorf("after the correction the pad still says %q, marked as old: %v", said, marked())
	}
	if n := evaluate[int](tb, fmt.Sprintf(`document.querySelectorAll(%q).length`, pad(id)+" [aria-invalid], "+pad(id)+" .fault")); n != 0 {
		t.Errorf("after the correction %d marks of the mistake are left", n)
	}
	if !evaluate[bool](tb, fmt.Sprintf(`document.querySelector(%q).open`, pad(id)+" .working")) {
		t.Error("a new answer has closed the working that the reader had opened")
	}
	if n := evaluate[int](tb, fmt.Sprintf(`[...document.querySelectorAll(%q)].filter(a => !a.getAttribute("href").startsWith("../sources.html#")).length`, pad(id)+" .limits a")); n != 0 {
		t.Errorf("%d limits of the new answer do not lead to their sources", n)
	}
}
