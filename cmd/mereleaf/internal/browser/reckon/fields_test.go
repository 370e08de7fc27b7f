package reckon

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"mereleaf/calculators"
	"mereleaf/cmd/mereleaf/internal/browser/browsertest"
)

// TestListOfFish adds a row to a list, makes a mistake in it, and takes it out.
func TestListOfFish(t *testing.T) {
	const id = "fish-weight"
	tb := browser.Open(t)
	tb.Phone()
	tb.Visit("reckon/" + id + ".html")
	tb.Ready(id)
	before := tb.Text(browsertest.Pad(id) + " output")
	row := func(n int) string { return fmt.Sprintf("%s .lines > .line:nth-child(%d) ", browsertest.Pad(id), n) }
	tb.Do(chromedp.Click(chromedp.CSS(browsertest.Pad(id) + " .add")))
	tb.Choose(row(2)+`[data-column="species"] select`, "tench")
	tb.Do(chromedp.SendKeys(chromedp.CSS(row(2)+`input[name="length"]`), "35"))
	tb.Do(chromedp.SendKeys(chromedp.CSS(row(2)+`input[name="count"]`), "4"))
	given, _ := browsertest.Argument(browsertest.Calculator(t, id).Example.Given, "fish")
	tb.Figure(id, browsertest.Answer(t, id, calculators.Arg{Name: "fish", Value: given + "; tench, 35 cm, 4"}))

	tb.Do(chromedp.SendKeys(chromedp.CSS(row(2)+`input[name="count"]`), "x"))
	if !browsertest.Evaluate[bool](tb, fmt.Sprintf(`document.querySelector(%q).getAttribute("aria-invalid") === "true"`, row(2)+`input[name="count"]`)) {
		t.Error("the mistake in the second row is not marked there")
	}
	if browsertest.Evaluate[bool](tb, fmt.Sprintf(`!!document.querySelector(%q)`, row(1)+`[aria-invalid]`)) {
		t.Error("the mistake in the second row is marked in the first")
	}
	tb.Do(chromedp.Click(chromedp.CSS(row(2) + ".remove")))
	if got := tb.Text(browsertest.Pad(id) + " output"); got != before {
		t.Errorf("with the row taken out the pad shows %q; before it was %q", got, before)
	}
}

// TestConditionShowsTheRightFields chooses where the air pressure comes from.
func TestConditionShowsTheRightFields(t *testing.T) {
	const id = "oxygen-saturation"
	tb := browser.Open(t)
	tb.Phone()
	tb.Visit("reckon/" + id + ".html")
	tb.Ready(id)
	hidden := func(input string) bool {
		return browsertest.Evaluate[bool](tb, fmt.Sprintf(`document.querySelector(%q).hidden`, browsertest.Pad(id)+fmt.Sprintf(` [data-input=%q]`, input)))
	}
	if hidden("altitude") || !hidden("pressure") {
		t.Error("at first the altitude must show and the barometer not")
	}
	tb.Choose(browsertest.Pad(id)+` select[name="pressure-from"]`, "barometer")
	if !hidden("altitude") || hidden("pressure") {
		t.Error("with a barometer the pressure must show and the altitude not")
	}
	tb.Write(id, "pressure", "98.5")
	args := calculators.With(calculators.With(browsertest.Calculator(t, id).Example.Given, calculators.Arg{Name: "pressure-from", Value: "barometer"}), calculators.Arg{Name: "pressure", Value: "98.5 kPa"})
	var kept []calculators.Arg
	for _, a := range args {
		if a.Name != "altitude" {
			kept = append(kept, a)
		}
	}
	tb.Figure(id, browsertest.Answer(t, id, kept...))
}

