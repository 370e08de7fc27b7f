package water_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators"
	"mereleaf/calculators/internal/reftest"
	"mereleaf/calculators/water"
)

// The rows of thiosulfate by every reaction; the other agents are bound to the
// calculator.
func TestThiosulfateByEveryReaction(t *testing.T) {
	moles := map[string]float64{
		"to sulfate, 4 Cl2 per mol": 0.25, "to sulfate and sulfur, 1 Cl2 per mol": 1,
		"to tetrathionate, 2 mol per Cl2": 2, "to tetrathionate, 2 mol per mol Cl2": 2,
	}
	compared := 0
	for _, r := range reftest.Read(t, "water-dechlorination-doses") {
		n, ok := moles[r.Text("reaction")]
		agent := r.Text("agent")
		if !ok || !strings.HasPrefix(agent, "sodium thiosulfate ") {
			continue
		}
		compared++
		reftest.Near(t, r, water.ThiosulfatePerChlorine(n, strings.HasSuffix(agent, "anhydrous")), "dose per chlorine [mg/mg]")
		if strings.Contains(r.Text("note"), "0.198 mg N") {
			if got := water.ChloramineNitrogen(1); math.Abs(got-0.198) > 0.0005 {
				t.Errorf("%s: chloramine frees %v, the note says 0.198", r.Place, got)
			}
		}
	}
	if compared != 6 {
		t.Errorf("%d rows compared, want 6", compared)
	}
}

// The calculator takes no less than any published dose of the same agent.
func TestDoseIsTheLargestPublished(t *testing.T) {
	options := map[string]string{"sodium thiosulfate pentahydrate": "thiosulfate", "sodium thiosulfate": "thiosulfate", "sodium thiosulfate anhydrous": "thiosulfate-anhydrous"}
	for _, r := range reftest.Read(t, "water-dechlorination-doses") {
		agent := r.Text("agent")
		if agent == "calcium thiosulfate" {
			continue
		}
		name, ok := options[agent]
		if !ok {
			name = strings.ReplaceAll(agent, " ", "-")
		}
		balance, field := water.NeutraliserPerChlorine(name)
		if printed := r.Float("dose per chlorine [mg/mg]") - r.Step("dose per chlorine [mg/mg]")/2; !(field >= printed) || balance > field {
			t.Errorf("%s: %v to %v for %s, printed %v", r.Place, balance, field, name, r.Text("dose per chlorine [mg/mg]"))
		}
	}
	if _, none := water.NeutraliserPerChlorine("hope"); !math.IsNaN(none) {
		t.Errorf("an unknown agent has the dose %v", none)
	}
}

// Every mark is a limit of the set, and its label and source are those of the
// set's row.
func TestChlorineMarksAreThoseOfTheSet(t *testing.T) {
	hose := reckon(t, water.HoseLeftOn(), "volume=1000 L", "flow=600 L/h", "time=1 h")
	for _, m := range hose.Scale.Marks {
		if !inChlorineSet(t, m) {
			t.Errorf("the mark %q at %v mg/L (%s) is not in the set", m.Label, m.Value, m.Source)
		}
	}
	if len(hose.Scale.Marks) != 5 {
		t.Errorf("%d marks, want 5", len(hose.Scale.Marks))
	}
}

func inChlorineSet(t *testing.T, m calculators.Mark) bool {
	for _, r := range reftest.Read(t, "water-chlorine-limits") {
		if r.Text("source") == m.Source && r.Text("locator") == m.Locator && math.Abs(r.Float("concentration [ug/L]")-1000*m.Value) < 1e-9 {
			return true
		}
	}
	return false
}

func TestChlorineProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		fresh := rapid.Float64Range(1, 5000).Draw(t, "new")
		chlorine := rapid.Float64Range(0, 10).Draw(t, "chlorine")
		args := func(fresh, pond, chlorine float64, more ...string) []string {
			return append([]string{"new-water=" + number(fresh) + " L", "volume=" + number(pond) + " L", "chlorine=" + number(chlorine) + " mg/L"}, more...)
		}
		c := water.Chlorine()
		once := likelyOf(c, "dose", args(fresh, 10000, chlorine)...)
		if twice := likelyOf(c, "dose", args(2*fresh, 20000, chlorine)...); math.Abs(twice-2*once) > 1e-9*once {
			t.Errorf("twice the water takes %v g, once %v g", twice, once)
		}
		if twice := likelyOf(c, "dose", args(fresh, 10000, 2*chlorine)...); math.Abs(twice-2*once) > 1e-9*once {
			t.Errorf("twice the chlorine takes %v g, once %v g", twice, once)
		}
		if half := likelyOf(c, "dose", args(fresh, 10000, chlorine, "purity=50 %")...); math.Abs(half-2*once) > 1e-9*once {
			t.Errorf("half pure takes %v g, pure %v g", half, once)
		}
		if whole := likelyOf(c, "dose", args(fresh, 10000, chlorine, "treat=pond")...); whole < once-1e-9 {
			t.Errorf("the whole pond takes %v g, the new water %v g", whole, once)
		}
		if in, there := likelyOf(c, "ammonia", args(fresh, 10000, chlorine)...), likelyOf(c, "ammonia", args(fresh, 20000, chlorine)...); math.Abs(in-2*there) > 1e-12 {
			t.Errorf("ammonia is %v mg/L in 10,000 L and %v in 20,000 L", in, there)
		}
	})
}

