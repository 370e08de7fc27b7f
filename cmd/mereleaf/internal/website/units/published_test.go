package units_test

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// independent is one unit as the handbook marks it, and what a reader of each
// system is to see instead; "" if it stays.
type independent struct {
	size                 float64 // of one, in the unit of the kind that published has as 1
	metric, imperial, us string
}

// conversions returns the units that turn by their codes, and the sizes of the
// units that a reader sees by what is printed. Both are made of the factors in the
// set of figures hydraulics-unit-conversions and, for what it does not hold, of
// NIST SP 811, appendix B; none comes from package quantity, which is what they are
// held against.
func conversions(t *testing.T) (marked map[string]independent, shown map[string]float64) {
	set := printedFactors(t)
	gal, imp, cubic := set["US gallon per hour"], set["imperial gallon"], set["cubic foot"] // L
	inch, foot, square := set["inch"]/1000, set["foot"], set["square foot"]                 // m, m2
	ounce, pound := set["ounce (avoirdupois)"], 453.59237                                   // g; SP 811
	const mile, mph, psi, lbf, lbfFt = 1.609344, 0.44704, 6894.757, 4.448222, 1.355818      // km, m/s, Pa, N, N.m; SP 811
	const min, hour, day = 60., 3600., 86400.                                               // s
	shown = map[string]float64{                                                             // in L, m, m2, g, s and N
		"L": 1, "gal (US)": gal, "gal (imp)": imp,
		"L/h": 1 / hour, "L/min": 1 / min, "L/d": 1 / day,
		"gal (US)/h": gal / hour, "gal (US)/min": gal / min, "gal (US)/d": gal / day,
		"gal (imp)/h": imp / hour, "gal (imp)/min": imp / min, "gal (imp)/d": imp / day, "cu ft/min": cubic / min,
		"mm": 0.001, "m": 1, "in": inch, "ft": foot, "mi": mile * 1000,
		"m²": 1, "in²": inch * inch, "ft²": square,
		"g": 1, "kg": 1000, "oz": ounce, "lb": pound,
		"oz/d": ounce / day, "oz/h": ounce / hour, "lb/d": pound / day,
		"lb/ft³": set["pound per cubic foot"], "ft²/ft³": 1 / foot,
		"ft/s": foot, "in/s": inch, "in/d": inch / day, "ft/d": foot / day, "mph": mph, "km/h": 1000 / hour,
		"gal (US)/ft²/d": gal / 1000 / square, "gal (imp)/ft²/d": imp / 1000 / square,
		"lbf": lbf, "lbf·ft": lbfFt, "kPa": 1000, "psi": psi,
		"¤/lb": 1 / pound, "¤/gal (US)": 1 / gal, "¤/gal (imp)": 1 / imp,
		"g/gal (US)": 1 / gal, "g/gal (imp)": 1 / imp,
		"°C": 1.8, "°F": 1, "°C/d": 1.8 / day, "°F/d": 1 / day, "°F/h": 1 / hour, "°F/min": 1 / min,
	}
	both := func(size float64, to string) independent { return independent{size, "", to, to} }
	gallons := func(size float64, before, per string) independent {
		return independent{size, "", before + "gal (imp)" + per, before + "gal (US)" + per}
	}
	marked = map[string]independent{
		"L": gallons(1, "", ""), "m3": gallons(1000, "", ""), "[ft_i]3": {size: cubic, metric: "L"},
		"[gal_us]": {gal, "L", "gal (imp)", ""}, "[gal_br]": {imp, "L", "", "gal (US)"},
		"L/h": gallons(1/hour, "", "/h"), "m3/h": gallons(1000/hour, "", "/h"), "L/min": gallons(1/min, "", "/min"), "L/s": gallons(1, "", "/min"),
		"L/d": gallons(1/day, "", "/d"), "m3/d": gallons(1000/day, "", "/d"),
		"[gal_us]/h": {gal / hour, "L/h", "gal (imp)/h", ""}, "[gal_br]/h": {imp / hour, "L/h", "", "gal (US)/h"},
		"[gal_us]/min": {gal / min, "L/min", "gal (imp)/min", ""}, "[gal_br]/min": {imp / min, "L/min", "", "gal (US)/min"},
		"[gal_us]/d": {gal / day, "L/d", "gal (imp)/d", ""}, "[gal_br]/d": {imp / day, "L/d", "", "gal (US)/d"},
		"L/min{air}": both(1/min, "cu ft/min"), "L/h{air}": both(1/hour, "cu ft/min"), "m3/h{air}": both(1000/hour, "cu ft/min"),
		"mm": both(0.001, "in"), "cm": both(0.01, "in"), "m": both(1, "ft"), "km": both(1000, "mi"),
		"[in_i]": {size: inch, metric: "mm"}, "[ft_i]": {size: foot, metric: "m"},
		"mm2": both(1e-6, "in²"), "cm2": both(1e-4, "in²"), "m2": both(1, "ft²"), "[ft_i]2": {size: square, metric: "m²"},
		"g": both(1, "oz"), "kg": both(1000, "lb"), "t": both(1e6, "lb"), "[lb_av]": {size: pound, metric: "kg"}, "[oz_av]": {size: ounce, metric: "g"},
		"g/d": both(1/day, "oz/d"), "g/h": both(1/hour, "oz/h"), "kg/d": both(1000/day, "lb/d"),
		"kg/m3": both(1, "lb/ft³"), "m2/m3": both(1, "ft²/ft³"),
		"m/s": both(1, "ft/s"), "mm/s": both(0.001, "in/s"), "mm/d": both(0.001/day, "in/d"), "m/d": both(1/day, "ft/d"), "km/h": both(1000/hour, "mph"),
		"m/s{wind}": both(1, "mph"), "km/h{wind}": both(1000/hour, "mph"), "[mi_i]/h": {size: mph, metric: "km/h"},
		"m3/m2/d": gallons(1, "", "/ft²/d"),
		"N":       both(1, "lbf"), "N.m": both(1, "lbf·ft"), "kPa": both(1000, "psi"), "[psi]": {size: psi, metric: "kPa"},
		"{currency}/kg": both(0.001, "¤/lb"), "{currency}/L": gallons(1, "¤/", ""), "{currency}/m3": gallons(0.001, "¤/", ""),
		"g/m3": gallons(0.001, "g/", ""),
		"K":    {size: 1.8, us: "°F"}, "K/d": {size: 1.8 / day, us: "°F/d"}, "K/h": {size: 1.8 / hour, us: "°F/h"}, "K/min": {size: 1.8 / min, us: "°F/min"},
		"[degR]": {1, "°C", "°C", ""}, "Cel": {size: 1.8, us: "°F"}, "[degF]": {1, "°C", "°C", ""},
	}
	return marked, shown
}

// printedFactors reads the factors of the set of figures by the unit they are of.
func printedFactors(t *testing.T) map[string]float64 {
	t.Helper()
	f, err := os.Open(filepath.Join(root, "testdata/reference/hydraulics-unit-conversions.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	factors := map[string]float64{}
	for _, row := range rows {
		if v, err := strconv.ParseFloat(row[2], 64); err == nil { // °F has a formula
			factors[row[0]] = v
		}
	}
	for _, name := range []string{"US gallon per hour", "imperial gallon", "cubic foot", "inch", "foot", "square foot", "ounce (avoirdupois)", "pound per cubic foot"} {
		if factors[name] == 0 {
			t.Fatalf("the set has no factor of %s", name)
		}
	}
	return factors
}
