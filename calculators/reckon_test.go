package calculators_test

import (
	"strings"
	"testing"
	"unicode/utf8"

	"mereleaf/calculators"
	"pgregory.net/rapid"
)

// args makes arguments from "name=value" texts.
func args(texts ...string) []calculators.Arg {
	var out []calculators.Arg
	for _, t := range texts {
		name, value, _ := strings.Cut(t, "=")
		out = append(out, calculators.Arg{Name: name, Value: value})
	}
	return out
}

func TestReckonShowsTheAnswer(t *testing.T) {
	for _, c := range []struct {
		given      []calculators.Arg
		text       string
		low, high  string
		also       string
		count      string
		assumed    string
		flagPrefix string
	}{
		{args("buckets=10 L, 3; 12 L"), "42.0\u00a0L", "37.8\u00a0L", "46.2\u00a0L", "11.1\u00a0gal\u00a0(US)", "4", "method temperature", ""},
		{args("buckets=10 L,3,square\n12 L, ,round;"), "42.0\u00a0L", "37.8\u00a0L", "46.2\u00a0L", "11.1\u00a0gal\u00a0(US)", "4", "method temperature", ""},
		{args("buckets=1,200 L, 2, ", "temperature=68 F"), "2,400\u00a0L", "2,160\u00a0L", "2,640\u00a0L", "634\u00a0gal\u00a0(US)", "2", "method", ""},
		{args("method=TOTAL", "total=10 L", "temperature=35 Cel"), "10.0\u00a0L", "9.00\u00a0L", "11.0\u00a0L", "2.64\u00a0gal\u00a0(US)", "1", "", "Temperature is outside the range the formula is stated for, 5 to 30\u00a0°C (toy-2001 table 1)"},
		{args("buckets=10 L; 3,000 L"), "3,010\u00a0L", "2,710\u00a0L", "3,310\u00a0L", "795\u00a0gal\u00a0(US)", "2", "method temperature", "Row 2 of Buckets: Volume is outside"},
	} {
		v, err := toy().Reckon(c.given)
		if err != nil {
			t.Errorf("%v: %v", c.given, err)
			continue
		}
		got := v.Values[0]
		if got.Text != c.text || got.Low != c.low || got.High != c.high || got.Also[0] != c.also || v.Values[1].Text != c.count || v.Values[1].Low != "" {
			t.Errorf("%v: %+v", c.given, v.Values)
		}
		var assumed []string
		for _, a := range v.Assumed {
			assumed = append(assumed, a.Name)
		}
		if strings.Join(assumed, " ") != c.assumed {
			t.Errorf("%v: assumed %v", c.given, v.Assumed)
		}
		if flags := strings.Join(v.Flags, "\n"); !strings.HasPrefix(flags, c.flagPrefix) || (c.flagPrefix == "") != (flags == "") {
			t.Errorf("%v: flags %q", c.given, v.Flags)
		}
	}
}

