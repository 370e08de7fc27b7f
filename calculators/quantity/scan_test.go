package quantity_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators/quantity"
)

// prose is the grammar of a chapter with some nouns of its own.
var prose = quantity.Grammar{Words: true, Nouns: func(word string) (string, bool) {
	switch singular := strings.TrimSuffix(strings.TrimSuffix(word, "s"), "xe"); singular {
	case "bo", "box":
		return "box", true
	case "koi", "hole", "pump", "tower":
		return singular, true
	}
	return "", false
}}

// told says what a span holds: its text, then form, values, unit and the like.
func told(text string, s quantity.Span) string {
	var b strings.Builder
	b.WriteString(strings.NewReplacer("\u00a0", " ", "\u202f", " ", "\n", " ").Replace(text[s.Start:s.End]) + " |")
	b.WriteString([]string{"", " range", " list", " product"}[s.Form])
	b.WriteString([]string{"", " ≥", " ≤", " >", " <", " ~"}[s.Mark])
	for _, n := range s.Numbers {
		fmt.Fprintf(&b, " %.6g", n.Value)
	}
	if s.HasUnit {
		b.WriteString(" " + s.Unit.Code)
	}
	b.WriteString(map[bool]string{true: " #" + s.Noun}[s.Noun != ""])
	b.WriteString(s.Currency)
	if s.Fault != nil {
		b.WriteString(" !" + s.Fault.Reason)
	}
	if s.Both != nil {
		b.WriteString(" = " + told(text, *s.Both))
	}
	return b.String()
}

