package drawing

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

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
	lid := Tray{Holes: 63, Clean: 6, Blocked: 14}
	return &Elevation{
		Title:     "Stack of five boxes from the side",
		BoxLength: 560, BoxHeight: 270, Wall: 3, LidThickness: 4, LidRecess: 20,
		Base: 200, Pond: -80,
		Tiers: []Tier{
			{Kind: CoarseFoam, Label: "1. Coarse foam, 100\u00a0mm", Fill: 100, Floor: drilled, Overflow: 180},
			{Kind: MediumFoam, Grades: 2, Label: "2. Medium foam over fine, 50\u00a0mm each", Fill: 100, Floor: drilled, Lid: lid},
			{Kind: Media, Label: "3. Ceramic rings, 40\u00a0L", Fill: 200, Floor: drilled, Lid: lid},
			{Kind: Media, Label: "4. Ceramic rings, 40\u00a0L", Fill: 200, Floor: drilled, Lid: lid},
			{Kind: Collector, Label: "5. Collector box, floor not drilled", Floor: Tray{Clean: 80, Blocked: 110}, Lid: lid},
		},
		Inlet:     Pipe{Bore: 20, Label: "Inlet and spray bar, 20\u00a0mm bore"},
		Collector: Pipe{Bore: 50},
		Outlet:    Pipe{Bore: 50, Label: "Outlet, 50\u00a0mm bore"},
		Blocked:   "with a third of the holes blocked",
	}
}

func TestElevationPictures(t *testing.T) {
	golden(t, "stack.svg", five().SVG())
	open := five()
	open.Title = "Stack of two boxes that hangs over the pond"
	open.Tiers = open.Tiers[1:3]
	open.Tiers[0].Lid = Tray{}
	open.Hose, open.Base = true, 120
	open.Inlet.Label = "Hose through the wall, 20\u00a0mm bore"
	golden(t, "stack-open.svg", open.SVG())
}

// randomStack is any stack a tower calculator may ask for.
func randomStack(t *rapid.T) *Elevation {
	e := &Elevation{
		Title:     "Stack",
		BoxLength: rapid.Float64Range(150, 1200).Draw(t, "length"), BoxHeight: rapid.Float64Range(100, 600).Draw(t, "height"),
		Wall: rapid.Float64Range(1, 8).Draw(t, "wall"), LidThickness: rapid.Float64Range(1, 8).Draw(t, "lid"), LidRecess: rapid.Float64Range(0, 40).Draw(t, "recess"),
		Base: rapid.Float64Range(0, 800).Draw(t, "base"), Pond: rapid.Float64Range(-600, 0).Draw(t, "pond"),
		Inlet: Pipe{Bore: rapid.Float64Range(10, 60).Draw(t, "inlet"), Label: "inlet and spray bar"}, Hose: rapid.Bool().Draw(t, "hose"),
		Blocked: "with a third of the holes blocked",
	}
	words := []string{"coarse", "over medium", "and fine foam", "ceramic rings, about", "40\u00a0L in a net"}
	for range rapid.IntRange(1, 9).Draw(t, "tiers") {
		label := ""
		for range rapid.IntRange(1, 3).Draw(t, "words") {
			label += rapid.SampledFrom(words).Draw(t, "word") + " "
		}
		e.Tiers = append(e.Tiers, Tier{Kind: Kind(rapid.IntRange(0, 3).Draw(t, "kind")), Label: strings.TrimSpace(label), Fill: rapid.Float64Range(0, 1).Draw(t, "fill") * e.BoxHeight, Floor: Tray{Holes: 50, Clean: 20, Blocked: 45}})
	}
	if rapid.Bool().Draw(t, "collector") {
		e.Tiers = append(e.Tiers, Tier{Kind: Collector, Label: "collector box"})
		e.Collector, e.Outlet = Pipe{Bore: 50}, Pipe{Bore: rapid.Float64Range(30, 110).Draw(t, "outlet"), Label: "outlet,\u00a050\u00a0mm"}
	}
	return e
}

func TestStacksAreLegible(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		for _, fault := range crowded(t, randomStack(rt).SVG()) {
			rt.Error(fault)
		}
	})
}
