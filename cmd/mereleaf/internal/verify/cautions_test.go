package verify

import (
	"strings"
	"testing"
	"testing/fstest"

	"mereleaf/calculators"
	"mereleaf/calculators/catalog"
	"mereleaf/cmd/mereleaf/internal/book"
)

// TestALostCautionIsFound changes one place of the handbook at a time and demands
// the fault there. It catches: a caution dropped from a chapter that must carry it;
// one cut out of the step whose act needs it; a step that opens with no listed verb;
// harm to fish called by a signal word for harm to people, and the other way round;
// a caution that names no hazard or an unknown one; a caution lost from the file
// that holds it once; an act in a table's cell.
func TestALostCautionIsFound(t *testing.T) {
	files := projectFiles(t)
	b, faults := book.Read(files, catalog.All())
	if len(faults) > 0 {
		t.Skip("TestTheHandbookIsInOrder reports what is wrong")
	}
	for _, c := range []struct{ what, file, old, new, want string }{
		{"electricity dropped from the pumps", "content/filtration/40-pumps-and-pipes.md",
			"[Unplug before a hand goes in](caution:electricity)", "", "40-pumps-and-pipes.md:1:1: the chapter has lost its caution electricity"},
		{"electricity dropped from the water change", "content/water/50-nitrate.md",
			"[Unplug before a hand goes in](caution:electricity)", "", "50-nitrate.md:1:1: the chapter has lost its caution electricity"},
		{"the lamp's light dropped", "content/water/90-green-water.md",
			"[Never look at the light](caution:ultraviolet)", "", "90-green-water.md:1:1: the chapter has lost its caution ultraviolet"},
		{"drowning dropped from measuring", "content/water/10-pond-volume.md",
			"[drowning](caution:drowning)", "drowning", "10-pond-volume.md:1:1: the chapter has lost its caution drowning"},

		{"free of chlorine cut from a step", "content/safety/05-emergencies.md",
			"The new water is [free of chlorine](caution:chlorine)", "The new water is clean", `the act "change" stands without the caution chlorine`},
		{"free of chlorine cut from the nitrite steps", "content/safety/05-emergencies.md",
			"[Free it of chlorine](caution:chlorine)", "Free it", `the act "change" stands without the caution chlorine`},
		{"the wasted water cut from the foam steps", "content/filtration/35-foams.md",
			"[ask where it may go](caution:wildlife)", "ask", `the act "empty" stands without the caution wildlife`},
		{"dust cut from washing media", "content/filtration/25-drilling-and-assembling.md",
			"[Keep it wet](caution:dust)", "Keep it wet", `the act "wash the media" stands without the caution dust`},
		{"the drill's caution moved behind its steps", "content/filtration/25-drilling-and-assembling.md",
			"## Drill\n\n[Goggles on, work clamped](caution:tools)\n", "## Drill\n", `the act "drill" stands without the caution tools`},
		{"treated water cut from a cell", "content/water/96-what-now.md",
			"change a little [treated](caution:chlorine) water", "change a little water", `the act "change" stands without the caution chlorine`},

		{"a step without a verb", "content/safety/05-emergencies.md",
			"1. Stop feeding. Ammonia", "1. Feed: none. Ammonia", `the step opens with "Feed: none. Ammonia …"`},
		{"a step with a word that is no act", "content/filtration/35-foams.md",
			"1. **Unplug the pump.**", "1. **Quickly unplug the pump.**", `the step opens with "Quickly unplug the …"`},

		{"harm to fish called a warning", "content/water/30-ammonia.md",
			"> **Notice: [do not raise", "> **Warning: [do not raise", `"WARNING" is the signal word for harm to people, and fish-health harms fish`},
		{"harm to people called a notice", "content/safety/40-tools-dust-solvents.md",
			"> **Danger: [fire,", "> **Notice: [fire,", `"NOTICE" is for harm to fish or things alone, and solvents hurts people`},
		{"a caution without a hazard", "content/filtration/15-boxes-and-lids.md",
			"[a stack falls](caution:toppling)", "a stack falls", "does not say which hazard it warns of"},
		{"a misspelt hazard", "content/filtration/15-boxes-and-lids.md",
			"[a stack falls](caution:toppling)", "[a stack falls](caution:topling)", "the caution topling is unknown"},
		{"a caution lost from its file", book.CautionsFile,
			"## Gas\n", "## Fumes\n", `there is no caution "gas"`},
		{"electricity called a notice in its file", book.CautionsFile,
			"> **Danger: electric shock.**", "> **Notice: electric shock.**", `"NOTICE" is for harm to fish or things alone, and electricity hurts people`},
	} {
		before := files[c.file]
		text := strings.Replace(string(before.Data), c.old, c.new, 1)
		if text == string(before.Data) {
			t.Errorf("%s: %s has no %q", c.what, c.file, c.old)
			continue
		}
		files[c.file] = &fstest.MapFile{Data: []byte(text)}
		changed, found := b.Reread(files, []string{c.file})
		found = append(found, cautionsFaults(changed)...)
		if got := found.Error(); !strings.Contains(got, c.want) {
			t.Errorf("%s: wanted %q, got %q", c.what, c.want, got)
		}
		files[c.file] = before
	}
}

// TestALostHazardOfASheetIsFound takes a hazard out of the declaration of the
// calculator that plans the tower: its steps need it.
func TestALostHazardOfASheetIsFound(t *testing.T) {
	files := projectFiles(t)
	for _, hazard := range []calculators.Hazard{calculators.Tools, calculators.Dust, calculators.Toppling, calculators.Chlorine} {
		var all []calculators.Calculator
		for _, c := range catalog.All().All() {
			if c.ID == "tower" {
				var less []calculators.Hazard
				for _, h := range c.Hazards {
					if h != hazard {
						less = append(less, h)
					}
				}
				c.Hazards = less
				all = append(all, c)
			}
		}
		b, _ := book.Read(files, calculators.NewSet(all...))
		if got, want := sheetFaults(b).Error(), "has the hazard "+string(hazard)+", which the declaration leaves out"; !strings.Contains(got, want) {
			t.Errorf("wanted %q, got %q", want, got)
		}
	}
}