func TestScan(t *testing.T) {
	for text, want := range map[string]string{
		"The pond holds 9,100 L.":                          "9,100 L | 9100 L",
		"It holds 9\u00a0100\u00a0L":                       "9 100 L | 9100 L",
		"about 1,200 gal (US) a day":                       "1,200 gal (US) a day | ~ 1200 [gal_us]/d",
		"a bag of 16 to 18 L for half a day":               "16 to 18 L | range 16 18 L; half a day | 0.5 d",
		"warm at 18–25 °C, or more":                        "18–25 °C | range 18 25 Cel",
		"between 2 and 5 mg/L":                             "between 2 and 5 mg/L | range 2 5 mg/L",
		"filters at 15 and 20 °C":                          "15 and 20 °C | list 15 20 Cel",
		"try 2, 2.5 and 3 hours":                           "2, 2.5 and 3 hours | list 2 2.5 3 h",
		"5 or 6 boxes, each 560 × 360 × 270 mm":            "5 or 6 boxes | range 5 6 #box; 560 × 360 × 270 mm | product 560 360 270 mm",
		"boxes of 560 by 360 mm":                           "560 by 360 mm | product 560 360 mm",
		"140 × 6 mm":                                       "6 mm | 6 mm",
		"At 10 °C (50 °F) they rest":                       "10 °C | 10 Cel = 50 °F | 50 [degF]",
		"52 L/min, or 680 gal (imp)/h, is":                 "52 L/min | 52 L/min = 680 gal (imp)/h | 680 [gal_br]/h",
		"a 10 L bucket (2.6 gal (US))":                     "10 L | 10 L = 2.6 gal (US) | 2.6 [gal_us]",
		"Pieces of 10 to 25 mm (⅜ to 1 in) do":             "10 to 25 mm | range 10 25 mm = ⅜ to 1 in | range 0.375 1 [in_i]",
		"a fall of 3\u202f°C, at 3\u00a0°C":                "3 °C | 3 K; 3 °C | 3 Cel",
		"from −4 to 3 °C":                                  "−4 to 3 °C | range -4 3 Cel",
		"4 ft 6 in deep, 1 h 30 min long":                  "4 ft 6 in | 4.5 [ft_i]; 1 h 30 min | 1.5 h",
		"1½ in pipe and 3/4 inch hose":                     "1½ in | 1.5 [in_i]; 3/4 inch | 0.75 [in_i]",
		"135 in place of 120":                              "",
		"twenty large koi":                                 "twenty large koi | 20 #koi",
		"two 6 mm holes":                                   "two 6 mm holes | 2 #hole",
		"drill 84 holes of 6 mm":                           "84 holes | 84 #hole; 6 mm | 6 mm",
		"half a milligram, a quarter of an hour":           "half a milligram | 0.5 mg; quarter of an hour | 0.25 h",
		"two and a half weeks":                             "two and a half weeks | 2.5 wk",
		"a two-inch pipe, a 10-litre bucket":               "two-inch | 2 [in_i]; 10-litre | 10 L",
		"half of the boxes; one of the pumps":              "",
		"0.5 mg/L a day, 1 °C a day, 30 cm a second":       "0.5 mg/L a day | 0.5 mg/L/d; 1 °C a day | 1 K/d; 30 cm a second | 30 cm/s",
		"100 g a day, 25 g per kg, 2,300 L/h":              "100 g a day | 100 g/d; 25 g per kg | 25 g/kg; 2,300 L/h | 2300 L/h",
		"at pH 8.2 and 21 °C":                              "8.2 | 8.2 [pH] #pH; 21 °C | 21 Cel",
		"from pH 7.4 to 8.2":                               "7.4 to 8.2 | range 7.4 8.2 [pH] #pH",
		"KH below 4 is low, 5 KH is not":                   "4 | < 4 #KH; 5 KH | 5 #KH",
		"hardness of 8 °dH":                                "8 °dH | 8 {°dH}",
		"≥ 30 % of it; up to 5 kg":                         "≥ 30 % | ≥ 30 %; 5 kg | ≤ 5 kg",
		"£0.30 per kWh, 5 € or $ 3":                        "£0.30 per kWh | 0.3 {currency}/(kW.h)£; 5 € | 5 {currency}€",
		"10 gallons of it":                                 "10 gallons | 10 !does not say which gallon",
		"2,000 UK gallons, 500 US gph":                     "2,000 UK gallons | 2000 [gal_br]; 500 US gph | 500 [gal_us]/h",
		"1,5 kg and 0,500 L":                               "1,5 kg | 1.5 kg !has a decimal comma; 0,500 L | 0.5 L !has a decimal comma",
		"The step of 5 came in 2008; see W 3, step 4.":     "",
		"an IPX8 pump of 60 W by BS 7671, Table 4.14.1":    "60 W | 60 W",
		"a 12-volt pump for 24 hours":                      "12-volt | 12 V; 24 hours | 24 h",
		"5 a day; the one in the pond; two in five":        "",
		"five boxes, 12 kg each":                           "five boxes | 5 #box; 12 kg | 12 kg",
		"7 to 12 % a degree":                               "7 to 12 % | range 7 12 %",
		"one to two weeks\nor 5\nweeks":                    "one to two weeks | range 1 2 wk; 5 weeks | 5 wk",
		"30 mm to 40 mm":                                   "30 mm to 40 mm | range 30 40 mm",
		"100 to 250 m²/m³, 5 g/m²/d, 4 N·m, 3 m³/m² a day": "100 to 250 m²/m³ | range 100 250 m2/m3; 5 g/m²/d | 5 g/m2/d; 4 N·m | 4 N.m; 3 m³/m² a day | 3 m3/m2/d",
	} {
		var found []string
		for _, s := range prose.Scan(text) {
			found = append(found, told(text, s))
		}
		want = strings.Replace(want, "between ", "", 1)
		if got := strings.Join(found, "; "); got != want {
			t.Errorf("%q:\n got %s\nwant %s", text, got, want)
		}
	}
}

func TestScanBare(t *testing.T) {
	for text, want := range map[string]string{
		"In 2008, on 25 November, at 14:30 or 7 am": "2008 year, 25 time, 14 time, 30 time, 7 time",
		"see W 3 and page 12; step 4 of 5":          "3 page, 12 page, 4 step, 5 bare",
		"IPX8 by BS 7671 and P2O5, the 1st":         "IPX8 code, 7671 code, P2O5 code, 1 ordinal",
		"half of it, one of two":                    "half bare, one bare, two bare",
		"No number, nobody":                         "",
	} {
		var found []string
		for _, b := range prose.ScanBare(text) {
			found = append(found, text[b.Start:b.End]+" "+string(b.Reason))
		}
		if got := strings.Join(found, ", "); got != want {
			t.Errorf("%q:\n got %s\nwant %s", text, got, want)
		}
	}
}

