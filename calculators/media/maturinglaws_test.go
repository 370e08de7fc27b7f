package media

import (
	"math"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators/internal/ode"
	"mereleaf/calculators/internal/reftest"
	"mereleaf/calculators/limits"
)

// drawnStart draws a pond, its feed and its water.
func drawnStart(t *rapid.T) []string {
	text := func(name string, low, high float64, unit string) string {
		return strconv.FormatFloat(rapid.Float64Range(low, high).Draw(t, name), 'f', 2, 64) + unit
	}
	return []string{"volume", "1200 L", "feed", text("feed", 2, 30, " g/d"), "temperature", text("temperature", 8, 26, " Cel"), "change", text("change", 0, 20, " %")}
}

// shownHalf is half a unit of the last of the two digits that are shown of v. Where a
// set settles above the lines of a mature filter, how far nitrite overshoots moves the
// day by less.
func shownHalf(v float64) float64 { return 0.5 * math.Pow(10, math.Floor(math.Log10(v))-1) }

// More film never takes longer to mature.
func TestMoreRipeMediaNeverTakesLonger(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		given := append(drawnStart(rt), "seeding", "media")
		less := rapid.Float64Range(0.5, 90).Draw(rt, "share")
		more := rapid.Float64Range(less, 100).Draw(rt, "more")
		share := func(v float64) []string {
			return append(given[:len(given):len(given)], "share", strconv.FormatFloat(v, 'f', 2, 64)+" %")
		}
		if a, b := matured(t, "mature", share(less)...), matured(t, "mature", share(more)...); b.Likely > a.Likely+shownHalf(a.Likely) {
			rt.Errorf("%v %%: %v, %v %%: %v", less, a, more, b)
		}
	})
}

// Fewer days without feed never take longer either.
func TestALongerPauseNeverTakesLess(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		given := append(drawnStart(rt), "seeding", "paused")
		short := rapid.Float64Range(0, 60).Draw(rt, "short")
		long := rapid.Float64Range(short, 120).Draw(rt, "long")
		days := func(v float64) []string {
			return append(given[:len(given):len(given)], "unfed", strconv.FormatFloat(v, 'f', 2, 64)+" d")
		}
		if a, b := matured(t, "mature", days(short)...), matured(t, "mature", days(long)...); a.Likely > b.Likely+shownHalf(b.Likely) {
			rt.Errorf("%v d: %v, %v d: %v", short, a, long, b)
		}
		if a, b := matured(t, "feed-now", days(short)...), matured(t, "feed-now", days(long)...); a.Likely < b.Likely {
			rt.Errorf("%v d: carries %v, %v d: %v", short, a, long, b)
		}
	})
}

// In the range that the figures state, warmer water never takes longer, however
// the filter begins.
func TestWarmerWaterNeverTakesLonger(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		given := drawnStart(rt)
		switch rapid.SampledFrom([]string{"none", "some", "media"}).Draw(rt, "seeding") {
		case "none":
			given = append(given, "seeding", "none")
		case "some":
			given = append(given, "seeding", "some")
		case "media":
			given = append(given, "seeding", "media", "share", strconv.FormatFloat(rapid.Float64Range(1, 100).Draw(rt, "share"), 'f', 2, 64)+" %")
		}
		cool := rapid.Float64Range(8, 27).Draw(rt, "cool")
		warm := rapid.Float64Range(cool, 28).Draw(rt, "warm")
		at := func(v float64) []string {
			return append(given[:len(given):len(given)], "temperature", strconv.FormatFloat(v, 'f', 2, 64)+" Cel")
		}
		if a, b := matured(t, "mature", at(cool)...), matured(t, "mature", at(warm)...); b.Likely > a.Likely+shownHalf(a.Likely) {
			rt.Errorf("%v °C: %v, %v °C: %v", cool, a, warm, b)
		}
	})
}

// The later nitrite peaked, the later the filter is mature; and the day narrows the
// answer, which it is there for.
func TestTheDayOfThePeakNarrowsTheDays(t *testing.T) {
	without := matured(t, "down", "seeding", "none", "feed", "12 g/d")
	last := 0.0
	for _, day := range []string{"20 d", "30 d", "45 d", "60 d"} {
		v := matured(t, "down", "seeding", "none", "feed", "12 g/d", "peak", day)
		if v.Likely <= last {
			t.Errorf("peak on day %s: down on day %v, with an earlier peak on %v", day, v.Likely, last)
		}
		last = v.Likely
		if v.High/v.Low > without.High/without.Low {
			t.Errorf("peak on day %s: %v, without it %v", day, v, without)
		}
		peak := matured(t, "nitrite-day", "seeding", "none", "feed", "12 g/d", "peak", day)
		if want, _ := strconv.ParseFloat(day[:2], 64); math.Abs(peak.Likely-want) > 0.01*want {
			t.Errorf("peak on day %s: shown on day %v", day, peak)
		}
	}
}

