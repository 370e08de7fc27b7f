package tower

import (
	"strings"
	"testing"

	"mereleaf/calculators/internal/reftest"
)

// The hole saw in the cutting list follows from the diameter of a thread, so each
// thread is compared with the standard's table. It catches, among others: 43.249
// for the 33.249 mm of G 1, and a thread that says it was printed and was not.
func TestThreadsOfConnectors(t *testing.T) {
	rows := map[string]reftest.Row{}
	for _, r := range reftest.Read(t, "build-thread") {
		rows[r.Text("thread")] = r
	}
	fractions := strings.NewReplacer("1½", "1 1/2", "1¼", "1 1/4", "2½", "2 1/2", "½", "1/2", "¾", "3/4")
	last := thread{}
	for _, th := range threads() {
		r, ok := rows[fractions.Replace(th.name)]
		if !ok {
			t.Errorf("the set has no thread %s", th.name)
			continue
		}
		reftest.Near(t, r, th.outside, "outside_diameter [mm]")
		if memory := r.Text("basis") == "memory"; memory != th.memory {
			t.Errorf("%s: %s is from memory: %v in the set, %v here", r.Place, th.name, memory, th.memory)
		}
		if th.widest <= last.widest || th.outside <= last.outside || th.widest >= th.outside {
			t.Errorf("%s stands out of order: bore %v, outside %v", th.name, th.widest, th.outside)
		}
		last = th
	}
}

// What the plan sets by custom has its reason in a figure set, and the same
// value. It catches a changed constant: 4.0 for the hold of 1.5, 250 for 400.
func TestConstantsOfThePlan(t *testing.T) {
	constants := map[string]float64{
		"blocked": blocked, "margin": margin, "barShare": barShare, "barOfBox": barOfBox, "collectorHole": collectorHole,
		"barRoom": barRoom, "muchKH": muchKH, "wantedNitrate": wantedNitrate, "freeboard": freeboard, "outletFloor": outletFloor,
		"flangeFloor": flangeFloor, "flangeCover": flangeCover, "widestConnector": widestConnector, "outletSpare": outletSpare, "leastRoom": leastRoom,
		"leastOutlet": leastOutlet, "wantedHold": wantedHold, "manyHoles": manyHoles, "mostHoles": mostHoles,
		"leastFlow": leastFlow, "driest": driest, "wettest": wettest, "oxygenOfFull": oxygenOfFull,
	}
	for _, r := range reftest.Read(t, "build-plan-practice") {
		name := r.Text("constant")
		v, ok := constants[name]
		if !ok || r.Text("note") == "" {
			t.Errorf("%s: the plan has no constant %s, or it has no reason", r.Place, name)
			continue
		}
		reftest.Near(t, r, v, "value")
		delete(constants, name)
	}
	for name := range constants {
		t.Errorf("%s has no row and so no reason", name)
	}
}
