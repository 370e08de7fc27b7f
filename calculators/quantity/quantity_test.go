package quantity_test

import (
	"math"
	"strings"
	"testing"

	"mereleaf/calculators/quantity"
)

func TestParseReadsWhatPeopleWrite(t *testing.T) {
	for _, c := range []struct {
		text  string
		kind  quantity.Kind
		value float64
		code  string
	}{
		{"1,200 gal (US)", quantity.Volume, 1200, "[gal_us]"},
		{"1,200 US gallons", quantity.Volume, 1200, "[gal_us]"},
		{"1200 gallons(imp)", quantity.Volume, 1200, "[gal_br]"},
		{"1200 Imp. gal.", quantity.Volume, 1200, "[gal_br]"},
		{"2000 UK gallons", quantity.Volume, 2000, "[gal_br]"},
		{"2,000 imp gal/h", quantity.Flow, 2000, "[gal_br]/h"},
		{"500 US gph", quantity.Flow, 500, "[gal_us]/h"},
		{"8 gpm (US)", quantity.Flow, 8, "[gal_us]/min"},
		{"20 litres per minute", quantity.Flow, 20, "L/min"},
		{"12000lph", quantity.Flow, 12000, "L/h"},
		{"12 m³/hr", quantity.Flow, 12, "m3/h"},
		{"9.1 m^3", quantity.Volume, 9.1, "m3"},
		{"9.1 cubic metres", quantity.Volume, 9.1, "m3"},
		{"9\u00a0100\u00a0L", quantity.Volume, 9100, "L"},
		{"4 ft 6 in", quantity.Length, 4.5, "[ft_i]"},
		{"4'6\"", quantity.Length, 4.5, "[ft_i]"},
		{"4’ 6½”", quantity.Length, 4 + 6.5/12, "[ft_i]"},
		{"4 ft. 6 1/2 in.", quantity.Length, 4 + 6.5/12, "[ft_i]"},
		{"1 m 20 cm", quantity.Length, 1.2, "m"},
		{"5 lb 4 oz", quantity.Mass, 5.25, "[lb_av]"},
		{"1 h 30 min", quantity.Duration, 1.5, "h"},
		{"1½ in", quantity.Size, 1.5, "[in_i]"},
		{"1 1/2 in", quantity.Size, 1.5, "[in_i]"},
		{"1\u00a01/2\u00a0in", quantity.Size, 1.5, "[in_i]"},
		{"3/4\"", quantity.Size, 0.75, "[in_i]"},
		{"½ inch", quantity.Size, 0.5, "[in_i]"},
		{"45 CM", quantity.Size, 45, "cm"},
		{"3 M", quantity.Length, 3, "m"},
		{"12 lbs", quantity.Mass, 12, "[lb_av]"},
		{"1.5 kilos", quantity.Mass, 1.5, "kg"},
		{"1.2 t", quantity.Mass, 1.2, "t"},
		{"1.5mg/L", quantity.Concentration, 1.5, "mg/L"},
		{"1.5 mg/l", quantity.Concentration, 1.5, "mg/L"},
		{"1.5 ppm", quantity.Concentration, 1.5, "mg/L"},
		{"3 ppt", quantity.Concentration, 3, "g/L"},
		{"3 ppt", quantity.Salinity, 3, "g/kg"},
		{"25 µg/L", quantity.Concentration, 25, "ug/L"},
		{"21C", quantity.Temperature, 21, "Cel"},
		{"24 Cel", quantity.Temperature, 24, "Cel"},
		{"68 °F", quantity.Temperature, 68, "[degF]"},
		{"68 º F", quantity.Temperature, 68, "[degF]"},
		{"68 degrees f", quantity.Temperature, 68, "[degF]"},
		{"−2 °C", quantity.Temperature, -2, "Cel"},
		{"8.2", quantity.PH, 8.2, "[pH]"},
		{"pH 8.2", quantity.PH, 8.2, "[pH]"},
		{"8.2 pH", quantity.PH, 8.2, "[pH]"},
		{"36%", quantity.Share, 36, "%"},
		{"36 per cent", quantity.Share, 36, "%"},
		{"+20", quantity.Count, 20, "1"},
		{"1.2e3", quantity.Number, 1200, "1"},
		{"0.30", quantity.Money, 0.3, "{currency}"},
		{"0.5 g/m²/day", quantity.ArealRate, 0.5, "g/m2/d"},
		{"3 feet per second", quantity.Velocity, 3, "[ft_i]/s"},
		{"62 lb/ft³", quantity.Density, 62, "[lb_av]/[ft_i]3"},
		{"30mph", quantity.Velocity, 30, "[mi_i]/h"},
		{"30 mi/h", quantity.Velocity, 30, "[mi_i]/h"},
		{"50 kph", quantity.Velocity, 50, "km/h"},
		{"20 knots", quantity.Velocity, 20, "[kn_i]"},
		{"29.92 inHg", quantity.Pressure, 29.92, "[in_i'Hg]"},
		{`29.92 "Hg`, quantity.Pressure, 29.92, "[in_i'Hg]"},
		{"760 mmHg", quantity.Pressure, 760, "mm[Hg]"},
		{"760 mm Hg", quantity.Pressure, 760, "mm[Hg]"},
		{"14.7psi", quantity.Pressure, 14.7, "[psi]"},
		{"1013 mbar", quantity.Pressure, 1013, "hPa"},
		{"1013 hpa", quantity.Pressure, 1013, "hPa"},
		{"1.013 bar", quantity.Pressure, 1.013, "bar"},
		{"101 kpa", quantity.Pressure, 101, "kPa"},
		{"2 cups", quantity.Volume, 2, "[cup_us]"},
		{"2 cups (US)", quantity.Volume, 2, "[cup_us]"},
		{"½ cup", quantity.Volume, 0.5, "[cup_us]"},
		{"3 tbsp", quantity.Volume, 3, "[tbs_us]"},
		{"4 teaspoons", quantity.Volume, 4, "[tsp_us]"},
		{"8 fl oz (US)", quantity.Volume, 8, "[foz_us]"},
		{"8 fl. oz. (imp)", quantity.Volume, 8, "[foz_br]"},
		{"8 UK pints", quantity.Volume, 8, "[pt_br]"},
		{"2 US quarts", quantity.Volume, 2, "[qt_us]"},
		{"500 cc", quantity.Volume, 500, "cm3"},
		{"3dKH", quantity.Hardness, 3, "{°dH}"},
		{"3 °dH", quantity.Hardness, 3, "{°dH}"},
		{"3 ° dH", quantity.Hardness, 3, "{°dH}"},
		{"3 dGH", quantity.Hardness, 3, "{°dH}"},
		{"5 °fH", quantity.Hardness, 5, "{°fH}"},
		{"5 °f", quantity.Hardness, 5, "{°fH}"},
		{"4 °Clark", quantity.Hardness, 4, "{°e}"},
		{"4 gpg", quantity.Hardness, 4, "{gpg}"},
		{"54 ppm", quantity.Hardness, 54, "mg/L"},
		{"54 mg/l CaCO3", quantity.Hardness, 54, "mg/L"},
		{"1.1 meq/L", quantity.Hardness, 1.1, "{meq}/L"},
		{"12 stone 3 lb", quantity.Mass, 12 + 3.0/14, "[stone_av]"},
		{"1.1 kw", quantity.Power, 1.1, "kW"},
		{"1 500 L", quantity.Volume, 1500, "L"},
		{"12 345 678,5 L", quantity.Volume, 12345678.5, "L"},
		{"0,5 mg/L", quantity.Concentration, 0.5, "mg/L"},
		{"8,4", quantity.PH, 8.4, "[pH]"},
		{"1234,5 L", quantity.Volume, 1234.5, "L"},
		{"12 kwh", quantity.Energy, 12, "kW.h"},
		{"10 sq ft", quantity.Area, 10, "[ft_i]2"},
	} {
		q, err := quantity.Parse(c.text, c.kind, nil)
		if err != nil {
			t.Errorf("%s: %v", c.text, err)
			continue
		}
		if math.Abs(q.Value-c.value) > 1e-12*math.Abs(c.value) || q.Unit.Code != c.code {
			t.Errorf("%s is read as %v %s, want %v %s", c.text, q.Value, q.Unit.Code, c.value, c.code)
		}
	}
}

