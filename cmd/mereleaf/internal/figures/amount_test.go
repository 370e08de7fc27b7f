package figures

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators/quantity"
)

func TestReadAmount(t *testing.T) {
	for _, c := range []struct {
		text string
		mark Mark
		low  float64
		high float64
		unit string
	}{
		{"9.1", Plain, 9.1, 9.1, ""},
		{" 9.1 mg/L ", Plain, 9.1, 9.1, "mg/L"},
		{"1,200 L", Plain, 1200, 1200, "L"},
		{"1\u00a0200 L", Plain, 1200, 1200, "L"},
		{"−5 °C", Plain, -5, -5, "°C"},
		{"+0.5 %", Plain, 0.5, 0.5, "%"},
		{"≥ 30", AtLeast, 30, 30, ""},
		{"at least 30 mm", AtLeast, 30, 30, "mm"},
		{"<= 5", AtMost, 5, 5, ""},
		{"> 5", Above, 5, 5, ""},
		{"under 5 kg", Below, 5, 5, "kg"},
		{"about 1,200 L", About, 1200, 1200, "L"},
		{"30 to 40", Plain, 30, 40, ""},
		{"30–40 mm", Plain, 30, 40, "mm"},
		{"30 - 40", Plain, 30, 40, ""},
		{"30-40", Plain, 30, 40, ""},
		{"30 mm to 40 mm", Plain, 30, 40, "mm"},
		{"-5 to 5 °C", Plain, -5, 5, "°C"},
		{"½ to 1 1/2 in", Plain, 0.5, 1.5, "in"},
		{"2 m2/m3", Plain, 2, 2, "m2/m3"},
		{"2 g/m²/d", Plain, 2, 2, "g/m²/d"},
		{"4 ft 6 in", Plain, 54, 54, "in"},
		{`4' 6½"`, Plain, 54.5, 54.5, `"`},
	} {
		a, err := ReadAmount(c.text)
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		if a.Mark != c.mark || a.Low.Value != c.low || a.High.Value != c.high || a.Unit != c.unit || a.Range != (c.low != c.high) {
			t.Errorf("%q is %+v", c.text, a)
		}
	}
}

func TestReadAmountRefuses(t *testing.T) {
	for _, c := range []struct {
		text   string
		number bool
		want   string
	}{
		{"", false, "is not a number"},
		{"any", false, "is not a number"},
		{"IPX8", false, "is not a number"},
		{"1,50,5 mg/L", true, "commas and points"},
		{"1,5 mg/L", true, "decimal comma"},
		{"9.1 (8.2)", true, "has two numbers"},
		{"3 x 4 m", true, "has two numbers"},
		{"40 to 30", true, "end is not above its start"},
		{"≥ 30 to 40", true, "before a range"},
		{"30 mm to 40 cm", true, "two numbers"},
		{"4 m 6 kg", true, "two numbers"},
		{"4 ft 13 in", true, "two numbers"},
	} {
		_, err := ReadAmount(c.text)
		bad, ok := err.(*AmountError)
		if !ok || bad.Number != c.number || !strings.Contains(bad.Error(), c.want) || bad.Remedy == "" {
			t.Errorf("%q: %v, want %q", c.text, err, c.want)
		}
	}
}

func TestUnitsAsPrinted(t *testing.T) {
	for printed, code := range map[string]string{
		"°C": "Cel", "m²/m³": "m2/m3", "mg/L": "mg/L", "g/m²/d": "g/m2/d", "US gal/min": "[gal_us]/min",
		"gal (imp)": "[gal_br]", "µg/L": "ug/L", "μg/L": "ug/L", "mmHg": "mm[Hg]", "kWh": "kW.h", "lb per ft³": "[lb_av]/[ft_i]3",
		"days": "d", "pH": "[pH]", "N·m": "N.m", "1/h": "1/h", "%/d": "%/d", "[gal_us]/min": "[gal_us]/min",
	} {
		u, ok := ReadUnit(printed)
		want := quantity.MustUnit(code)
		if !ok || u.Dim != want.Dim || !near(u.Factor, want.Factor) {
			t.Errorf("%q is %+v, want %s", printed, u, code)
		}
	}
	for _, printed := range []string{"gal", "blobs", "mg/L NH3", "x"} {
		if u, ok := ReadUnit(printed); ok {
			t.Errorf("%q passes as the unit %s", printed, u.Code)
		}
	}
}

func TestLooseNumber(t *testing.T) {
	for text, want := range map[string]string{
		"IPX8 by BS 7671": "", "NO2-N as CaCO3": "", "stop feeding": "",
		"change 30 %": "30", "30mA device": "30", "½ full": "½", "Zone 1": "1", "BS 7671 and 12 V": "12", "a 1,200 L tub": "1,200",
	} {
		if got := LooseNumber(text); got != want {
			t.Errorf("%q: got %q, want %q", text, got, want)
		}
	}
}