func TestReckonRefuses(t *testing.T) {
	const volume = "; expected 0.5 to 20,000\u00a0L (sanity limit)"
	const rows = `rows of "volume, count, shape" separated by semicolons`
	for _, c := range []struct {
		given []calculators.Arg
		want  []string
	}{
		{args(), []string{`buckets: is missing; expected ` + rows}},
		{args("buckets= ; \n;"), []string{`buckets: has no rows; expected ` + rows}},
		{args("buckets=10 L", "colour=red"), []string{`colour: is not an input here; expected one of method, buckets, total, temperature, spare`}},
		{args("buckets=10 L", "buckets=12 L"), []string{`buckets: is given twice; give it once`}},
		{args("buckets=10 L", "temperature=61 Cel"), []string{"temperature: is 61\u00a0°C; expected 0 to 40\u00a0°C (sanity limit)"}},
		{args("buckets=10 L", "temperature=warm"), []string{`temperature: "warm" is not a number; expected 0 to 40` + "\u00a0" + `°C (sanity limit); write digits, such as 12.5`}},
		{args("buckets=10 L, 2.5"), []string{"buckets row 1, count: is 2.5; expected a whole number, 1 to 99 (sanity limit)"}},
		{args("buckets=10 L; 3 gal, 2; 5 L, 0, oval"), []string{
			`buckets row 2, volume: "3 gal" does not say which gallon` + volume + `; write gal (US) or gal (imp)`,
			`buckets row 3, count: is 0; expected 1 to 99 (sanity limit)`,
			`buckets row 3, shape: is "oval"; expected one of round, square`,
		}},
		{args("buckets=10 L, 1, round, 5"), []string{`buckets row 1: has 4 cells; expected at most 3, as in ` + rows}},
		{args("buckets=,2"), []string{`buckets row 1, volume: is missing` + volume}},
		{args("buckets=1,50,5 L"), []string{`buckets row 1, volume: "1,50,5 L" has commas and points that do not fit together` + volume + `; write the decimal mark as a point, such as 1.5, and thousands as 1,500`}},
		{args("buckets=10 L", "total=5 L"), []string{`total: does not apply when method is listed; leave it out, or choose method=total`}},
		{args("method=total"), []string{"total: is missing" + volume}},
		{args("method=guess"), []string{`method: is "guess"; expected one of listed, total`}},
		{args("method=guess", "total=5 kg", "buckets=10 L"), []string{`method: is "guess"; expected one of listed, total`, `total: "5 kg" is not a volume` + volume + `; write it in L, m³, gal (imp) or gal (US)`}},
		{args("method=total", "total=10 L", "spare=11 L"), []string{"spare: is more than all buckets hold; expected less than the total"}},
		{args("method=total", "total=13 L"), []string{"rack: finds no volume for these inputs; check them against each other"}},
		{args("method=total", "total=1e200 L"), []string{"total: is out of all proportion: 1e+200\u00a0L" + volume}},
		{args("method=total", "total=20000.01 L"), []string{"total: is 20,000.01\u00a0L" + volume}},
		{args("buckets=" + strings.Repeat("1 L;", 1001)), []string{"buckets: has more than 1,000 rows; put like ones into one row"}},
		{args("method=total", "total=10 L", "a\nb\xff"+strings.Repeat("c", 99)+"=1"), []string{"a b\ufffd" + strings.Repeat("c", 35) + "…: is not an input here; expected one of method, buckets, total, temperature, spare"}},
	} {
		v, err := toy().Reckon(c.given)
		if err == nil {
			t.Errorf("%v gives %+v", c.given, v.Values)
			continue
		}
		if _, ok := err.(calculators.InputErrors); !ok || err.Error() != strings.Join(c.want, "\n") {
			t.Errorf("%.80v: %T\n got %s\nwant %s", c.given, err, err, strings.Join(c.want, "\n"))
		}
	}
}

// A converted limit is still accepted, and what is just beyond it is not.
func TestLimitsInOtherUnits(t *testing.T) {
	for text, fine := range map[string]bool{"32 °F": true, "104 °F": true, "104.01 °F": false, "31.99 °F": false, "273.15 K": true} {
		if _, err := toy().Reckon(args("buckets=1 L", "temperature="+text)); (err == nil) != fine {
			t.Errorf("%s: %v", text, err)
		}
	}
}

// Whatever a form, a link or a command line holds, a calculator answers or
// refuses in single lines.
func TestReckonNeverPanics(t *testing.T) {
	pieces := rapid.SampledFrom([]string{"10 L", "total", "listed", ", ", ";", "\n", "5", "-", "NaN", "gal", "°F", "½", "e9", "1,5", "\xff", "", " "})
	names := rapid.SampledFrom([]string{"method", "buckets", "total", "temperature", "spare", "other", ""})
	rapid.Check(t, func(t *rapid.T) {
		var given []calculators.Arg
		for range rapid.IntRange(0, 6).Draw(t, "inputs") {
			value := strings.Join(rapid.SliceOfN(pieces, 0, 6).Draw(t, "pieces"), "")
			given = append(given, calculators.Arg{Name: names.Draw(t, "name"), Value: value})
		}
		v, err := toy().Reckon(given)
		if err == nil {
			if len(v.Values) != 2 || v.Values[0].Text == "" {
				t.Fatalf("%v gives %+v", given, v)
			}
			return
		}
		for _, e := range err.(calculators.InputErrors) {
			if strings.ContainsAny(e.Error(), "\n\r") || !utf8.ValidString(e.Error()) {
				t.Fatalf("%q is not one line", e.Error())
			}
		}
	})
}

