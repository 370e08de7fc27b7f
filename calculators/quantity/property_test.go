package quantity_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"mereleaf/calculators/quantity"
	"pgregory.net/rapid"
)

// kinds returns every kind there is.
func kinds() []quantity.Kind {
	var all []quantity.Kind
	for k := quantity.Number; k.Units() != nil; k++ {
		all = append(all, k)
	}
	return all
}

func TestConversionThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		units := rapid.SampledFrom(kinds()).Draw(t, "kind").Units()
		from := quantity.MustUnit(rapid.SampledFrom(units).Draw(t, "from"))
		to := quantity.MustUnit(rapid.SampledFrom(units).Draw(t, "to"))
		v := rapid.Float64Range(-1e6, 1e6).Draw(t, "value")
		back := to.Convert(from.Convert(v, to), from)
		// A scale with an offset loses what is small beside the offset.
		if math.Abs(back-v) > 1e-12*(math.Abs(v)+500) {
			t.Fatalf("%v %s comes back from %s as %v", v, from.Code, to.Code, back)
		}
	})
}

func TestConversionKeepsOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		units := rapid.SampledFrom(kinds()).Draw(t, "kind").Units()
		from := quantity.MustUnit(rapid.SampledFrom(units).Draw(t, "from"))
		to := quantity.MustUnit(rapid.SampledFrom(units).Draw(t, "to"))
		a, b := rapid.Float64Range(-1e6, 1e6).Draw(t, "a"), rapid.Float64Range(-1e6, 1e6).Draw(t, "b")
		if a < b && from.Convert(a, to) > from.Convert(b, to) {
			t.Fatalf("%v < %v %s turn round in %s", a, b, from.Code, to.Code)
		}
	})
}

func TestPrintedNumberReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		exponent := rapid.IntRange(-12, 15).Draw(t, "exponent")
		v := rapid.Float64Range(-10, 10).Draw(t, "mantissa") * math.Pow10(exponent)
		digits := rapid.IntRange(1, 9).Draw(t, "digits")
		text := quantity.FormatNumber(v, digits)
		if strings.ContainsAny(text, "eE+") {
			t.Fatalf("%v prints as %s", v, text)
		}
		n, rest, err := quantity.ReadNumber(text)
		if err != nil || rest != "" {
			t.Fatalf("%s (%v): rest %q, %v", text, v, rest, err)
		}
		if v == 0 {
			return
		}
		half := math.Pow10(int(math.Floor(math.Log10(math.Abs(v))))-digits+1) / 2
		if math.Abs(n.Value-v) > half*(1+1e-6) {
			t.Fatalf("%v to %d digits prints as %s, off by %v", v, digits, text, n.Value-v)
		}
	})
}

// A quantity printed in any unit of its kind reads back as the same quantity.
func TestPrintedQuantityReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kind := rapid.SampledFrom(kinds()).Draw(t, "kind")
		u := quantity.MustUnit(rapid.SampledFrom(kind.Units()).Draw(t, "unit"))
		v := rapid.Float64Range(-1e5, 1e5).Draw(t, "value")
		text := quantity.Quantity{Value: v, Unit: u}.Text(9)
		q, err := quantity.Parse(text, kind, nil)
		if err != nil {
			t.Fatalf("%s: %v", text, err)
		}
		if q.Unit.Code != u.Code || math.Abs(q.Value-v) > 1e-8*math.Abs(v) {
			t.Fatalf("%v %s prints as %s and reads as %v %s", v, u.Code, text, q.Value, q.Unit.Code)
		}
	})
}

func FuzzParse(f *testing.F) {
	for _, text := range []string{"1,200 gal (US)", "4 ft 6 in", "68 °F", "1½ in", "1 1/2 in", "1.5mg/L", "gal", "1,5 m", "NaN", "", "2,000 imp gal/h", "1e999 m", "pH", "5 \xff", "1 h 30 min"} {
		for _, k := range []quantity.Kind{quantity.Volume, quantity.Length, quantity.Temperature, quantity.PH} {
			f.Add(text, uint8(k))
		}
	}
	f.Fuzz(func(t *testing.T, text string, k uint8) {
		kind := kinds()[int(k)%len(kinds())]
		q, err := quantity.Parse(text, kind, nil)
		if err != nil {
			if s := err.Error(); strings.ContainsAny(s, "\n\r") || len(s) > 400 {
				t.Fatalf("%q: %q is not one short line", text, s)
			}
			return
		}
		if !q.Unit.SameDimension(quantity.MustUnit(kind.Units()[0])) || math.IsNaN(q.SI()) || math.IsInf(q.SI(), 0) {
			t.Fatalf("%q is read as the %s %v %s", text, kind, q.Value, q.Unit.Code)
		}
	})
}

