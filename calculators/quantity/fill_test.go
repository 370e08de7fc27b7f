package quantity_test

import (
	"testing"

	"mereleaf/calculators/quantity"
)

func TestFill(t *testing.T) {
	for _, c := range []struct {
		text   string
		values []float64
		want   string
		left   int
	}{
		{"nothing to fill", nil, "nothing to fill", 0},
		{"{3}", []float64{1.23456}, "1.23", 0},
		{"{3 mg/L} of it", []float64{1.5}, "1.50\u00a0mg/L of it", 0},
		{"{~4} m × {~4 m2}", []float64{3.6, 2}, "3.6 m × 2\u00a0m²", 0},
		{"Row {0}", []float64{1234.5}, "Row 1,235", 0},
		{"{0 %}", []float64{7.4}, "7\u00a0%", 0},
		{"{2 {NTU}}, {2}", []float64{5, 6}, "5.0\u00a0NTU, 6.0", 0},
		{"{2} and no more", []float64{1, 2, 3}, "1.0 and no more", 2},
		{"{toxic 2 mg/L} of {total 3 mg/L}", []float64{0.1, 1}, "0.10\u00a0mg/L of 1.00\u00a0mg/L", 0},
		{"below {limit mg/L}, {limit ~} of it", []float64{0.05}, "below 0.05\u00a0mg/L, 0.05 of it", 0},
		{"from {from Cel} to {to %}", []float64{28, 12.5}, "from 28\u00a0°C to 12.5\u00a0%", 0},
		{"{cloud {NTU}} and {more 2 {NTU}}", []float64{5, 6}, "5\u00a0NTU and 6.0\u00a0NTU", 0},
		{"at most {step K} a day, {step 2 K}", []float64{1}, "at most 1\u202f°C a day, 1.0\u202f°C", 0},
		{"{~4 K/d}", []float64{0.56}, "0.56\u00a0K/d", 0},
		{"{boxes 0|box|boxes}", []float64{1}, "1 box", 0},
		{"{boxes 0|box|boxes}", []float64{0.96}, "1 box", 0},
		{"{boxes 0|box|boxes} {boxes |is|are} full", []float64{1234}, "1,234 boxes are full", 0},
		{"{hours ~2|hour|hours}", []float64{1.5}, "1.5 hours", 0},
		{"{hours 2|hour|hours}", []float64{1}, "1.0 hours", 0},
		{"test {missing} of {count 0}", []float64{3}, "test {missing} of 3", 0},
		{"{a 2} {b 2} {a 2} {2} {2}", []float64{1, 2, 3, 4}, "1.0 2.0 1.0 3.0 4.0", 0},
		{"{boxes |is|are}", nil, "", -1},
		{"{x mg/L}", nil, "", -1},
		{"{2 mg/L}", nil, "", -1},
	} {
		got, rest, failed := fill(c.text, c.values)
		if failed != (c.left < 0) || !failed && (got != c.want || len(rest) != c.left) {
			t.Errorf("Fill(%q, %v) = %q with %d left, panics: %v; want %q with %d left", c.text, c.values, got, len(rest), failed, c.want, c.left)
		}
	}
}

func fill(text string, values []float64) (filled string, rest []float64, failed bool) {
	defer func() { failed = recover() != nil }()
	filled, rest = quantity.Fill(text, values)
	return filled, rest, false
}

func TestPut(t *testing.T) {
	for _, c := range []struct{ text, name, words, want string }{
		{"test {missing} first", "missing", "pH", "test pH first"},
		{"{missing}, and {missing}", "missing", "KH", "KH, and KH"},
		{"{other 2}", "missing", "KH", "{other 2}"},
	} {
		if got := quantity.Put(c.text, c.name, c.words); got != c.want {
			t.Errorf("Put(%q, %q, %q) = %q; want %q", c.text, c.name, c.words, got, c.want)
		}
	}
	if got := quantity.Put("{a} to {b}", "a", "{b}", "b", "x"); got != "x to x" {
		t.Errorf("names are put in order: %q", got)
	}
	if got := quantity.Put("{a} to {b}", "b", "1", "a", "{b}"); got != "{b} to 1" {
		t.Errorf("words that come last are not looked into: %q", got)
	}
}
