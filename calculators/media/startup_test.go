package media

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators/internal/ode"
	"mereleaf/calculators/internal/reftest"
	"mereleaf/calculators/limits"
)

// closely is the tolerance of the tests, far below what the figures print.
const closely = 1e-7

// nitrifierSet returns the number of a parameter set by its printed name.
func nitrifierSet(r reftest.Row) int {
	switch r.Text("set") {
	case "metcalf-eddy-5":
		return 0
	case "sin-2008":
		return 1
	case "biops default":
		return 2
	}
	return -1
}

func startUp(set int, celsius, oxygen float64) *StartUp {
	a, n := NitrifierSet(set)
	return &StartUp{Ammonia: BacteriaAt(a, celsius, oxygen), Nitrite: BacteriaAt(n, celsius, oxygen)}
}

func TestNitrifierParametersAreThePrintedOnes(t *testing.T) {
	done := 0
	for _, r := range reftest.Read(t, "media-nitrifier-parameters") {
		set := nitrifierSet(r)
		if set < 0 {
			continue // one-step models, and a set without nitrite oxidisers
		}
		o, nitrite := NitrifierSet(set)
		if r.Text("organism") == "NOB" {
			o = nitrite
		}
		reftest.Near(t, r, o.Temperature, "temperature [Cel]")
		reftest.Near(t, r, o.Growth, "mu_max [/d]")
		reftest.Near(t, r, o.Yield, "yield [g/g]")
		reftest.Near(t, r, o.HalfNitrogen, "k_nitrogen [mg/L]")
		reftest.Near(t, r, o.HalfOxygen, "k_oxygen [mg/L]")
		reftest.Near(t, r, o.Decay, "decay [/d]")
		done++
	}
	if done != 2*NitrifierSets {
		t.Errorf("%d organisms", done)
	}
}

// The set with the printed ranges lies in them.
func TestNitrifierParametersLieInTheirRanges(t *testing.T) {
	ammonia, nitrite := NitrifierSet(1)
	value := func(o Organism, parameter string) float64 {
		switch parameter {
		case "mu_max":
			return o.Growth
		case "yield":
			return o.Yield
		case "k_nitrogen":
			return o.HalfNitrogen
		case "k_oxygen":
			return o.HalfOxygen
		}
		return o.Decay
	}
	done := 0
	for _, r := range reftest.Read(t, "media-nitrifier-ranges") {
		if r.Text("parameter") == "activation energy of mu_max" {
			// theta = exp(E/(R T1 T2)) between 15 and 25 Celsius, as the row notes.
			theta := math.Exp(1000 * r.Float("low") / (8.31 * 288 * 298))
			if math.Abs(theta-ammonia.GrowthTheta) > 0.0005 {
				t.Errorf("%s: theta is %v, printed energy gives %v", r.Place, ammonia.GrowthTheta, theta)
			}
			continue
		}
		o := ammonia
		if r.Text("organism") == "NOB" {
			o = nitrite
		}
		if v := value(o, r.Text("parameter")); v < r.Float("low") || v > r.Float("high") {
			t.Errorf("%s: %v is not in the range", r.Place, v)
		}
		done++
	}
	if done < 7 {
		t.Errorf("%d parameters", done)
	}
}

// sampled is how far a printed day may lie from the true one: the other program
// looked at its solution about every hundredth of a day, and prints hundredths.
const sampled = 0.01

