package water

import (
	"testing"

	"mereleaf/calculators/internal/reftest"
)

func TestSpoonsHoldWhatTheTableSays(t *testing.T) {
	holds := map[string]spoonful{"sodium bicarbonate": bicarbonateTeaspoon(), "salt": saltCup()}
	rows := reftest.Read(t, "water-spoon-weights")
	for _, r := range rows {
		s := holds[r.Text("substance")]
		if r.Text("basis") == "memory" {
			s = spoonful{least: s.stated, most: s.stated}
		}
		reftest.Near(t, r, s.least, "least [g]")
		reftest.Near(t, r, s.most, "most [g]")
	}
	if len(rows) != 2*len(holds) {
		t.Errorf("%d rows", len(rows))
	}
}