// A filter that is moved with all of its media, a case that was once answered with 3
// to 730 days, takes no longer than a bag of old media in a new one, as ponds were
// seen to do (figure set media-startup-observed, practice).
func TestAWhollyMovedFilterHasAUsefulRange(t *testing.T) {
	for _, r := range reftest.Read(t, "media-startup-observed") {
		if r.Text("event") != "complete" || r.Text("seeded") != "yes" {
			continue
		}
		warm := r.Text("temperature [Cel]") + " Cel"
		v := matured(t, "down", "feed", "12 g/d", "change", "0 %", "temperature", warm, "seeding", "media", "share", "100 %")
		if longest := r.Float("day_max [d]"); v.Likely > longest || v.High > 2*longest {
			t.Errorf("%s: at most %v days with a bag of it, computed %v to %v days with all of it", r.Place, longest, v.Likely, v.High)
		}
		return
	}
	t.Fatal("no pond with a bag of old media")
}

// Without ammonia the bacteria of the start-up decay as FilmLeft says.
func TestFilmLeftIsAStartUpWithoutAmmonia(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := startUp(rapid.IntRange(0, NitrifierSets-1).Draw(t, "set"), rapid.Float64Range(2, 28).Draw(t, "temperature"), 8)
		s.SeedAmmonia, s.SeedNitrite = 1, 1
		days := rapid.Float64Range(0.5, 90).Draw(t, "days")
		y := stateAt(s, days)
		for i, o := range []Organism{s.Ammonia, s.Nitrite} {
			if got, want := FilmLeft(o, days), y[ammoniaState+i]; math.Abs(got-want) > 1e-5*want {
				t.Errorf("after %v days %v is left, the start-up says %v", days, got, want)
			}
		}
	})
}

// At the published decay of 0.17 a day at 20 degrees half is gone after four days,
// at that of 0.05 after fourteen (figure set media-nitrifier-parameters).
func TestFilmLeftByThePublishedDecays(t *testing.T) {
	done := 0
	for _, r := range reftest.Read(t, "media-nitrifier-parameters") {
		decay := r.Float("decay [/d]")
		if left := FilmLeft(Organism{Decay: decay}, math.Ln2/decay); math.Abs(left-0.5) > 1e-12 {
			t.Errorf("%s: %v is left after a half-life", r.Place, left)
		}
		done++
	}
	if done < 2*NitrifierSets {
		t.Errorf("%d organisms", done)
	}
}

// The start-up against Heun's method with a fixed fine step, which knows nothing of
// Jacobians or of the error of a step. Where ammonia falls steeply even a fine step
// leaves more than a thousandth; half the step leaves a quarter of that, and what both
// say is extrapolated (Richardson).
func TestStartUpAgainstHeunsMethod(t *testing.T) {
	const step, days = 0.002, 60
	rapid.Check(t, func(t *rapid.T) {
		s := startUp(rapid.IntRange(0, NitrifierSets-1).Draw(t, "set"), rapid.Float64Range(6, 28).Draw(t, "temperature"), rapid.Float64Range(3, 10).Draw(t, "oxygen"))
		s.Load, s.Dilution = rapid.Float64Range(0.05, 2).Draw(t, "load"), rapid.Float64Range(0, 0.1).Draw(t, "dilution")
		s.SeedAmmonia = math.Pow(10, rapid.Float64Range(-5, 0).Draw(t, "seed"))
		s.SeedNitrite = nitriteSeed * s.SeedAmmonia
		coarse, y := heun(s, step, days), heun(s, step/2, days)
		for i, want := range stateAt(s, days) {
			y[i] += (y[i] - coarse[i]) / 3
			if math.Abs(y[i]-want) > 1e-3*math.Max(0.05, want) {
				t.Errorf("state %d on day %v: %v, by Heun %v", i, days, want, y[i])
			}
		}
	})
}

