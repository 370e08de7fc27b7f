package limits_test

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"mereleaf/calculators/internal/reftest"
	"mereleaf/calculators/limits"
)

// all lists the table with its places in it.
func all() []limits.Limit {
	var rows []limits.Limit
	for r := limits.Chlorine; r <= limits.Lift; r++ {
		rows = append(rows, limits.Of(r)...)
	}
	return rows
}

// named are the readings as the figure sets call them.
func named() map[string]limits.Reading {
	return map[string]limits.Reading{
		"un-ionised ammonia": limits.Ammonia, "nitrite": limits.Nitrite, "nitrate": limits.Nitrate, "chlorine total": limits.Chlorine,
		"pH": limits.PH, "KH": limits.Alkalinity, "dissolved oxygen at dawn": limits.Oxygen, "temperature": limits.Temperature,
	}
}

// edge is where a band begins.
type edge struct {
	reading limits.Reading
	side    limits.Side
	band    limits.Band
	value   float64
}

// interval is a row of the figure set of bands.
type interval struct {
	parameter string
	band      limits.Band
	low, high float64 // NaN: none
}

func intervals(t *testing.T) []interval {
	t.Helper()
	words := []string{"good", "watch", "act", "emergency"}
	var found []interval
	for _, row := range reftest.Read(t, "safety-reading-bands") {
		i := interval{parameter: row.Text("parameter"), band: slices.Index(words, row.Text("band")), low: math.NaN(), high: math.NaN()}
		for _, unit := range []string{" [mg/L]", " [pH]", " [Cel]"} {
			if row.Has("low" + unit) {
				i.low = row.Float("low" + unit)
			}
			if row.Has("high" + unit) {
				i.high = row.Float("high" + unit)
			}
		}
		if i.band < 0 || row.Text("basis") != "practice" {
			t.Errorf("%s: the band %q of basis %q is none that the table knows", row.Place, row.Text("band"), row.Text("basis"))
		}
		found = append(found, i)
	}
	return found
}

// A band begins where it touches a better one. Each such edge of the figure set is
// a row of the table, and each band of the table an edge of the figure set: a limit
// changed, dropped or turned to the other side is found here.
func TestBandsAreThoseOfTheFigures(t *testing.T) {
	var want []edge
	rows := intervals(t)
	for _, worse := range rows {
		for _, better := range rows {
			if better.parameter != worse.parameter || better.band >= worse.band {
				continue
			}
			if better.high == worse.low {
				want = append(want, edge{named()[worse.parameter], limits.Above, worse.band, worse.low})
			}
			if better.low == worse.high {
				want = append(want, edge{named()[worse.parameter], limits.Below, worse.band, worse.high})
			}
		}
	}
	var got []edge
	for _, l := range all() {
		if l.Side == limits.NoSide || l.Reading == limits.TotalAmmonia {
			continue
		}
		v := l.Value()
		if v < 1e-9 { // any that shows
			v = 0
		}
		got = append(got, edge{l.Reading, l.Side, l.Band, v})
	}
	for _, e := range want {
		if !slices.Contains(got, e) {
			t.Errorf("the figures have a band that the table has not: %+v", e)
		}
	}
	for _, e := range got {
		if !slices.Contains(want, e) {
			t.Errorf("the table has a band that the figures have not: %+v", e)
		}
	}
	if len(want) < 20 {
		t.Errorf("only %d edges of bands", len(want))
	}
}

// published is a row of a figure set that states a limit.
type published struct {
	place                  string
	form                   string
	value                  float64
	source, locator, basis string
}

func figures(t *testing.T) []published {
	t.Helper()
	var found []published
	read := func(set, form string, factor float64, columns ...string) {
		for _, row := range reftest.Read(t, set) {
			for _, column := range columns {
				if !row.Has(column) {
					continue
				}
				p := published{place: row.Place, value: factor * row.Float(column), source: row.Text("source"), locator: row.Text("locator"), basis: row.Text("basis")}
				if form != "" {
					p.form = row.Text(form)
				}
				found = append(found, p)
			}
		}
	}
	read("safety-water-actions", "expressed_as", 1, "value [mg/L]", "value [pH]", "value [Cel]")
	read("stocking-dissolved-oxygen-limits", "", 1, "oxygen [mg/L]")
	read("water-ammonia-limits", "expressed as", 1, "concentration [mg/L]")
	read("water-nitrite-nitrate-chloride-limits", "expressed as", 1, "concentration [mg/L]")
	read("water-chlorine-limits", "", 1e-3, "concentration [ug/L]")
	read("water-salt-doses", "", 1, "salt [g/L]")
	read("water-nitrite-chloride-ratios", "", 1e-3, "chloride part [1]") // mg/L, as its note says
	read("safety-lift-filter", "hand_height", 1, "filter_mass [kg]")
	return found
}

// forms says how the figure sets write what a limit counts.
func forms(l limits.Limit) []string {
	switch l.As {
	case limits.AsN:
		return []string{"N", "NO3-N"}
	case limits.AsNH3:
		return []string{"NH3"}
	case limits.AsNO2:
		return []string{"NO2"}
	case limits.AsNO3:
		return []string{"NO3"}
	}
	switch l.Reading {
	case limits.Ammonia:
		return []string{"NH3-N"}
	case limits.Nitrite:
		return []string{"NO2-N"}
	case limits.Nitrate:
		return []string{"NO3"}
	case limits.TotalAmmonia:
		return []string{"TAN as N"}
	case limits.Alkalinity:
		return []string{"CaCO3"}
	case limits.Oxygen:
		return []string{"O2", ""}
	case limits.CarbonDioxide:
		return []string{"CO2"}
	case limits.Lift:
		if l.Stated == limits.LiftOverhead {
			return []string{"shoulder to above head"}
		}
		return []string{"knuckle to elbow"}
	}
	return []string{""}
}

