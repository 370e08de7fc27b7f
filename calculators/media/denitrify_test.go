package media

import (
	"math"
	"strings"
	"testing"

	"mereleaf/calculators/internal/reftest"
)

func TestOxygenDepth(t *testing.T) {
	for _, r := range reftest.Read(t, "media-oxygen-penetration") {
		head := reftest.Columns(t, "media-oxygen-penetration")
		got := OxygenDepth(r.Float(head[0]), r.Float(head[1]))
		reftest.Within(t, r, got, head[3], 1e-5) // six digits, the last noughts left out
	}
}

func TestDenitrifyingShare(t *testing.T) {
	for _, r := range reftest.Read(t, "media-denitrification-needs") {
		if !strings.HasPrefix(r.Text("item"), "oxygen at which") {
			continue
		}
		half := r.Float("value_min")
		if got := DenitrifyingShare(half); math.Abs(got-0.5) > 1e-12 {
			t.Errorf("%s: %v of the rate is left", r.Place, got)
		}
		_, printed, _ := strings.Cut(r.Text("note"), "switch factor is ")
		reftest.Near(t, r, HalfDenitrification, "value_min")
		if got := DenitrifyingShare(8); printed != "0.024" || math.Round(1000*got) != 24 {
			t.Errorf("%s: at 8 mg/L %v, noted %s", r.Place, got, printed)
		}
		return
	}
	t.Error("no half saturation")
}

func TestBedDenitrificationIsThePrintedOne(t *testing.T) {
	low, high, waste := math.Inf(1), 0.0, 0.0
	for _, r := range reftest.Read(t, "media-denitrification-rates") {
		if r.Text("source") != "he-2018" {
			continue
		}
		v := r.Float("rate_min [g/m3/d]")
		low, high = math.Min(low, v), math.Max(high, v)
		if r.Text("electron_donor") == "fish waste solids" {
			waste = v
		}
	}
	if got := BedDenitrification(); got != (Range{low, waste, high}) {
		t.Errorf("%v, printed %v, %v, %v", got, low, waste, high)
	}
}

func TestShowerNitrogenLossIsTheEvidence(t *testing.T) {
	for _, r := range reftest.Read(t, "media-nitrogen-loss-evidence") {
		if strings.HasPrefix(r.Text("system"), "shower tower") {
			loss := ShowerNitrogenLoss()
			reftest.Near(t, r, 100*loss.Low, "nitrogen_removed_min [%]")
			reftest.Near(t, r, 100*loss.High, "nitrogen_removed_max [%]")
			return
		}
	}
	t.Error("no row on showers")
}
