package reftest

import (
	"math"
	"strings"
	"testing"
)

// recorder notes whether a helper failed the test it was given.
type recorder struct {
	testing.TB
	failed int
}

func (r *recorder) Helper()               {}
func (r *recorder) Errorf(string, ...any) { r.failed++ }

const sample = "depth [m],volume [L],source,locator,basis,note\n" +
	"1.2,\"16.38\",somebody-2001,table 1,published,\n" +
	"2,4e3,somebody-2001,table 1,published,\"two\nlines\"\n" +
	",480,somebody-2001,table 1,published,\n"

func sampleRows(t *testing.T) ([]Row, *recorder) {
	t.Helper()
	rows, err := readRows(strings.NewReader(sample), "sample.csv")
	if err != nil {
		t.Fatal(err)
	}
	r := &recorder{TB: t}
	for i := range rows {
		rows[i].t = r
	}
	return rows, r
}

func TestRowsKeepPlaceAndPrecision(t *testing.T) {
	rows, r := sampleRows(t)
	for i, want := range []struct {
		place       string
		value, step float64
	}{{"sample.csv:2", 16.38, 0.01}, {"sample.csv:3", 4000, 1000}, {"sample.csv:5", 480, 1}} {
		if rows[i].Place != want.place || rows[i].Float("volume [L]") != want.value || math.Abs(rows[i].Step("volume [L]")-want.step) > 1e-12 {
			t.Errorf("row %d: %s %v ± %v", i, rows[i].Place, rows[i].Float("volume [L]"), rows[i].Step("volume [L]"))
		}
	}
	if rows[2].Has("depth [m]") || !rows[0].Has("depth [m]") {
		t.Error("an empty cell and a filled one are not told apart")
	}
	if r.failed != 0 {
		t.Errorf("%d false failures", r.failed)
	}
}

func TestNearTakesTheLastDigit(t *testing.T) {
	rows, r := sampleRows(t)
	for got, fails := range map[float64]bool{16.38: false, 16.3849: false, 16.3751: false, 16.386: true, 16.374: true, math.NaN(): true} {
		r.failed = 0
		Near(r, rows[0], got, "volume [L]")
		if (r.failed > 0) != fails {
			t.Errorf("Near accepts %v against 16.38: %v", got, !fails)
		}
	}
	r.failed = 0
	Within(r, rows[0], 16.5, "volume [L]", 0.01)
	if r.failed != 0 {
		t.Error("16.5 is within 1 % of 16.38")
	}
	Within(r, rows[0], 16.6, "volume [L]", 0.01)
	if r.failed != 1 {
		t.Error("16.6 is not within 1 % of 16.38")
	}
}

func TestWrongColumnFails(t *testing.T) {
	rows, r := sampleRows(t)
	if !math.IsNaN(rows[0].Float("volume")) || r.failed == 0 {
		t.Error("a column that is not there reads as a number")
	}
	r.failed = 0
	if !math.IsNaN(rows[2].Float("depth [m]")) || r.failed == 0 {
		t.Error("an empty cell reads as a number")
	}
}

func TestMalformedSetsAreRefused(t *testing.T) {
	for _, text := range []string{"", "a,b\n", "a,a\n1,2\n", "a,b\n1\n"} {
		if _, err := readRows(strings.NewReader(text), "x"); err == nil {
			t.Errorf("%q is accepted", text)
		}
	}
}
