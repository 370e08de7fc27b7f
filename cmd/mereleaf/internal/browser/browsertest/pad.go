package browsertest

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"mereleaf/calculators"
	"mereleaf/calculators/pondtest"
)

// Pad is the selector of the form of a calculator.
func Pad(id string) string { return fmt.Sprintf(`form[data-calculator=%q]`, id) }

// Ready waits until the module has been loaded and the fields accept typing.
func (tb *Tab) Ready(id string) {
	tb.T.Helper()
	tb.Await(fmt.Sprintf(`(form => {
		form?.scrollIntoView({behavior: "instant"})
		return form?.querySelector("fieldset.given").disabled === false
	})(document.querySelector(%q))`, Pad(id)), id+" does not get ready")
}

// Write replaces what a field of a pad holds, key by key.
func (tb *Tab) Write(id, input, value string) {
	tb.T.Helper()
	field := Pad(id) + fmt.Sprintf(` input[name=%q]`, input)
	Evaluate[bool](tb, fmt.Sprintf(`(document.querySelector(%q).value = "", true)`, field))
	tb.Do(chromedp.SendKeys(chromedp.CSS(field), value))
}

// Shows compares every displayed value of a pad with a native answer.
func (tb *Tab) Shows(id string, want calculators.View) {
	tb.T.Helper()
	text := tb.Text(Pad(id) + " .answer")
	for _, v := range want.Values {
		if !strings.Contains(text, v.Text) {
			tb.T.Errorf("%s: the page does not show %s %q; it shows %q", id, v.Name, v.Text, text)
		}
	}
}

// ReckonAll lets the module reckon the worked example of each calculator.
func (tb *Tab) ReckonAll(all []calculators.Calculator) {
	tb.T.Helper()
	for _, c := range all {
		tb.Visit("reckon/" + c.ID + ".html")
		tb.Ready(c.ID)
		// What stands there is emptied first, so that only the module can fill it.
		Evaluate[bool](tb, fmt.Sprintf(`(document.querySelector(%q).textContent = "", document.querySelector(%q).dispatchEvent(new Event("input", {bubbles: true})))`,
			Pad(c.ID)+" .answer", Pad(c.ID)+" input, "+Pad(c.ID)+" select"))
		want, err := c.Reckon(c.Example.Given)
		if err != nil {
			tb.T.Fatal(err)
		}
		tb.Shows(c.ID, want)
	}
}

// Calculator is the calculator of an ID, its example about the handbook's ponds.
func Calculator(t testing.TB, id string) calculators.Calculator {
	t.Helper()
	c, ok := pondtest.All(t).Find(id)
	if !ok {
		t.Fatalf("no calculator %s", id)
	}
	return c
}

// Choose picks an option of a choice, or a unit, as a reader does.
func (tb *Tab) Choose(selector, value string) {
	tb.T.Helper()
	if !Evaluate[bool](tb, fmt.Sprintf(`(s => (s.value = %q, s.dispatchEvent(new Event("input", {bubbles: true})), s.value === %q))(document.querySelector(%q))`, value, value, selector)) {
		tb.T.Fatalf("%s has no option %q", selector, value)
	}
}

// Answer is the answer that a pad must show.
func Answer(t testing.TB, id string, args ...calculators.Arg) calculators.View {
	t.Helper()
	v, err := Calculator(t, id).Reckon(args)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Figure compares the large figure of a pad, which no part of another can match.
func (tb *Tab) Figure(id string, want calculators.View) {
	tb.T.Helper()
	if got := tb.Text(Pad(id) + " output"); got != want.Values[0].Text {
		tb.T.Errorf("%s: the pad shows %q; want %q", id, got, want.Values[0].Text)
	}
}

// Argument is what is given for an input.
func Argument(args []calculators.Arg, name string) (string, bool) {
	for _, a := range args {
		if a.Name == name {
			return a.Value, true
		}
	}
	return "", false
}

// Reckon opens the leaf of a calculator and waits until it reckons.
func (tb *Tab) Reckon(id string) {
	tb.T.Helper()
	tb.Visit("reckon/" + id + ".html")
	tb.Ready(id)
}

// Holds is what a field of a pad holds.
func (tb *Tab) Holds(id, input string) string {
	tb.T.Helper()
	return Evaluate[string](tb, fmt.Sprintf(`document.querySelector(%q).value`, Pad(id)+fmt.Sprintf(` [data-input=%q] [name]`, input)))
}

// Start touches the button of a ready scenario.
func (tb *Tab) Start(id, name string) {
	tb.T.Helper()
	Evaluate[bool](tb, fmt.Sprintf(`([...document.querySelectorAll(%q)].find(b => b.textContent === %q).dataset.wanted = "", true)`, Pad(id)+" [data-ready]", name))
	tb.Do(chromedp.Click(chromedp.CSS(Pad(id) + " [data-wanted]")))
	Evaluate[bool](tb, fmt.Sprintf(`(delete document.querySelector(%q).dataset.wanted, true)`, Pad(id)+" [data-wanted]"))
	if note := tb.Text(Pad(id) + " .whose"); !strings.HasPrefix(note, name+". ") {
		tb.T.Errorf("started from %s, the pad says %q of its numbers", name, note)
	}
}