// likelyOf evaluates in a property, where failing is panicking.
func likelyOf(c calculators.Calculator, output string, args ...string) float64 {
	_, r, err := c.Evaluate(arguments(args))
	if err != nil {
		panic(err)
	}
	v, _ := r.Value(output)
	return v.Likely
}

func TestChlorineSaysWhatMatters(t *testing.T) {
	flags := func(args ...string) string {
		return strings.Join(reckon(t, water.Chlorine(), append(args, "new-water=1000 L", "volume=10000 L")...).Flags, "\n")
	}
	for arg, want := range map[string]string{
		"disinfectant=unknown":       "high guess",
		"agent=sodium-sulfite":       "oxygen out of the water at once",
		"agent=ascorbic-acid":        "lowers the pH",
		"treat=pond":                 "as if all of it were tap water",
		"chlorine=2 mg/L":            "trade rule that does not hold",
		"agent=thiosulfate":          "run all the air",
		"agent=sodium-metabisulfite": "oxygen out of the water at once",
	} {
		if got := flags(arg); !strings.Contains(got, want) {
			t.Errorf("%s: %q does not say %q", arg, got, want)
		}
	}
	if got := flags("chlorine=0.01 mg/L"); strings.Contains(got, "trade rule") || strings.Contains(got, "high guess") || strings.Contains(got, "run all the air") {
		t.Errorf("flagged without cause: %q", got)
	}
	only := reckon(t, water.Chlorine(), "new-water=1000 L", "volume=10000 L", "disinfectant=chlorine")
	if _, has := only.Value("ammonia"); has {
		t.Error("plain chlorine frees no ammonia")
	}
	if _, _, err := water.Chlorine().Evaluate(arguments([]string{"new-water=1001 L", "volume=1000 L"})); err == nil || !strings.Contains(err.Error(), "more than the pond holds") {
		t.Errorf("more new water than pond: %v", err)
	}
}

func TestTapShare(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pond, room := rapid.Float64Range(100, 50000).Draw(t, "pond"), rapid.Float64Range(0, 5000).Draw(t, "room")
		in := rapid.Float64Range(0, 100000).Draw(t, "in")
		share := water.TapShare(pond, room, in)
		if share < 0 || share > 1 {
			t.Errorf("share %v", share)
		}
		if more := water.TapShare(pond, room, in+10); more < share {
			t.Errorf("more tap water, smaller share: %v after %v", more, share)
		}
		if split := water.TapShare(2*pond, 2*room, 2*in); math.Abs(split-share) > 1e-12 {
			t.Errorf("all doubled: %v, not %v", split, share)
		}
		// Balance of the tap water: what came in is in the pond or ran over, and
		// no drop that ran over held more of it than the pond does at the end.
		full := pond + math.Min(in, room)
		if left := share * full; left > in+1e-6 || in-left > math.Max(0, in-room)*share+1e-6 {
			t.Errorf("%v L in, %v L of it in the pond", in, left)
		}
	})
	if just, beyond := water.TapShare(1000, 100, 100), water.TapShare(1000, 100, 100+1e-9); math.Abs(just-beyond) > 1e-9 {
		t.Errorf("a step where the pond begins to run over: %v, %v", just, beyond)
	}
	if got := water.TapShare(1000, 0, 0); got != 0 {
		t.Errorf("no tap water is a share of %v", got)
	}
}

func TestHoseAdvice(t *testing.T) {
	r := reckon(t, water.HoseLeftOn(), "volume=1000 L", "flow=600 L/h", "time=1 h", "temperature=22 Cel", "tap-temperature=10 Cel")
	if r.Advice[0] != "Turn the tap off." || !strings.Contains(r.Advice[1], "whole pond") {
		t.Errorf("advice begins %q", r.Advice[:2])
	}
	if !strings.Contains(strings.Join(r.Advice, "\n"), "Do not heat") || !strings.Contains(strings.Join(r.Flags, "\n"), "high guess") {
		t.Errorf("advice %q, flags %q", r.Advice, r.Flags)
	}
	none := reckon(t, water.HoseLeftOn(), "volume=1000 L", "flow=600 L/h", "time=0 h", "room=10 L")
	for _, v := range none.Values {
		if v.Likely != 0 {
			t.Errorf("no water let in, %s is %v", v.Output, v.Likely)
		}
	}
}
