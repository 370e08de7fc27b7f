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
		{"{[gal_us]}", nil, "", -1},
		{"{x}", []float64{1}, "", -1},
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