func TestStartUpAgainstAnotherSolver(t *testing.T) {
	near := func(r reftest.Row, got float64, column string) {
		t.Helper()
		if want := r.Float(column); !(math.Abs(got-want) <= sampled) {
			t.Errorf("%s: %s is %v, computed %v", r.Place, column, want, got)
		}
	}
	const limit = 0.5
	for _, r := range reftest.Read(t, "media-startup-ode") {
		s := startUp(nitrifierSet(r), r.Float("temperature [Cel]"), r.Float("oxygen [mg/L]"))
		s.Load, s.SeedAmmonia, s.SeedNitrite = r.Float("load [g/m3/d]"), r.Float("seed_aob [mg/L]"), r.Float("seed_nob [mg/L]")
		c := RunStartUp(s, limit, limit, closely)
		near(r, c.TANPeakDay, "tan_peak_day [d]")
		peak(t, r, c.TANPeak, "tan_peak [mg/L]")
		near(r, c.NitritePeakDay, "nitrite_peak_day [d]")
		peak(t, r, c.NitritePeak, "nitrite_peak [mg/L]")
		switch {
		case r.Has("both_below_half_day [d]"):
			near(r, c.Down, "both_below_half_day [d]")
		case !math.IsInf(c.Down, 1):
			t.Errorf("%s: down on day %v, the other solver never", r.Place, c.Down)
		}
	}
}

// peak compares a level that is printed with three decimals, of which the last
// noughts are left out.
func peak(t *testing.T, r reftest.Row, got float64, column string) {
	t.Helper()
	if want := r.Float(column); !(math.Abs(got-want) <= 0.5001e-3) {
		t.Errorf("%s: %s is %v, computed %v", r.Place, column, want, got)
	}
}

// The series names its run in a note: metcalf-eddy-5, 15 Celsius, seeds 0.001
// mg/L, load 0.5 g/m3/d, oxygen 8 mg/L. Nitrate is the nitrogen fed less what is
// still ammonia and nitrite.
func TestSeriesAgainstAnotherSolver(t *testing.T) {
	for _, r := range reftest.Read(t, "media-startup-ode-series") {
		s := startUp(0, 15, 8)
		s.Load, s.SeedAmmonia, s.SeedNitrite = 0.5, 0.001, 0.001
		end := r.Float("day [d]")
		y := stateAt(s, end)
		for i, column := range []string{"tan [mg/L]", "nitrite [mg/L]", "nitrate [mg/L]"} {
			got := s.Load*end - y[tanState] - y[nitriteState]
			if i < 2 {
				got = y[i]
			}
			if want := r.Float(column); !(math.Abs(got-want) <= 0.5001e-4) {
				t.Errorf("%s: %s is %v, computed %v", r.Place, column, want, got)
			}
		}
		for i, column := range []string{"aob [mg/L]", "nob [mg/L]"} {
			if want := r.Float(column); !(math.Abs(y[ammoniaState+i]-want) <= 0.5001e-5) {
				t.Errorf("%s: %s is %v, computed %v", r.Place, column, want, y[ammoniaState+i])
			}
		}
	}
}

// stateAt returns the state at a day.
func stateAt(s *StartUp, day float64) []float64 {
	y := []float64{0, 0, s.SeedAmmonia, s.SeedNitrite}
	s.follow(day, closely, func(step *ode.Step) bool { copy(y, step.After); return true })
	return y
}

// After a long time the bacteria are as many as live on the load, and the water
// as clean as they can make it.
func TestAMatureFilterSettles(t *testing.T) {
	for set := range NitrifierSets {
		s := startUp(set, 22, 7)
		s.Load, s.SeedAmmonia, s.SeedNitrite = 0.8, 0.01, 0.01
		y := stateAt(s, 3000)
		for i, want := range []float64{SettledNitrogen(s.Ammonia), SettledNitrogen(s.Nitrite), MatureBacteria(s.Ammonia, s.Load), MatureBacteria(s.Nitrite, s.Load)} {
			if math.Abs(y[i]-want) > 1e-5*want {
				t.Errorf("set %d: state %d ends at %v, want %v", set, i, y[i], want)
			}
		}
	}
}

func TestBacteriaThatCannotGrowNeverSettle(t *testing.T) {
	o := Organism{Growth: 0.2, Decay: 0.1, HalfNitrogen: 1}
	if got := SettledNitrogen(o); got != 1 {
		t.Errorf("settles at %v", got)
	}
	o.Decay = 0.2
	if got := SettledNitrogen(o); !math.IsInf(got, 1) {
		t.Errorf("settles at %v", got)
	}
}