// A number of two readings is refused with both; what the handbook prints has one.
func TestNumbersOfTwoReadings(t *testing.T) {
	for text, want := range map[string]string{
		"15.000 L": `"15.000 L" may be 15 or 15000; write the one that is meant, without a comma`,
		"1,234 L":  `"1,234 L" may be 1234 or 1.234; write the one that is meant, without a comma`,
		"1.250 L":  `"1.250 L" may be 1.25 or 1250; write the one that is meant, without a comma`,
	} {
		if _, err := quantity.Parse(text, quantity.Volume, nil); err == nil || err.Error() != want {
			t.Errorf("%s: %v", text, err)
		}
	}
	for text, want := range map[string]float64{
		"9,100 L": 9100, "1,234.5 L": 1234.5, "1,234,567 L": 1234567, "1.234.567 L": 1234567, "1.500,5 L": 1500.5, "1,5 L": 1.5, "0,500 L": 0.5,
		"1,2345 L": 1.2345, "12,75 L": 12.75, "1.234 L": 1.234, "0.250 L": 0.25, "1\u00a0234 L": 1234, "1\u00a0234,5 L": 1234.5, "1234 L": 1234, "1500.000 L": 1500,
	} {
		if q, err := quantity.Parse(text, quantity.Volume, nil); err != nil || q.Value != want {
			t.Errorf("%s: %v, %v; want %v", text, q.Value, err, want)
		}
	}
	if q, err := quantity.Parse("1,234", quantity.Count, nil); err != nil || q.Value != 1234 {
		t.Errorf("a count of 1,234 is %v, %v", q.Value, err)
	}
}

// What the program prints scans back to the same value and unit, in a sentence
// as alone.
func TestPrintedQuantityScansBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kind := rapid.SampledFrom(kinds()).Draw(t, "kind")
		u := quantity.MustUnit(rapid.SampledFrom(kind.Units()).Draw(t, "unit"))
		v := rapid.Float64Range(-1e5, 1e5).Draw(t, "value")
		digits := rapid.IntRange(1, 9).Draw(t, "digits")
		number := quantity.FormatNumber(v, digits)
		if quantity.Symbol(u.Code) == "" || u.Code == "{currency}" {
			return // stands without a unit
		}
		text := "Here are " + quantity.WithUnit(number, u.Code) + " of it, or more."
		found := quantity.Grammar{Words: true}.Scan(text)
		if len(found) != 1 || found[0].Unit.Code != u.Code || len(found[0].Numbers) != 1 {
			t.Fatalf("%q scans as %+v", text, found)
		}
		n, _, _ := quantity.ReadNumber(number)
		if math.Abs(found[0].Numbers[0].Value-n.Value) > 0 || text[found[0].NumStart:found[0].NumEnd] != number {
			t.Fatalf("%q scans as %v", text, found[0].Numbers)
		}
	})
}

// Whatever a text holds, spans stand in order inside it, do not overlap, and
// every digit is in a span, in a bare number, or in a word.
func FuzzScan(f *testing.F) {
	for _, text := range []string{"9,100 L", "pH 8.2 and 21 °C", "4 ft 6 in", "5 or 6 boxes", "£0.30 per kWh", "half an hour", "1,2,3 kg", "10 °C (50 °F)", "−½ in", "\xff5\xa0L", "5 gal (US) (imp)", "two\nhalf a"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		end := 0
		for _, s := range prose.Scan(text) {
			for p := &s; p != nil; p = p.Both {
				if p.Lead < end || p.Start < p.Lead || p.NumStart < p.Start || p.NumEnd <= p.NumStart || p.End < p.NumEnd || p.End < p.UnitEnd || p.End > len(text) || len(p.Numbers) == 0 {
					t.Fatalf("%q: %+v after %d", text, *p, end)
				}
				end = p.End
			}
		}
		for _, b := range prose.ScanBare(text) {
			if b.Start >= b.End || b.End > len(text) || b.Reason == "" {
				t.Fatalf("%q: %+v", text, b)
			}
		}
	})
}
