package quantity_test

import (
	"math"
	"regexp"
	"strconv"
	"testing"

	"mereleaf/calculators/internal/reftest"
	"mereleaf/calculators/quantity"
)

// meaning is a unit of the conversion table as a count of a unit that the
// package reads: a stone is 14 pounds. The counts are definitions in words, not
// figures; an empty code means that the package does without the unit.
type meaning struct {
	count float64
	code  string
}

func meanings() map[string]meaning {
	return map[string]meaning{
		"imperial gallon":               {1, "[gal_br]"},
		"imperial pint":                 {1, "[pt_br]"},
		"US pint":                       {1, "[pt_us]"},
		"US fluid ounce":                {1, "[foz_us]"},
		"cubic foot":                    {1, "[ft_i]3"},
		"inch":                          {1, "[in_i]"},
		"foot":                          {1, "[ft_i]"},
		"acre":                          {4840, "[yd_i]2"},
		"square foot":                   {1, "[ft_i]2"},
		"ounce (avoirdupois)":           {1, "[oz_av]"},
		"stone":                         {1, "[stone_av]"},
		"short ton":                     {2000, "[lb_av]"},
		"long ton":                      {2240, "[lb_av]"},
		"pound-force per square foot":   {1, "[lbf_av]/[ft_i]2"},
		"foot of water (conventional)":  {1, "[ft_i].gf/cm3"},
		"metre of water (conventional)": {1, "m.gf/cm3"},
		"bar":                           {1, "bar"},
		"horsepower (550 ft lbf/s)":     {550, "[ft_i].[lbf_av]/s"},
		"metric horsepower":             {75, "m.kgf/s"},
		"kilowatt hour":                 {1, "kW.h"},
		"imperial gallon per minute":    {1, "[gal_br]/min"},
		"US gallon per hour":            {1, "[gal_us]/h"},
		"cubic foot per minute":         {1, "[ft_i]3/min"},
		"cubic metre per hour":          {1, "m3/h"},
		"knot":                          {1, "[kn_i]"},
		"pound per cubic foot":          {1, "[lb_av]/[ft_i]3"},
		"grain per US gallon":           {1.0 / 7000, "[lb_av]/[gal_us]"},
		"ounce per US gallon":           {1, "[oz_av]/[gal_us]"},
		"pound per 100 US gallons":      {1.0 / 100, "[lb_av]/[gal_us]"},
		"standard gravity":              {1, "kgf/kg"},
		"Clark degree (grain CaCO3 per imperial gallon)": {1, "{°e}"},
		"German degree of hardness (10 mg/L CaO)":        {1, "{°dH}"},

		"kilocalorie (International Table)": {}, // no food energy in the handbook
		"mmol/L of Ca + Mg":                 {}, // chemistry: needs molar masses
		"degree Fahrenheit":                 {}, // an offset scale: TestFahrenheitAgreesWithTheTable
	}
}

func TestConversionsAgreeWithTheTable(t *testing.T) {
	known := meanings()
	for _, row := range reftest.Read(t, "hydraulics-unit-conversions") {
		m, ok := known[row.Text("from")]
		if !ok {
			t.Errorf("%s: say in this test what %q means", row.Place, row.Text("from"))
			continue
		}
		if m.code == "" {
			continue
		}
		from, to := quantity.MustUnit(m.code), quantity.MustUnit(row.Text("to"))
		if !from.SameDimension(to) {
			t.Errorf("%s: %s does not convert to %s", row.Place, m.code, to.Code)
			continue
		}
		got := from.Convert(m.count, to)
		if row.Text("exactness") == "exact" {
			reftest.Within(t, row, got, "factor", 1e-15) // the last bit of a float64
			continue
		}
		reftest.Near(t, row, got, "factor")
	}
}