func TestScalePlacesTheAnswer(t *testing.T) {
	v, err := toy().Reckon(args("method=total", "total=100 L"))
	if err != nil {
		t.Fatal(err)
	}
	s := v.Scale
	if len(s.Marks) != 2 || s.At != s.Marks[1].At || !(s.Low < s.At && s.At < s.High) || s.Marks[0].At >= s.Marks[1].At {
		t.Errorf("%+v", s)
	}
	if m := s.Marks[1]; m.Text != "100\u00a0L" || m.Source != "toy-2001" || m.Locator != "table 1" || m.Basis != "published" || s.Label != "Volume 100\u00a0L" {
		t.Errorf("%+v", s)
	}
	v, _ = toy().Reckon(args("method=total", "total=20000 L"))
	if v.Scale.At != 1 {
		t.Errorf("an answer far beyond the marks is at %v, want the line's end", v.Scale.At)
	}
}

func TestScaleOnLogarithmicLine(t *testing.T) {
	c := toy()
	plain := c.Compute
	c.Compute = func(in calculators.Inputs) (calculators.Result, error) {
		r, err := plain(in)
		r.Scale.Log = true
		return r, err
	}
	at := func(total string) float64 {
		v, err := c.Reckon(args("method=total", "total="+total))
		if err != nil {
			t.Fatal(err)
		}
		return v.Scale.At
	}
	// 10, 31.6 and 100 are evenly spaced on such a line.
	low, middle, high := at("10 L"), at("31.6227766 L"), at("100 L")
	if d := (middle - low) - (high - middle); d > 1e-6 || d < -1e-6 || low >= high {
		t.Errorf("10, 31.6 and 100 L stand at %v, %v and %v", low, middle, high)
	}
}

// What is no number beside the answer is left out and named; the answer, what to do
// and the other doubts stand.
func TestWhatIsNoNumberHidesNothingElse(t *testing.T) {
	c := toy()
	plain := c.Compute
	c.Compute = func(in calculators.Inputs) (calculators.Result, error) {
		r, err := plain(in)
		r.Advise("Put on all the air.")
		r.Flag("A guess.")
		return r, err
	}
	given := args("method=total", "total=14 L", "temperature=40 Cel")
	_, r, err := c.Evaluate(given)
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Unsaid) != 1 || r.Unsaid[0] != "buckets" || len(r.Values) != 1 || r.Values[0].Likely != 14 {
		t.Errorf("unsaid %q of %v", r.Unsaid, r.Values)
	}
	v, err := c.Reckon(given)
	if err != nil {
		t.Fatal(err)
	}
	if len(v.Values) != 1 || v.Values[0].Text != "14.0\u00a0L" || len(v.Advice) != 1 || len(v.Scale.Marks) != 2 {
		t.Errorf("%+v", v)
	}
	if len(v.Flags) != 3 || v.Flags[1] != "A guess." || !strings.HasPrefix(v.Flags[2], "Buckets: left out, because") {
		t.Errorf("%q", v.Flags)
	}
	// Values that are finite may have a sum that is not.
	c.Compute = func(calculators.Inputs) (calculators.Result, error) {
		return calculators.Result{Values: []calculators.Value{calculators.Exactly("volume", 1e308)}}, nil
	}
	if _, r, err = c.Evaluate(given); err != nil || len(r.Values) != 1 {
		t.Errorf("a great number is left out: %v %v", r.Values, err)
	}
}

func TestUndeclaredNamesPanic(t *testing.T) {
	for name, compute := range map[string]func(calculators.Inputs){
		"unknown input":   func(in calculators.Inputs) { in.In("tempreature", "Cel") },
		"wrong dimension": func(in calculators.Inputs) { in.In("temperature", "kg") },
	} {
		c := toy()
		c.Compute = func(in calculators.Inputs) (calculators.Result, error) {
			compute(in)
			return calculators.Result{}, nil
		}
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s: a mistake of the programmer goes unnoticed", name)
				}
			}()
			c.Reckon(args("buckets=1 L"))
		}()
	}
}