func TestParseRefusesInOneClearLine(t *testing.T) {
	for _, c := range []struct {
		text string
		kind quantity.Kind
		want string
	}{
		{"", quantity.Length, `"" is empty; write a length such as 12 m`},
		{" \t", quantity.Area, `"  " is empty; write an area such as 12 m²`},
		{"1,200 gal", quantity.Volume, `"1,200 gal" does not say which gallon; write gal (US) or gal (imp)`},
		{"500 gph", quantity.Flow, `"500 gph" does not say which gallon; write gal (US) or gal (imp)`},
		{"500 gallons per hour", quantity.Flow, `"500 gallons per hour" does not say which gallon; write gal (US) or gal (imp)`},
		{"5 gal (US) (imp)", quantity.Volume, `"5 gal (US) (imp)" does not say which gallon; write gal (US) or gal (imp)`},
		{"1,50,5 m", quantity.Length, `"1,50,5 m" has commas and points that do not fit together; write the decimal mark as a point, such as 1.5, and thousands as 1,500`},
		{"1.2.3 m", quantity.Length, `"1.2.3 m" has commas and points that do not fit together; write the decimal mark as a point, such as 1.5, and thousands as 1,500`},
		{"NaN", quantity.Number, `"NaN" is not a number; write digits, such as 12.5`},
		{"Inf m", quantity.Length, `"Inf m" is not a number; write digits, such as 12.5`},
		{"about 3 m", quantity.Length, `"about 3 m" is not a number; write digits, such as 12.5`},
		{"--3 m", quantity.Length, `"--3 m" is not a number; write digits, such as 12.5`},
		{"-+3 m", quantity.Length, `"-+3 m" is not a number; write digits, such as 12.5`},
		{"1e999 m", quantity.Length, `"1e999 m" is too large a number; check the digits`},
		{"1e308 km", quantity.Length, `"1e308 km" is too large a number; check the digits`},
		{"3/0 in", quantity.Size, `"3/0 in" divides by zero; write a fraction as 3/4`},
		{"5 fl oz", quantity.Volume, `"5 fl oz" does not say which fluid ounce; write fl oz (US) or fl oz (imp)`},
		{"5 pints", quantity.Volume, `"5 pints" does not say which pint; write pints (US) or pints (imp)`},
		{"2 cups (imp)", quantity.Volume, `"2 cups (imp)" has the unknown unit "cups (imp)"; write it in L, m³, gal (imp) or gal (US)`},
		{"5 metrs", quantity.Length, `"5 metrs" has the unknown unit "metrs"; is it metres or meters? write it in m, cm, ft or in`},
		{"5 mp/h", quantity.Velocity, `"5 mp/h" has the unknown unit "mp/h"; is it mph or km/h? write it in m/s, km/h, ft/s or mph`},
		{"5 mhp", quantity.Velocity, `"5 mhp" has the unknown unit "mhp"; is it mph? write it in m/s, km/h, ft/s or mph`},
		{"5 litters", quantity.Volume, `"5 litters" has the unknown unit "litters"; is it liters or litres? write it in L, m³, gal (imp) or gal (US)`},
		{"3 dKHH", quantity.Hardness, `"3 dKHH" has the unknown unit "dKHH"; is it dKH? write it in mg/L, °dH or °fH`},
		{"3 mmol/L", quantity.Hardness, `"3 mmol/L" is not a hardness; write it in mg/L, °dH or °fH`},
		{"3 dKH", quantity.Number, `"3 dKH" is not a number; write it in a plain number`},
		{"3 %", quantity.Number, `"3 %" is not a number; write it in a plain number`},
		{"1/2 hp", quantity.Power, `"1/2 hp" has the unknown unit "hp"; write it in W`}, // what a motor gives, not what it draws
		{"5 furlongs", quantity.Length, `"5 furlongs" has the unknown unit "furlongs"; write it in m, cm, ft or in`},
		{"5 kg", quantity.Length, `"5 kg" is not a length; write it in m, cm, ft or in`},
		{"5", quantity.Length, `"5" has no unit; write it in m, cm, ft or in`},
		{"5 m", quantity.PH, `"5 m" is not a pH; write it in a plain number`},
		{"0x10", quantity.Number, `"0x10" has the unknown unit "x10"; write it in a plain number`},
		{"1 50 m", quantity.Length, `"1 50 m" holds two numbers; write one, with thousands as 1,500`},
		{"1 5000 m", quantity.Length, `"1 5000 m" holds two numbers; write one, with thousands as 1,500`},
		{"5 12", quantity.Number, `"5 12" holds two numbers; write one, with thousands as 1,500`},
		{"4 ft 14 in", quantity.Length, `"4 ft 14 in" has the unknown unit "ft 14 in"; write it in m, cm, ft or in`},
		{"5 Cel/d", quantity.Temperature, `"5 Cel/d" is not a temperature; write it in °C or °F`},
		{"3 m\n2", quantity.Length, `"3 m 2" has the unknown unit "m 2"; write it in m, cm, ft or in`},
	} {
		q, err := quantity.Parse(c.text, c.kind, nil)
		if err == nil {
			t.Errorf("%q is read as %v %s", c.text, q.Value, q.Unit.Code)
			continue
		}
		if _, ok := err.(*quantity.ParseError); !ok || err.Error() != c.want {
			t.Errorf("%q: %T\n got %s\nwant %s", c.text, err, err, c.want)
		}
	}
}

