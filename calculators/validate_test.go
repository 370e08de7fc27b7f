package calculators_test

import (
	"strings"
	"testing"

	"mereleaf/calculators"
)

// faultLines returns what is wrong with the declarations, a line each.
func faultLines(s calculators.Set) string {
	var lines []string
	for _, fault := range s.Validate() {
		lines = append(lines, fault.String())
	}
	return strings.Join(lines, "\n")
}

func TestCompleteDeclarationIsValid(t *testing.T) {
	if faults := faultLines(calculators.NewSet(toy())); faults != "" {
		t.Errorf("%s", faults)
	}
}

// What a fine choice decides may be folded away with it, needed or not.
func TestFineWithItsChoice(t *testing.T) {
	c := toy()
	c.Inputs[0].Fine, c.Inputs[2].Fine = true, true
	c.Inputs[1].When, c.Inputs[1].Optional = calculators.When{}, true
	if faults := faultLines(calculators.NewSet(c)); faults != "" {
		t.Errorf("%s", faults)
	}
}

func TestEachFaultIsFound(t *testing.T) {
	type change func(*calculators.Calculator)
	for want, spoil := range map[string]change{
		"the ID must be lower-case words":          func(c *calculators.Calculator) { c.ID = "Free Ammonia" },
		"has no Title":                             func(c *calculators.Calculator) { c.Title = "" },
		"has no Compute":                           func(c *calculators.Calculator) { c.Compute = nil },
		"has no Formulas":                          func(c *calculators.Calculator) { c.Formulas = nil },
		"lacks its name, TeX or sentence":          func(c *calculators.Calculator) { c.Formulas[0].TeX = "" },
		"name its Go function as package.Function": func(c *calculators.Calculator) { c.Formulas[0].Function = "Sum" },
		"lacks a source or its locator":            func(c *calculators.Calculator) { c.Formulas[0].Basis, c.Formulas[0].Source = "published", "toy-2001" },
		"must have the basis published":            func(c *calculators.Calculator) { c.Formulas[0].Basis = "hearsay" },
		"input name total is not legal or stands":  func(c *calculators.Calculator) { c.Inputs = append(c.Inputs, c.Inputs[2]) },
		"depends on temperature, which is not a": func(c *calculators.Calculator) {
			c.Inputs[4].When = calculators.When{Input: "temperature", Is: []string{"x"}}
		},
		"depends on the option poured, which": func(c *calculators.Calculator) {
			c.Inputs[4].When = calculators.When{Input: "method", Is: []string{"poured"}}
		},
		"depends on method but on no option":           func(c *calculators.Calculator) { c.Inputs[4].When = calculators.When{Input: "method"} },
		"spare is fine, but an answer needs it":        func(c *calculators.Calculator) { c.Inputs[4].Fine, c.Inputs[4].Optional = true, false },
		"total depends on method, which is fine":       func(c *calculators.Calculator) { c.Inputs[0].Fine = true },
		"buckets is fine, but an answer needs it":      func(c *calculators.Calculator) { c.Inputs[1].Fine = true },
		"total stands apart from the group Pond":       func(c *calculators.Calculator) { c.Inputs[0].Group, c.Inputs[2].Group = "Pond", "Pond" },
		"the list buckets has a fine column":           func(c *calculators.Calculator) { c.Inputs[1].Columns[1].Fine = true },
		"the output volume is the answer":              func(c *calculators.Calculator) { c.Outputs[0].Fine = true },
		"temperature has no label or help":             func(c *calculators.Calculator) { c.Inputs[3].Help = "" },
		"the help of temperature is too long":          func(c *calculators.Calculator) { c.Inputs[3].Help = strings.Repeat("Measure. ", 12) },
		"temperature has no accepted range":            func(c *calculators.Calculator) { c.Inputs[3].Accept.Origin = "" },
		"temperature has a stated range without":       func(c *calculators.Calculator) { c.Inputs[3].Stated.High = 50 },
		"temperature has a unit that is not one":       func(c *calculators.Calculator) { c.Inputs[3].Unit = "kg" },
		"the default of temperature is refused":        func(c *calculators.Calculator) { c.Inputs[3].Default = "warm" },
		"method has no choice":                         func(c *calculators.Calculator) { c.Inputs[0].Options = c.Inputs[0].Options[:1] },
		"option listed of method has no legal name of": func(c *calculators.Calculator) { c.Inputs[0].Options[1].Name = "listed" },
		"the list buckets has no columns":              func(c *calculators.Calculator) { c.Inputs[1].Columns = nil },
		"count has no label or help":                   func(c *calculators.Calculator) { c.Inputs[1].Columns[1].Label = "" },
		"output volume lacks a legal name of its own":  func(c *calculators.Calculator) { c.Outputs[1].Name = "volume" },
		"output volume cannot be shown in kg":          func(c *calculators.Calculator) { c.Outputs[0].Also = []string{"kg"} },
		"output volume: unknown unit":                  func(c *calculators.Calculator) { c.Outputs[0].Unit = "gal" },
		"the example is refused":                       func(c *calculators.Calculator) { c.Example.Given = args("total=3 L") },
		"the lookup cell 30000 L is refused":           func(c *calculators.Calculator) { c.Lookup.Rows.Values[1] = "30000 L" },
		"the chart's end 0 L is refused":               func(c *calculators.Calculator) { c.Chart.From = "0 L" },
		"shows the unknown output weight":              func(c *calculators.Calculator) { c.Chart.Show = "weight" },
		"the lookup table shows the unknown output":    func(c *calculators.Calculator) { c.Lookup.Show = []string{"weight"} },
		"a lookup table without a caption":             func(c *calculators.Calculator) { c.Lookup.Caption = "" },
		"a lookup table without rows":                  func(c *calculators.Calculator) { c.Lookup.Rows.Values = nil },
		"a lookup table that shows no output":          func(c *calculators.Calculator) { c.Lookup.Show = nil },
		"shows several outputs in one column": func(c *calculators.Calculator) {
			c.Lookup.Show = []string{"volume", "buckets"}
			c.Lookup.Columns = calculators.Axis{Input: "temperature", Values: []string{"10 Cel"}}
		},
		"a chart without a caption":                        func(c *calculators.Calculator) { c.Chart.Caption = "" },
		"a chart without an input along X":                 func(c *calculators.Calculator) { c.Chart.X = "" },
		"a chart that runs from 1 L to the same":           func(c *calculators.Calculator) { c.Chart.To = "1 L" },
		"a chart that shows no output":                     func(c *calculators.Calculator) { c.Chart.Show = "" },
		"declares no Hazards; where nothing can hurt":      func(c *calculators.Calculator) { c.Hazards = nil },
		"without saying why as Harmless":                   func(c *calculators.Calculator) { c.Harmless = "" },
		"declares NoHazard beside others":                  func(c *calculators.Calculator) { c.Hazards = append(c.Hazards, calculators.Dust) },
		"it is harmless and declares hazards":              func(c *calculators.Calculator) { c.Hazards = []calculators.Hazard{calculators.Dust} },
		"the hazard electricity, though it asks for spare": func(c *calculators.Calculator) { c.Inputs[4].Fact = "pump-spare" },
		"the hazard electricity, though it answers with":   func(c *calculators.Calculator) { c.Outputs[1].Unit = "kW.h" },
		"the hazard drowning, though it asks for total":    func(c *calculators.Calculator) { c.Inputs[2].Fact = "pond-depth" },
		"the lookup cell 14 L gives no number for buckets": func(c *calculators.Calculator) { c.Lookup.Rows.Values[1] = "14 L" },
	} {
		c := toy()
		spoil(&c)
		faults := faultLines(calculators.NewSet(c))
		if !strings.Contains(faults, want) {
			t.Errorf("wanted %q, got %q", want, faults)
		}
	}
	if faults := faultLines(calculators.NewSet(toy(), toy())); !strings.Contains(faults, "rack: declared twice") {
		t.Errorf("a calculator declared twice: %q", faults)
	}
}