// heun follows the rates, written out anew, in fixed steps.
func heun(s *StartUp, step, days float64) [4]float64 {
	rates := func(y [4]float64) (d [4]float64) {
		eats := func(o Organism, nitrogen, bacteria float64) float64 {
			return o.Growth / o.Yield * nitrogen / (o.HalfNitrogen + nitrogen) * bacteria
		}
		q1, q2 := eats(s.Ammonia, y[0], y[2]), eats(s.Nitrite, y[1], y[3])
		return [4]float64{
			s.Load - s.Dilution*y[0] - q1,
			q1 - s.Dilution*y[1] - q2,
			s.Ammonia.Yield*q1 - s.Ammonia.Decay*y[2],
			s.Nitrite.Yield*q2 - s.Nitrite.Decay*y[3],
		}
	}
	y := [4]float64{0, 0, s.SeedAmmonia, s.SeedNitrite}
	for range int(days/step + 0.5) {
		a := rates(y)
		var b [4]float64
		for i := range y {
			b[i] = y[i] + step*a[i]
		}
		b = rates(b)
		for i := range y {
			y[i] += step / 2 * (a[i] + b[i])
		}
	}
	return y
}

// The days of the calculator against the same, looked at step by step.
func TestDownAgainstHeunsMethod(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := startUp(rapid.IntRange(0, 1).Draw(t, "set"), rapid.Float64Range(12, 26).Draw(t, "temperature"), 8)
		s.Load = rapid.Float64Range(0.1, 1).Draw(t, "load")
		s.SeedAmmonia = math.Pow(10, rapid.Float64Range(-4, -0.5).Draw(t, "seed"))
		s.SeedNitrite = nitriteSeed * s.SeedAmmonia
		tan, nitrite := math.Max(limits.MatureAmmonia, settledMargin*SettledNitrogen(s.Ammonia)), math.Max(limits.MatureNitrite, settledMargin*SettledNitrogen(s.Nitrite))
		c := RunStartUp(s, tan, nitrite, startUpTolerance)
		if math.IsInf(c.Stays, 1) || c.Stays < 2 {
			t.Skip("never down, or never over")
		}
		isOver := func(day float64) bool {
			y := heun(s, 0.002, day)
			return y[0] > tan || y[1] > nitrite
		}
		if within := 0.005*c.Stays + 0.01; !isOver(c.Stays-within) || isOver(c.Stays+within) {
			t.Errorf("down on day %v, which Heun's method does not find", c.Stays)
		}
	})
}

// follow is called with steps of the solver's own; the last ends where it was told to.
func TestStartUpEndsWhereItWasTold(t *testing.T) {
	s := startUp(1, 18, 8)
	s.Load, s.SeedAmmonia, s.SeedNitrite = 0.4, 0.001, 0.0003
	end := 0.0
	s.follow(33, startUpTolerance, func(step *ode.Step) bool { end = step.To; return true })
	if end != 33 {
		t.Errorf("ends on day %v", end)
	}
}

// A new pond that gets the bicarbonate of the answer each day never has less KH than
// it began with, on whatever day the bacteria catch up: nitrogen in the water, KH and
// dose followed together by Heun's method. Without it the KH reaches the floor no
// sooner than said.
func TestTheBicarbonateKeepsANewPondFromCrashing(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		feed, celsius := rapid.Float64Range(2, 30).Draw(rt, "feed"), rapid.Float64Range(8, 26).Draw(rt, "temperature")
		given := []string{"volume", "1200 L", "feed", number(feed) + " g/d", "temperature", number(celsius) + " Cel", "change", "0 %", "seeding", "none", "kh", "100 mg/L"}
		r, err := maturing(t, given...)
		if err != nil {
			rt.Fatal(err)
		}
		dose := valueOf(t, r, "soda").Likely / 1.68 / 1.2 // mg/L of KH a day
		s := startUp(rapid.IntRange(0, NitrifierSets-1).Draw(rt, "set"), celsius, 8)
		s.Load, s.SeedAmmonia, s.SeedNitrite = valueOf(t, r, "load").Likely, 0.001, 0.0003
		floor := valueOf(t, r, "kh-days").Likely
		if mature := valueOf(t, r, "mature").Likely; mature <= 90 {
			y := heun(s, 0.005, mature)
			if used, said := 7.14*(s.Load*mature-y[0]), valueOf(t, r, "kh-start").Likely; used > said*1.001 {
				rt.Errorf("until day %v: %v used, said %v", mature, used, said)
			}
		}
		for _, day := range []float64{5, 15, 30, 60, 90} {
			y := heun(s, 0.005, day)
			// Ammonia that is neither in the water nor in bacteria was oxidised.
			used := 7.14 * (s.Load*day - y[0])
			if kh := 100 + dose*day - used; kh < 100-0.5 {
				rt.Errorf("day %v: KH %v with the dose", day, kh)
			}
			if day <= floor && 100-used < 50-0.5 {
				rt.Errorf("day %v: KH %v without, said to last to day %v", day, 100-used, floor)
			}
		}
	})
}
