package quantity_test

import (
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
		"imperial pint":                 {1.0 / 8, "[gal_br]"},
		"US pint":                       {1.0 / 8, "[gal_us]"},
		"US fluid ounce":                {1.0 / 128, "[gal_us]"},
		"cubic foot":                    {1, "[ft_i]3"},
		"inch":                          {1, "[in_i]"},
		"foot":                          {1, "[ft_i]"},
		"acre":                          {4840, "[yd_i]2"},
		"square foot":                   {1, "[ft_i]2"},
		"ounce (avoirdupois)":           {1, "[oz_av]"},
		"stone":                         {14, "[lb_av]"},
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
		"knot":                          {1852, "m/h"},
		"pound per cubic foot":          {1, "[lb_av]/[ft_i]3"},
		"grain per US gallon":           {1.0 / 7000, "[lb_av]/[gal_us]"},
		"ounce per US gallon":           {1, "[oz_av]/[gal_us]"},
		"pound per 100 US gallons":      {1.0 / 100, "[lb_av]/[gal_us]"},
		"standard gravity":              {1, "kgf/kg"},
		"Clark degree (grain CaCO3 per imperial gallon)": {1.0 / 7000, "[lb_av]/[gal_br]"},

		"kilocalorie (International Table)":       {}, // no food energy in the handbook
		"German degree of hardness (10 mg/L CaO)": {}, // chemistry: needs molar masses
		"mmol/L of Ca + Mg":                       {}, // chemistry: needs molar masses
		"degree Fahrenheit":                       {}, // an offset scale: TestFahrenheitAgreesWithTheTable
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