// FuzzAmount checks that what reads as an amount reads as the same amount after
// it is printed plainly, and that no input stops the reader.
func FuzzAmount(f *testing.F) {
	lib, _ := Read(project())
	for _, s := range lib.Sets {
		f.Add(s.Rows[0].Cells[0].Text)
		f.Add(s.Rows[len(s.Rows)-1].Cells[len(s.Data())-1].Text)
	}
	for _, s := range []string{"30 to 40 mm", "≥ 1½ in", "4' 6\"", "1,5", "about 1,200", "−3–4 °C", "9.1 (8)", "1e-5", "3/0", "1 1/2", "to 5", "5 to "} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		LooseNumber(s)
		a, err := ReadAmount(s)
		if err != nil {
			if bad, ok := err.(*AmountError); !ok || bad.Problem == "" || bad.Remedy == "" {
				t.Errorf("%q is refused without problem and remedy: %v", s, err)
			}
			return
		}
		if math.IsNaN(a.Low.Value) || math.IsInf(a.High.Value, 0) || a.Low.Value > a.High.Value || a.Range != (a.Low != a.High) {
			t.Fatalf("%q is %+v", s, a)
		}
		again, err := ReadAmount(plainly(a))
		if err != nil || again.Mark != a.Mark || again.Low.Value != a.Low.Value || again.High.Value != a.High.Value || again.Unit != a.Unit {
			t.Errorf("%q is %+v; %q is %+v (%v)", s, a, plainly(a), again, err)
		}
	})
}

// plainly prints an amount in the simplest way that is read.
func plainly(a Amount) string {
	s := strconv.FormatFloat(a.Low.Value, 'g', -1, 64)
	if a.Mark != Plain {
		s = a.Mark.String() + " " + s
	}
	if a.Range {
		s += " to " + strconv.FormatFloat(a.High.Value, 'g', -1, 64)
	}
	return s + " " + a.Unit
}

// decimal is a figure as a source prints it.
type decimal struct {
	digits int64
	places int
}

func (d decimal) String() string {
	s := strconv.FormatInt(d.digits, 10)
	for len(s) <= d.places {
		s = "0" + s
	}
	if d.places == 0 {
		return s
	}
	return s[:len(s)-d.places] + "." + s[len(s)-d.places:]
}

// round takes places off, half up, in whole numbers so that nothing is lost.
// half reports whether what it took off was exactly a half.
func (d decimal) round(places int) (r decimal, half bool) {
	scale := int64(1)
	for range d.places - places {
		scale *= 10
	}
	r = decimal{d.digits / scale, places}
	rest := d.digits % scale
	if 2*rest >= scale {
		r.digits++
	}
	return r, 2*rest == scale
}

func drawDecimal(t *rapid.T) decimal {
	return decimal{rapid.Int64Range(1, 9_999_999).Draw(t, "digits"), rapid.IntRange(0, 5).Draw(t, "places")}
}

func verdictOf(t *rapid.T, printedText, figure string, unit, figureUnit string) verdict {
	a, err := ReadAmount(printedText)
	if err != nil {
		t.Fatalf("%q: %v", printedText, err)
	}
	f, err := ReadAmount(figure)
	if err != nil {
		t.Fatalf("%q: %v", figure, err)
	}
	return compareNumber(a.Low, printed{Amount: a, unit: quantity.MustUnit(unit), hasUnit: true}, f.Low, quantity.MustUnit(figureUnit))
}

func TestARoundedFigureBinds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		figure := drawDecimal(t)
		shown, _ := figure.round(rapid.IntRange(0, figure.places).Draw(t, "shown places"))
		if v := verdictOf(t, shown.String(), figure.String(), "mg/L", "mg/L"); v != same {
			t.Errorf("%s printed as %s: verdict %d", figure, shown, v)
		}
	})
}

func TestAFigureOffByOneInItsLastDigitDoesNotBind(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		figure := drawDecimal(t)
		shown, half := figure.round(rapid.IntRange(0, figure.places).Draw(t, "shown places"))
		up := decimal{shown.digits + 1, shown.places}
		if v := verdictOf(t, up.String(), figure.String(), "mg/L", "mg/L"); v == same {
			t.Errorf("%s binds, printed as %s", figure, up)
		}
		if half || shown.digits == 0 {
			return // a half may be rounded down too, and nothing lies below zero here
		}
		down := decimal{shown.digits - 1, shown.places}
		if v := verdictOf(t, down.String(), figure.String(), "mg/L", "mg/L"); v == same {
			t.Errorf("%s binds, printed as %s", figure, down)
		}
	})
}

func TestRoundingHoldsAcrossUnits(t *testing.T) {
	pairs := [][2]string{{"m", "[ft_i]"}, {"[gal_us]", "L"}, {"Cel", "[degF]"}, {"kg", "[lb_av]"}, {"1", "%"}, {"mg/L", "ug/L"}}
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.SampledFrom(pairs).Draw(t, "units")
		figure := drawDecimal(t)
		f, _ := ReadAmount(figure.String())
		v := quantity.MustUnit(p[0]).Convert(f.Low.Value, quantity.MustUnit(p[1]))
		places := rapid.IntRange(0, 3).Draw(t, "places")
		shown := strconv.FormatFloat(v, 'f', places, 64)
		if got := verdictOf(t, shown, figure.String(), p[1], p[0]); got != same {
			t.Errorf("%s %s printed as %s %s: verdict %d", figure, p[0], shown, p[1], got)
		}
		step := math.Pow10(-places)
		off := strconv.FormatFloat(v+step*1.01, 'f', places, 64)
		if got := verdictOf(t, off, figure.String(), p[1], p[0]); got == same {
			t.Errorf("%s %s binds, printed as %s %s", figure, p[0], off, p[1])
		}
	})
}