// However long or strange a text is, its refusal stays one short line.
func TestRefusalsAreShort(t *testing.T) {
	for _, text := range []string{strings.Repeat("9", 100_000), strings.Repeat("x", 100_000), "5 " + strings.Repeat("m.", 100_000), "5 \x00\x1b[31m\r\n\xff"} {
		_, err := quantity.Parse(text, quantity.Length, nil)
		if err == nil {
			t.Errorf("%.20q… is read", text)
			continue
		}
		if s := err.Error(); len(s) > 300 || strings.ContainsAny(s, "\x00\x1b\r\n") {
			t.Errorf("%.20q…: %q", text, s)
		}
	}
}

// What a unit list proposes must itself be readable, for every kind.
func TestProposedUnitsAreRead(t *testing.T) {
	for k := quantity.Number; k.Units() != nil; k++ {
		if k.String() == "quantity" {
			t.Errorf("kind %d has no name", k)
		}
		for _, code := range k.Units() {
			for _, text := range []string{"12 " + code, "12 " + quantity.Symbol(code), quantity.WithUnit("12", code)} {
				if text == "12 1" {
					continue // a pure number has no unit to write
				}
				q, err := quantity.Parse(text, k, nil)
				if err != nil || q.Value != 12 || q.Unit.Code != code {
					t.Errorf("%s %q: %v %s, %v", k, text, q.Value, q.Unit.Code, err)
				}
			}
		}
	}
}