// The Jacobian is the derivative of the rates.
func TestJacobianOfAStartUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := startUp(rapid.IntRange(0, NitrifierSets-1).Draw(t, "set"), 18, 8)
		s.Load, s.Dilution = 0.7, rapid.Float64Range(0, 0.3).Draw(t, "dilution")
		y := make([]float64, startUpStates)
		for i := range y {
			y[i] = rapid.Float64Range(0.01, 5).Draw(t, "y")
		}
		jacobian := make([]float64, startUpStates*startUpStates)
		s.jacobian(y, jacobian)
		up, down := make([]float64, startUpStates), make([]float64, startUpStates)
		for j := range y {
			const h = 1e-5
			was := y[j]
			y[j] = was + h
			StartUpRates(s, y, up)
			y[j] = was - h
			StartUpRates(s, y, down)
			y[j] = was
			for i := range y {
				want := (up[i] - down[i]) / (2 * h)
				if got := jacobian[i*startUpStates+j]; math.Abs(got-want) > 1e-5*math.Max(1, math.Abs(want)) {
					t.Errorf("derivative of rate %d by %d is %v, want %v", i, j, got, want)
				}
			}
		}
	})
}

// Nitrogen is neither made nor lost: what went in, less what water changes took,
// is ammonia, nitrite and nitrate, and nitrate only grows faster than it is
// diluted.
func TestNitrogenIsKept(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := startUp(rapid.IntRange(0, NitrifierSets-1).Draw(t, "set"), rapid.Float64Range(6, 30).Draw(t, "temperature"), 8)
		s.Load = rapid.Float64Range(0.05, 3).Draw(t, "load")
		s.Dilution = rapid.Float64Range(0.01, 0.2).Draw(t, "dilution")
		s.SeedAmmonia, s.SeedNitrite = 0.01, 0.003
		last, lastDay := 0.0, 0.0
		s.follow(100, 1e-5, func(step *ode.Step) bool {
			total := s.Load / s.Dilution * -math.Expm1(-s.Dilution*step.To)
			nitrate := total - step.After[tanState] - step.After[nitriteState]
			kept := last * math.Exp(-s.Dilution*(step.To-lastDay))
			if nitrate < kept-1e-4*total {
				t.Fatalf("day %v: nitrate %v, %v of it from before", step.To, nitrate, kept)
			}
			for i, v := range step.After {
				if v < -1e-5 {
					t.Fatalf("day %v: state %d is %v", step.To, i, v)
				}
			}
			last, lastDay = nitrate, step.To
			return true
		})
	})
}

// The tolerance of the calculator is good for the two digits it prints.
func TestToleranceOfTheCalculator(t *testing.T) {
	for _, r := range reftest.Read(t, "media-startup-ode") {
		s := startUp(nitrifierSet(r), r.Float("temperature [Cel]"), 8)
		s.Load, s.SeedAmmonia, s.SeedNitrite = r.Float("load [g/m3/d]"), r.Float("seed_aob [mg/L]"), r.Float("seed_nob [mg/L]")
		rough, fine := RunStartUp(s, limits.MatureAmmonia, limits.MatureNitrite, startUpTolerance), RunStartUp(s, limits.MatureAmmonia, limits.MatureNitrite, closely)
		for _, v := range [][2]float64{{rough.TANPeakDay, fine.TANPeakDay}, {rough.TANPeak, fine.TANPeak}, {rough.NitritePeakDay, fine.NitritePeakDay}, {rough.NitritePeak, fine.NitritePeak}} {
			if math.Abs(v[0]-v[1]) > 1e-3*v[1] {
				t.Errorf("%s: %v, closely %v", r.Place, v[0], v[1])
			}
		}
	}
}

func BenchmarkStartUp(b *testing.B) {
	s := startUp(1, 15, 8)
	s.Load, s.SeedAmmonia, s.SeedNitrite = 2, 0.001, 0.0003
	for b.Loop() {
		RunStartUp(s, limits.MatureAmmonia, limits.MatureNitrite, startUpTolerance)
	}
}