func FuzzParseUnit(f *testing.F) {
	for _, code := range []string{"mg/L", "[gal_us]/min", "m3/m2/d", "mg/L/(g/kg)", "{currency}/(kW.h)", "Cel/d", "/m3", "m-2", "1", "12", "((m))", "[in_i]"} {
		f.Add(code)
	}
	f.Fuzz(func(t *testing.T, code string) {
		u, err := quantity.ParseUnit(code)
		if err != nil {
			return
		}
		if u.Code != code || !(u.Factor > 0) || math.IsInf(u.Factor, 0) {
			t.Fatalf("%q is read as %+v", code, u)
		}
		inverse, err := quantity.ParseUnit("1/(" + code + ")")
		if err != nil {
			return // a temperature scale, or a code already of the greatest length
		}
		if math.Abs(inverse.Factor*u.Factor-1) > 1e-12 {
			t.Fatalf("1/(%s) has the factor %v, and %s %v", code, inverse.Factor, code, u.Factor)
		}
	})
}

func FuzzReadNumber(f *testing.F) {
	for _, text := range []string{"1,200.5 L", "1\u00a0200", "1½", "1 1/2 in", "3/4", "-5", "−5", "1e3", "1,5", "0,500", ".5", "1e-999", "½", "1/0", "9e9999"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		n, rest, err := quantity.ReadNumber(text)
		if err != nil {
			if rest != text {
				t.Fatalf("%q: refused, yet the rest is %q", text, rest)
			}
			return
		}
		if math.IsNaN(n.Value) || math.IsInf(n.Value, 0) || n.Step < 0 {
			t.Fatalf("%q is read as %+v", text, n)
		}
		if !strings.HasSuffix(text, rest) || len(rest) == len(text) {
			t.Fatalf("%q leaves %q", text, rest)
		}
		// The number itself, without what follows, reads the same.
		again, after, err := quantity.ReadNumber(strings.TrimSuffix(text, rest))
		if err != nil || after != "" || again != n {
			t.Fatalf("%q is %+v, and without %q %+v, %q, %v", text, n, rest, again, after, err)
		}
	})
}

// A number of as many digits as anybody measures reads as the nearest float64,
// and prints as the standard library prints it.
func TestNumberIsNearest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		digits := rapid.Int64Range(0, 999_999_999_999_999).Draw(t, "digits")
		exponent := rapid.IntRange(-22, 22).Draw(t, "exponent")
		text := strconv.FormatInt(digits, 10) + "e" + strconv.Itoa(exponent)
		want, err := strconv.ParseFloat(text, 64)
		if err != nil {
			t.Fatal(err)
		}
		n, rest, err := quantity.ReadNumber(text)
		if err != nil || rest != "" || n.Value != want {
			t.Fatalf("%s reads as %v, rest %q, %v; want %v", text, n.Value, rest, err, want)
		}
	})
}

func TestNumberPrintsRounded(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(-1e9, 1e9).Draw(t, "value") * math.Pow10(rapid.IntRange(-12, 3).Draw(t, "exponent"))
		digits := rapid.IntRange(1, 12).Draw(t, "digits")
		if v == 0 {
			return
		}
		e := strconv.FormatFloat(v, 'e', digits-1, 64)
		rounded, err := strconv.ParseFloat(e, 64)
		if err != nil {
			t.Fatal(err)
		}
		power, err := strconv.Atoi(e[strings.IndexByte(e, 'e')+1:])
		if err != nil {
			t.Fatal(err)
		}
		places := max(digits-1-power, 0)
		want := strings.Replace(strconv.FormatFloat(rounded, 'f', places, 64), "-", "−", 1)
		if got := strings.ReplaceAll(quantity.FormatNumber(v, digits), ",", ""); got != want {
			t.Fatalf("%v to %d digits prints as %s, want %s", v, digits, got, want)
		}
	})
}