// A part of the page that is missing is one fault, and none besides.
func TestAMissingPartOfThePageIsOneFault(t *testing.T) {
	for want, spoil := range map[string]func(*calculators.Calculator){
		"rack: has no Lookup:": func(c *calculators.Calculator) { c.Lookup = calculators.Lookup{} },
		"rack: has no Chart:":  func(c *calculators.Calculator) { c.Chart = calculators.Chart{} },
	} {
		c := toy()
		spoil(&c)
		if faults := faultLines(calculators.NewSet(c)); !strings.HasPrefix(faults, want) || strings.Contains(faults, "\n") {
			t.Errorf("wanted one fault %q, got %q", want, faults)
		}
	}
}

func TestCallsOfTableAndChart(t *testing.T) {
	l := calculators.Lookup{Rows: calculators.Axis{Input: "a", Values: []string{"1", "2"}}, Columns: calculators.Axis{Input: "b", Values: []string{"3", "4"}}, Given: args("a=9", "c=5")}
	var names []string
	for _, call := range l.Cells() {
		names = append(names, call.Name)
		if len(call.Args) != 3 || call.Args[0].Name != "c" || call.Args[0].Value != "5" {
			t.Errorf("%s: %v", call.Name, call.Args)
		}
	}
	if got := strings.Join(names, "; "); got != "1, 3; 1, 4; 2, 3; 2, 4" {
		t.Errorf("cells %s", got)
	}
	ch := calculators.Chart{X: "a", From: "1", To: "2", Series: calculators.Axis{Input: "b", Values: []string{"3", "4"}}}
	if got := len(ch.Ends()); got != 4 {
		t.Errorf("%d ends of two lines", got)
	}
}