// What people type and the conversion table leaves out, in coherent SI units as NIST
// SP 811 (2008), Appendix B.8, prints them, to seven digits. Its pint of the United
// Kingdom, its fluid ounce and its gallon are the statute's 4.546 09 L in parts.
func TestTypedUnitsAgreeWithSP811(t *testing.T) {
	for _, c := range []struct {
		text string
		kind quantity.Kind
		si   float64
	}{
		{"1 mph", quantity.Velocity, 4.4704e-01},
		{"1 km/h", quantity.Velocity, 2.777778e-01},
		{"1 knot", quantity.Velocity, 5.144444e-01},
		{"1 ft/s", quantity.Velocity, 3.048e-01},
		{"1 mmHg", quantity.Pressure, 1.333224e+02},
		{"1 inHg", quantity.Pressure, 3.386389e+03},
		{"1 psi", quantity.Pressure, 6.894757e+03},
		{"1 bar", quantity.Pressure, 1e+05},
		{"1 mbar", quantity.Pressure, 1e+02},
		{"1 atm", quantity.Pressure, 1.01325e+05},
		{"1 cup", quantity.Volume, 2.365882e-04},
		{"1 tbsp", quantity.Volume, 1.478676e-05},
		{"1 tsp", quantity.Volume, 4.928922e-06},
		{"1 fl oz (US)", quantity.Volume, 2.957353e-05},
		{"1 fl oz (imp)", quantity.Volume, 2.841306e-05},
		{"1 pint (US)", quantity.Volume, 4.731765e-04},
		{"1 quart (US)", quantity.Volume, 9.463529e-04},
		{"1 gal (US)", quantity.Volume, 3.785412e-03},
		{"1 gal (imp)", quantity.Volume, 4.54609e-03},
	} {
		q, err := quantity.Parse(c.text, c.kind, nil)
		if err != nil {
			t.Error(err)
			continue
		}
		if got := q.SI(); math.Abs(got-c.si) > 0.5000001e-6*math.Pow(10, math.Floor(math.Log10(c.si))) {
			t.Errorf("%s is %.8g in SI units, not %.8g", c.text, got, c.si)
		}
	}
}

// Each unit of hardness in the others, as a textbook's table prints them.
func TestDegreesOfHardnessAgreeWithTheTable(t *testing.T) {
	units := map[string]string{"meq/L": "1 meq/L", "German degree": "1 °dH", "English degree": "1 °e", "French degree": "1 °fH", "mg/L CaCO3": "1 mg/L"}
	columns := map[string]string{"equivalents [meq/L]": "{meq}/L", "german degree [1]": "{°dH}", "english degree [1]": "{°e}", "french degree [1]": "{°fH}", "as CaCO3 [mg/L]": "mg/L"}
	seen := 0
	for _, row := range reftest.Read(t, "water-hardness-conversion-table") {
		text, ok := units[row.Text("one unit of")]
		if !ok {
			continue // mmol/L counts another thing in alkalinity
		}
		seen++
		q, err := quantity.Parse(text, quantity.Hardness, nil)
		if err != nil {
			t.Error(err)
			continue
		}
		for column, code := range columns {
			reftest.Within(t, row, q.In(quantity.MustUnit(code)).Value, column, 0.004) // its figures are chained roundings of three digits
		}
	}
	if seen != len(units) {
		t.Errorf("%d of %d units stand in the table", seen, len(units))
	}
}

// The row of the Fahrenheit scale states a formula, and two points in its note.
func TestFahrenheitAgreesWithTheTable(t *testing.T) {
	pair := regexp.MustCompile(`(\d+) F is (\d+) C`)
	fahrenheit, celsius := quantity.MustUnit("[degF]"), quantity.MustUnit("Cel")
	points := 0
	for _, row := range reftest.Read(t, "hydraulics-unit-conversions") {
		for _, m := range pair.FindAllStringSubmatch(row.Text("note"), -1) {
			points++
			f, _ := strconv.ParseFloat(m[1], 64)
			c, _ := strconv.ParseFloat(m[2], 64)
			if got := fahrenheit.Convert(f, celsius); got < c-1e-9 || got > c+1e-9 {
				t.Errorf("%s: %v °F converts to %v °C, want %v", row.Place, f, got, c)
			}
			if got := celsius.Convert(c, fahrenheit); got < f-1e-9 || got > f+1e-9 {
				t.Errorf("%s: %v °C converts to %v °F, want %v", row.Place, c, got, f)
			}
		}
	}
	if points == 0 {
		t.Error("no row states two temperatures")
	}
}

// Every heading of every figure set names a unit the package reads, prints and
// reads again from its print.
func TestEveryUnitOfTheFiguresIsRead(t *testing.T) {
	heading := regexp.MustCompile(`^.* \[(.+)\]$`)
	codes := map[string]string{}
	for _, set := range reftest.Sets(t) {
		for _, column := range reftest.Columns(t, set) {
			if m := heading.FindStringSubmatch(column); m != nil {
				if m[1] == "pH" { // "ph [pH]": the heading's brackets are the code's own
					m[1] = "[pH]"
				}
				codes[m[1]] = set
			}
		}
	}
	for code, set := range codes {
		if _, err := quantity.ParseUnit(code); err != nil {
			t.Errorf("%s: %v", set, err)
		}
	}
	if len(codes) == 0 {
		t.Error("no figure set names a unit")
	}
}