func TestFormatNumber(t *testing.T) {
	for _, c := range []struct {
		value  float64
		digits int
		want   string
	}{
		{9108, 2, "9,100"}, {9108, 3, "9,110"}, {9108, 6, "9,108.00"}, {0.0250, 2, "0.025"}, {0.06449, 3, "0.0645"}, {1234567, 7, "1,234,567"},
		{999.96, 4, "1,000"}, {9.996, 3, "10.0"}, {-2.5, 2, "−2.5"}, {0, 4, "0"}, {1e-9, 2, "0.0000000010"}, {1e15, 2, "1,000,000,000,000,000"},
		{123, 0, "100"}, {math.NaN(), 3, "—"}, {math.Inf(1), 3, "—"}, {math.Inf(-1), 3, "—"},
	} {
		if got := quantity.FormatNumber(c.value, c.digits); got != c.want {
			t.Errorf("FormatNumber(%v, %d) is %q, want %q", c.value, c.digits, got, c.want)
		}
	}
	for v, want := range map[float64]string{3.6: "3.6", 9100: "9,100", 0.25: "0.25", 10: "10", -0.5: "−0.5", 0: "0"} {
		if got := quantity.FormatPlain(v, 4); got != want {
			t.Errorf("FormatPlain(%v, 4) is %q, want %q", v, got, want)
		}
	}
	q := quantity.Quantity{Value: 9108, Unit: quantity.MustUnit("[gal_us]/h")}
	if got, want := q.Text(2), "9,100\u00a0gal\u00a0(US)/h"; got != want {
		t.Errorf("Text is %q, want %q", got, want)
	}
}

func TestReadNumberKeepsPrecisionAndRest(t *testing.T) {
	for _, c := range []struct {
		text        string
		value, step float64
		rest        string
	}{
		{"9.10 mg/L", 9.1, 0.01, " mg/L"}, {"1,200 L", 1200, 1, " L"}, {"1.20e3", 1200, 10, ""}, {"½ in", 0.5, 0, " in"}, {"2 3/8 in", 2.375, 0, " in"},
		{"330–390", 330, 1, "–390"}, {"330 to 390", 330, 1, " to 390"}, {"12.", 12, 1, "."}, {".5", 0.5, 0.1, ""}, {"1,200.50", 1200.5, 0.01, ""},
		{"3 5", 3, 1, " 5"}, {"1\u00a0200\u00a0000", 1200000, 1, ""}, {"12\u00a034", 12, 1, "\u00a034"}, {"3/h", 3, 1, "/h"}, {"1 3/2", 1, 1, " 3/2"}, {"−0.5", -0.5, 0.1, ""},
		{"5, 6", 5, 1, ", 6"}, {"2e", 2, 1, "e"},
	} {
		n, rest, err := quantity.ReadNumber(c.text)
		if err != nil || math.Abs(n.Value-c.value) > 1e-12 || math.Abs(n.Step-c.step) > 1e-12 || rest != c.rest {
			t.Errorf("%q: %+v, rest %q, %v", c.text, n, rest, err)
		}
	}
}
