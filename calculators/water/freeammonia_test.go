package water_test

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators"
	"mereleaf/calculators/chemistry"
	"mereleaf/calculators/internal/reftest"
	"mereleaf/calculators/pondtest"
	"mereleaf/calculators/water"
)

func TestDeclarationsAreComplete(t *testing.T) {
	for _, fault := range pondtest.Some(t, water.FreeAmmonia(), water.DissolvedOxygen()).Validate() {
		t.Error(fault)
	}
}

func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// reckon evaluates with "name=value" arguments.
func reckon(t testing.TB, c calculators.Calculator, args ...string) calculators.Result {
	t.Helper()
	_, r, err := c.Evaluate(arguments(args))
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func arguments(texts []string) []calculators.Arg {
	args := make([]calculators.Arg, len(texts))
	for i, text := range texts {
		args[i].Name, args[i].Value, _ = strings.Cut(text, "=")
	}
	return args
}

func likely(t testing.TB, r calculators.Result, output string) float64 {
	t.Helper()
	v, ok := r.Value(output)
	if !ok {
		t.Fatalf("there is no %s in the answer", output)
	}
	return v.Likely
}

// The reading of the scenario, worked by hand: pKa 9.3708, share 6.32 %.
func TestExampleReading(t *testing.T) {
	v, err := water.FreeAmmonia().Reckon(pondtest.Given(t, water.FreeAmmonia()))
	if err != nil {
		t.Fatal(err)
	}
	if got := v.Values[0].Text; got != "0.095\u00a0mg/L" {
		t.Errorf("toxic is %q", got)
	}
	if !strings.HasPrefix(v.Advice[0], "Stop feeding") || !strings.Contains(strings.Join(v.Advice, "\n"), "Change 50\u00a0% of the water now") {
		t.Errorf("advice: %q", v.Advice)
	}
	if len(v.Values) != len(water.FreeAmmonia().Outputs) {
		t.Errorf("%d of %d outputs", len(v.Values), len(water.FreeAmmonia().Outputs))
	}
}

func TestBasisOfTheKit(t *testing.T) {
	c := water.FreeAmmonia()
	asN := likely(t, reckon(t, c, "tan=1 mg/L", "ph=8", "temperature=20 Cel"), "toxic")
	for _, r := range reftest.Read(t, "water-nitrogen-unit-conversions") {
		basis := map[string]string{"ammonia NH3 per N": "as-nh3", "ammonium NH4 per N": "as-nh4"}[r.Text("conversion")]
		if basis == "" {
			continue
		}
		got := likely(t, reckon(t, c, "tan=1 mg/L", "basis="+basis, "ph=8", "temperature=20 Cel"), "toxic")
		reftest.Near(t, r, asN/got, "ratio [g/g]")
	}
}

func TestFreeAmmoniaProperties(t *testing.T) {
	c := water.FreeAmmonia()
	rapid.Check(t, func(rt *rapid.T) {
		tan := rapid.Float64Range(0, 40).Draw(rt, "tan")
		args := []string{"ph=" + number(rapid.Float64Range(5, 10).Draw(rt, "pH")), "temperature=" + number(rapid.Float64Range(0, 50).Draw(rt, "temperature")) + " Cel"}
		once := reckon(t, c, append(args, "tan="+number(tan)+" mg/L")...)
		twice := reckon(t, c, append(args, "tan="+number(2*tan)+" mg/L")...)
		toxic := likely(t, once, "toxic")
		if d := likely(t, twice, "toxic") - 2*toxic; math.Abs(d) > 1e-9 {
			rt.Errorf("doubling the reading misses doubling the answer by %v", d)
		}
		if sum := toxic + likely(t, once, "ionised"); math.Abs(sum-tan) > 1e-9*(1+tan) {
			rt.Errorf("the parts sum to %v, not %v", sum, tan)
		}
		for _, v := range once.Values {
			if !(v.Low <= v.Likely && v.Likely <= v.High) || v.Low < 0 {
				rt.Errorf("%s: %v, %v, %v is no range", v.Output, v.Low, v.Likely, v.High)
			}
		}
		highest := likely(t, once, "highest-total")
		if (tan > highest) != (likely(t, once, "change") > 0) {
			rt.Errorf("reading %v, highest that stays good %v, change %v", tan, highest, likely(t, once, "change"))
		}
		if !slices.IsSortedFunc(once.Scale.Marks, func(a, b calculators.Mark) int { return int(math.Copysign(1, a.Value-b.Value)) }) {
			rt.Error("the marks are not in rising order")
		}
	})
}

func TestZeroInZeroOut(t *testing.T) {
	r := reckon(t, water.FreeAmmonia(), "tan=0 mg/L", "ph=8.5", "temperature=25 Cel")
	for _, output := range []string{"toxic", "as-nh3", "ionised", "change"} {
		if v, _ := r.Value(output); v.Low != 0 || v.Likely != 0 || v.High != 0 {
			t.Errorf("%s is %v", output, v)
		}
	}
}

// The criteria end at pH 9 and 30 °C; beyond, none is shown and the answer says
// why. The formula itself goes on to 50 °C, and is refused beyond.
func TestCriteriaAreNotExtrapolated(t *testing.T) {
	c := water.FreeAmmonia()
	for args, shown := range map[string]bool{"9 30": true, "9.01 30": false, "9 30.01": false, "6.5 0": true, "6.49 0": false} {
		ph, celsius, _ := strings.Cut(args, " ")
		r := reckon(t, c, "tan=1 mg/L", "ph="+ph, "temperature="+celsius+" Cel")
		_, ok := r.Value("epa-acute")
		said := strings.Contains(strings.Join(r.Flags, "\n"), "none is shown")
		if ok != shown || said == shown {
			t.Errorf("pH %s, %s °C: shown %v, said missing %v", ph, celsius, ok, said)
		}
	}
	if _, _, err := c.Evaluate(arguments([]string{"tan=1 mg/L", "ph=8", "temperature=50.1 Cel"})); err == nil || !strings.Contains(err.Error(), "0 to 50") {
		t.Errorf("50.1 °C: %v", err)
	}
}

func TestLittleSaltIsFlagged(t *testing.T) {
	for salinity, flagged := range map[string]bool{"0": false, "3": true, "5": false} {
		r := reckon(t, water.FreeAmmonia(), "tan=1 mg/L", "ph=8", "temperature=20 Cel", "salinity="+salinity+" g/kg")
		if got := strings.Contains(strings.Join(r.Flags, "\n"), "salt term"); got != flagged {
			t.Errorf("%s g/kg: flagged %v", salinity, got)
		}
	}
}

// Each band of the practice table begins with its first piece of advice, and a
// reading on the line gets the worse one.
func TestAdviceFollowsTheBands(t *testing.T) {
	first := map[string]string{"good": "Carry on", "watch": "Halve", "act": "Stop feeding until", "emergency": "Stop feeding now"}
	c := water.FreeAmmonia()
	share := likely(t, reckon(t, c, "tan=1 mg/L", "ph=8.5", "temperature=25 Cel"), "share") / 100
	bands := 0
	for _, r := range reftest.Read(t, "safety-reading-bands") {
		if r.Text("parameter") != "un-ionised ammonia" {
			continue
		}
		bands++
		just := (r.Float("low [mg/L]") + 1e-9) / share
		a := reckon(t, c, "tan="+number(just)+" mg/L", "ph=8.5", "temperature=25 Cel").Advice
		if !strings.HasPrefix(a[0], first[r.Text("band")]) {
			t.Errorf("%s: from %s mg/L the advice begins %q", r.Place, r.Text("low [mg/L]"), a[0])
		}
	}
	if bands != len(first) {
		t.Errorf("%d bands in the set, want %d", bands, len(first))
	}
}

func TestDoubtNamesTheWorseBand(t *testing.T) {
	a := reckon(t, water.FreeAmmonia(), "tan=0.2 mg/L", "ph=8.2", "temperature=21 Cel").Advice
	if !strings.HasPrefix(a[0], "Carry on") || !strings.Contains(a[len(a)-1], "worse band") {
		t.Errorf("advice: %q", a)
	}
	sure := reckon(t, water.FreeAmmonia(), "tan=0.2 mg/L", "ph=8.2", "temperature=21 Cel", "kit-error=0 %", "ph-error=0")
	if strings.Contains(strings.Join(sure.Advice, "\n"), "worse band") {
		t.Errorf("advice without error: %q", sure.Advice)
	}
	if v, _ := sure.Value("toxic"); v.Low != v.High {
		t.Errorf("a range without error: %v", v)
	}
}

// The marks are the published limits, turned into nitrogen.
func TestMarksMatchTheLimits(t *testing.T) {
	marks := reckon(t, water.FreeAmmonia(), "tan=1 mg/L", "ph=8", "temperature=20 Cel").Scale.Marks
	find := func(label string) float64 {
		for _, m := range marks {
			if strings.Contains(m.Label, label) {
				return m.Value
			}
		}
		t.Fatalf("no mark %q", label)
		return 0
	}
	labels := map[string]string{
		"un-ionised ammonia, EU cyprinid waters, imperative": "European limit",
		"un-ionised ammonia, EU cyprinid waters, guide":      "European guide",
		"un-ionised ammonia, Canada, long term":              "Canada",
	}
	for _, r := range reftest.Read(t, "water-ammonia-limits") {
		if label, ok := labels[r.Text("limit")]; ok {
			reftest.Near(t, r, find(label)*chemistry.AmmoniaPerNitrogen, "concentration [mg/L]")
			delete(labels, r.Text("limit"))
		}
	}
	if len(labels) > 0 {
		t.Errorf("limits not in the set: %v", labels)
	}
	harm := 0
	for _, r := range reftest.Read(t, "safety-water-actions") {
		if r.Text("parameter") == "un-ionised ammonia" && r.Text("level") == "harm begins" {
			reftest.Near(t, r, find("gill harm"), "value [mg/L]")
			harm++
		}
	}
	if harm != 1 {
		t.Errorf("%d rows say where harm begins, want 1", harm)
	}
}