// Each limit that is not a band of common practice alone states what one row of
// the figures states: the same number counted in the same way, with the same
// source, locator and basis. A source or locator that is swapped, or a figure that
// is taken for nitrogen and is not, is found here.
func TestLimitsAreThoseOfTheirSources(t *testing.T) {
	rows := figures(t)
	for _, l := range all() {
		if l.Source == "" && l.Side != limits.NoSide && l.Reading != limits.TotalAmmonia {
			if l.Basis != "practice" {
				t.Errorf("%v of reading %d has no source and the basis %q", l.Stated, l.Reading, l.Basis)
			}
			continue // compared with the bands
		}
		states := func(p published) bool {
			return math.Abs(p.value-l.Stated) <= 1e-9 && slices.Contains(forms(l), p.form) && p.source == l.Source && p.locator == l.Locator && p.basis == l.Basis
		}
		if !slices.ContainsFunc(rows, states) {
			t.Errorf("no figure states %v of reading %d by %q, %q (%s), label %q", l.Stated, l.Reading, l.Source, l.Locator, l.Basis, l.Label)
		}
	}
}

// When a filter is mature is said in one figure set.
func TestMatureIsThatOfTheFigures(t *testing.T) {
	rows := reftest.Read(t, "media-mature-filter")
	for i, want := range []float64{limits.MatureAmmonia, limits.MatureNitrite} {
		reftest.Near(t, rows[i], want, "value [mg/L]")
		reftest.Near(t, rows[i], limits.MatureDays, "time [d]")
	}
	if len(rows) != 2 || rows[0].Text("parameter") != "total ammonia" || rows[1].Text("parameter") != "nitrite" {
		t.Errorf("%d rows; want total ammonia, nitrite", len(rows))
	}
}

// Rows of a reading stand together, and a mark has all that is shown of it.
func TestTableIsInOrder(t *testing.T) {
	seen := 0
	for r := limits.Chlorine; r <= limits.Lift; r++ {
		for _, l := range limits.Of(r) {
			seen++
			if l.Reading != r {
				t.Errorf("%q stands among the rows of reading %d", l.Label, r)
			}
		}
		marks := limits.Marks(r)
		for i, m := range marks {
			if m.Label == "" || m.Basis == "" || (m.Source == "") != (m.Basis == "practice") {
				t.Errorf("the mark %+v is not complete", m)
			}
			if i > 0 && m.Value < marks[i-1].Value {
				t.Errorf("the mark %+v is out of order", m)
			}
			for _, other := range marks[:i] {
				if other.Label == m.Label {
					t.Errorf("two marks of reading %d are called %q", r, m.Label)
				}
			}
		}
	}
	if seen < 45 {
		t.Errorf("only %d limits", seen)
	}
}

func TestBandOf(t *testing.T) {
	for _, c := range []struct {
		reading limits.Reading
		value   float64
		want    limits.Band
	}{
		{limits.Oxygen, 7.1, limits.Good}, {limits.Oxygen, 7, limits.Watch}, {limits.Oxygen, 5, limits.Act}, {limits.Oxygen, 3, limits.Emergency},
		{limits.Chlorine, 0, limits.Good}, {limits.Chlorine, 1e-6, limits.Act}, {limits.Chlorine, 0.02, limits.Emergency},
		{limits.PH, 7.5, limits.Good}, {limits.PH, 8.5, limits.Watch}, {limits.PH, 6, limits.Emergency}, {limits.PH, math.NaN(), limits.Good},
		{limits.Behaviour, 1, limits.Good}, {limits.Alkalinity, 200, limits.Watch}, {limits.Alkalinity, 50, limits.Act},
	} {
		if got := limits.BandOf(c.reading, c.value); got != c.want {
			t.Errorf("BandOf(%d, %v) = %d; want %d", c.reading, c.value, got, c.want)
		}
	}
}

// What the tap may bring is what the figures say of it.
func TestTapIsThatOfTheFigures(t *testing.T) {
	seen := 0
	for _, row := range reftest.Read(t, "water-chlorine-limits") {
		switch row.Text("limit") {
		case "tap water, US legal maximum residual, as Cl2":
			reftest.Near(t, row, 1000*limits.TapMost, "concentration [ug/L]")
		case "tap water, usual UK level at or below":
			reftest.Near(t, row, 1000*limits.TapBritain, "concentration [ug/L]")
		case "tap water, chloramine supplies, cold line, median total chlorine":
			if want := "-" + strconv.FormatFloat(limits.TapHighest, 'f', 1, 64) + " mg/L"; !strings.HasSuffix(row.Text("note"), want) {
				t.Errorf("%s: the highest found is %s, not %s", row.Place, row.Text("note"), want)
			}
		default:
			continue
		}
		seen++
	}
	if seen != 3 {
		t.Errorf("%d of 3 figures compared", seen)
	}
}

// How fast water may change is what the figures say of it.
func TestStepsAreThoseOfTheirSources(t *testing.T) {
	seen := 0
	for _, row := range reftest.Read(t, "safety-water-actions") {
		switch row.Text("level") {
		case "hobby rule per day":
			reftest.Near(t, row, limits.PHStepDay, "value [pH]")
		case "man-made change not above":
			reftest.Near(t, row, limits.PHStepMost, "value [pH]")
		case "fall per day that may hurt":
			reftest.Near(t, row, limits.WarmthStep, "change [K/d]")
		default:
			continue
		}
		seen++
	}
	if seen != 3 {
		t.Errorf("%d of 3 figures compared", seen)
	}
}