// TestLinkBringsNumbers opens a link with numbers in it, in a unit that is not
// the field's first.
func TestLinkBringsNumbers(t *testing.T) {
	const id = "free-ammonia"
	want := browsertest.Answer(t, id, calculators.Arg{Name: "tan", Value: "2.25 mg/L"}, calculators.Arg{Name: "ph", Value: "7.9"}, calculators.Arg{Name: "temperature", Value: "76 [degF]"})
	for _, link := range []string{"?tan=2.25+mg%2FL&ph=7.9&temperature=76+%5BdegF%5D", "#free-ammonia?tan=2.25+mg%2FL&ph=7.9&temperature=76+%C2%B0F"} {
		tb := browser.Open(t)
		tb.Phone()
		tb.Visit("reckon/" + id + ".html" + link)
		tb.Ready(id)
		tb.Figure(id, want)
		if unit := browsertest.Evaluate[string](tb, fmt.Sprintf(`document.querySelector(%q).value`, browsertest.Pad(id)+` [data-input="temperature"] select`)); unit != "[degF]" {
			t.Errorf("%s: the unit beside the temperature is %q", link, unit)
		}
	}
}

// TestUnits changes the unit beside a number, which must keep the number, and
// writes another one into the field, which must count.
func TestUnits(t *testing.T) {
	const id = "free-ammonia"
	args := func(temperature string) []calculators.Arg {
		return calculators.With(browsertest.Calculator(t, id).Example.Given, calculators.Arg{Name: "temperature", Value: temperature})
	}
	tb := browser.Open(t)
	tb.Phone()
	tb.Visit("reckon/" + id + ".html")
	tb.Ready(id)
	tb.Write(id, "temperature", "45")
	tb.Choose(browsertest.Pad(id)+` [data-input="temperature"] select`, "[degF]")
	tb.Figure(id, browsertest.Answer(t, id, args("45 [degF]")...))
	tb.Write(id, "temperature", "18 °C")
	tb.Figure(id, browsertest.Answer(t, id, args("18 Cel")...))
}

// TestOldAnswerIsMarked makes a mistake and corrects it.
func TestOldAnswerIsMarked(t *testing.T) {
	const id = "free-ammonia"
	tb := browser.Open(t)
	tb.Phone()
	tb.Visit("reckon/" + id + ".html")
	tb.Ready(id)
	tb.Do(chromedp.Click(chromedp.CSS(browsertest.Pad(id) + " .working summary")))
	old := tb.Text(browsertest.Pad(id) + " output")
	marked := func() bool {
		return browsertest.Evaluate[bool](tb, fmt.Sprintf(`document.querySelector(%q).classList.contains("old")`, browsertest.Pad(id)+" .answer"))
	}
	tb.Write(id, "ph", "19")
	if got := tb.Text(browsertest.Pad(id) + " output"); got != old || !marked() {
		t.Errorf("with a mistake in the pH the pad shows %q, marked as old: %v; want %q, marked", got, marked(), old)
	}
	if said := tb.Text(browsertest.Pad(id) + " .faults"); !strings.Contains(said, "ph") || !strings.Contains(said, "Not updated") {
		t.Errorf("the pad says %q of the mistake", said)
	}
	tb.Write(id, "ph", "7.5")
	if said := tb.Text(browsertest.Pad(id) + " .faults"); said != "" || marked() {
		t.Errorf("after the correction the pad still says %q, marked as old: %v", said, marked())
	}
	if n := browsertest.Evaluate[int](tb, fmt.Sprintf(`document.querySelectorAll(%q).length`, browsertest.Pad(id)+" [aria-invalid], "+browsertest.Pad(id)+" .fault")); n != 0 {
		t.Errorf("after the correction %d marks of the mistake are left", n)
	}
	if !browsertest.Evaluate[bool](tb, fmt.Sprintf(`document.querySelector(%q).open`, browsertest.Pad(id)+" .working")) {
		t.Error("a new answer has closed the working that the reader had opened")
	}
	if n := browsertest.Evaluate[int](tb, fmt.Sprintf(`[...document.querySelectorAll(%q)].filter(a => !a.getAttribute("href").startsWith("../sources.html#")).length`, browsertest.Pad(id)+" .limits a")); n != 0 {
		t.Errorf("%d limits of the new answer do not lead to their sources", n)
	}
}
