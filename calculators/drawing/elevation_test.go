package drawing

import (
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"mereleaf/calculators/markup/markuptest"
)

var update = flag.Bool("update", false, "rewrite the drawings of testdata")

// golden compares a drawing with the one a person looked at.
func golden(t *testing.T, name, svg string) {
	t.Helper()
	markuptest.Elements(t, svg)
	file := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(file, []byte(svg+"\n"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), svg+"\n"); diff != "" {
		t.Errorf("%s (-want +got):\n%s", name, diff)
	}
}

// five is a stack of five boxes: foams, two of media, a collector.
func five() *Elevation {
	drilled := Tray{Holes: 63, Clean: 27, Blocked: 60}
	lid := Tray{Holes: 63}
	return &Elevation{
		Title:     "Stack of five boxes from the side",
		BoxLength: 560, BoxHeight: 270, Wall: 3, LidThickness: 4, LidRecess: 20,
		Base: 200, Pond: -80,
		Tiers: []Tier{
			{Kind: CoarseFoam, Label: "1. Coarse foam, 100\u00a0mm", Fill: 100, Floor: drilled, Overflow: 180},
			{Kind: FineFoam, Label: "2. Fine foam, 50\u00a0mm, under medium foam", Fill: 100, Floor: drilled, Lid: lid},
			{Kind: Media, Label: "3. Ceramic rings, 40\u00a0L", Fill: 200, Floor: drilled, Lid: lid},
			{Kind: Media, Label: "4. Ceramic rings, 40\u00a0L", Fill: 200, Floor: drilled, Lid: lid},
			{Kind: Collector, Label: "5. Collector box, floor not drilled", Floor: Tray{Clean: 80, Blocked: 110}, Lid: lid},
		},
		Inlet:     Pipe{Bore: 20, Label: "Inlet and spray bar, 20\u00a0mm bore"},
		Collector: Pipe{Bore: 50},
		Outlet:    Pipe{Bore: 50, Label: "Outlet, 50\u00a0mm bore"},
		Blocked:   "a third of the holes blocked",
	}
}

func TestElevationPictures(t *testing.T) {
	golden(t, "stack.svg", five().SVG())
	open := five()
	open.Title = "Stack of two boxes that hangs over the pond"
	open.Tiers = open.Tiers[1:3]
	open.Tiers[0].Lid = Tray{}
	open.Hose, open.Base = true, 120
	open.Inlet.Label = "Hose through the lid, 20\u00a0mm bore"
	golden(t, "stack-open.svg", open.SVG())
}
