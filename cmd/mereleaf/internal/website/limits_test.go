package website

import (
	"strings"
	"testing"

	"mereleaf/calculators"
	"mereleaf/calculators/answer"
	"mereleaf/calculators/catalog"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/quantity"
	"mereleaf/calculators/readings"
	"mereleaf/cmd/mereleaf/internal/terminal"
)

// drawn has, for each reading that a calculator draws a scale of, that calculator
// and a question that is answered with the scale.
func drawn() map[limits.Reading]string {
	return map[limits.Reading]string{
		limits.Oxygen: "oxygen-saturation temperature=20 Cel", limits.Ammonia: "free-ammonia tan=1 mg/L;ph=8;temperature=20 Cel",
		limits.Nitrite: "nitrite reading=0.2 mg/L;volume=9000 L", limits.Nitrate: "nitrate volume=9000 L;from=tan;tan=2 g/d;tap=10 mg/L;share=10 %",
		limits.Alkalinity: "hardness-units amount=90;unit=caco3", limits.Chlorine: "chlorine new-water=900 L;volume=9000 L;chlorine=2 mg/L",
	}
}

func ask(t *testing.T, question string) (calculators.Calculator, calculators.View) {
	t.Helper()
	id, inputs, _ := strings.Cut(question, " ")
	c, ok := catalog.All().Find(id)
	if !ok {
		t.Fatalf("there is no calculator %s", id)
	}
	var args []calculators.Arg
	for part := range strings.SplitSeq(inputs, ";") {
		name, value, _ := strings.Cut(part, "=")
		args = append(args, calculators.Arg{Name: name, Value: value})
	}
	v, err := c.Reckon(args)
	if err != nil {
		t.Fatal(err)
	}
	return c, v
}

// A reader who compares the log with a page and with the terminal finds the same
// limit with the same digits.
func TestLimitsHaveTheSameDigitsEverywhere(t *testing.T) {
	series := map[limits.Reading]readings.Series{}
	for _, s := range readings.AllSeries() {
		for _, l := range s.Limits {
			series[l.Reading] = s
		}
	}
	cite := func(string) (string, bool) { return "a source", true }
	compared := 0
	for reading, question := range drawn() {
		c, v := ask(t, question)
		page, terminal := answer.HTML(v), terminal.Answer(c, v, cite, func(calculators.Hazard) (string, bool) { return "", false }, terminal.Options{})
		_, all := ask(t, "readings oxygen=4 mg/L;tan=1 mg/L;ph=8;temperature=20 Cel;nitrite=0.2 mg/L;nitrate=60 mg/L;kh=80;chlorine=0.01 mg/L")
		working := ""
		for _, step := range all.Working {
			working += step.Text + "\n"
		}
		for _, l := range limits.Of(reading) {
			if l.Side == limits.NoSide || l.Label == "" {
				continue
			}
			number := quantity.FormatPlain(l.Value(), 6)
			text := quantity.WithUnit(number, "mg/L")
			if log := newLimit(series[reading], l); !strings.Contains(log.Says, text) {
				t.Errorf("the log says %q of %s", log.Says, text)
			}
			if !strings.Contains(page, ">"+text+"<") {
				t.Errorf("the page of %s does not show %s", c.ID, text)
			}
			if plain := strings.ReplaceAll(text, "\u00a0", " "); !strings.Contains(terminal, plain+" ") {
				t.Errorf("the terminal does not show %s for %s:\n%s", text, c.ID, terminal)
			}
			if !strings.Contains(working, " "+number+":") && !strings.Contains(working, text) && !strings.Contains(working, " "+number+" ") && !strings.Contains(working, " "+number+")") {
				t.Errorf("the readings do not name %s in\n%s", number, working)
			}
			compared++
		}
	}
	if compared < 15 {
		t.Errorf("only %d limits compared", compared)
	}
}
