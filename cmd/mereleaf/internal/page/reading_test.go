package page

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestMeasure counts by hand.
func TestMeasure(t *testing.T) {
	for _, c := range []struct {
		text string
		want Prose
	}{
		{"", Prose{}},
		{"The fish eat. Do they?", Prose{2, 5, 5}},
		{"Water of 9.1 mg/L holds", Prose{1, 4, 5}},
		{"One line\nand another.\n", Prose{1, 4, 6}},
		{"1. 2. 3.", Prose{}},
	} {
		if got := Measure(c.text); got != c.want {
			t.Errorf("Measure(%q) = %+v, want %+v", c.text, got, c.want)
		}
	}
	if g := (Prose{}).Grade(); g != 0 {
		t.Errorf("the grade of nothing is %v", g)
	}
	easy, hard := Measure("Feed the fish."), Measure("Nitrification necessitates considerable alkalinity, notwithstanding denitrification.")
	if easy.Grade() >= hard.Grade() {
		t.Errorf("plain words have grade %.1f, long ones %.1f", easy.Grade(), hard.Grade())
	}
}

// TestReadingOfADocument counts what a reader reads on, paragraph by paragraph.
func TestReadingOfADocument(t *testing.T) {
	doc, _ := Parse("in.md", []byte("# No title counts\n\nThe fish eat.\n\n## No heading\n\n- Do they?\n- Yes\n\n| No | table |\n|---|---|\n| a | b |\n\n```math\nx y\n```\n\n> **Notice: no head.** It [counts](term:x).\n"))
	if want := (Prose{4, 8, 8}); doc.Reading.Prose != want {
		t.Errorf("got %+v, want %+v", doc.Reading.Prose, want)
	}
}

// TestPassages takes a chapter apart as a reader who looks for something does.
func TestPassages(t *testing.T) {
	doc, _ := Parse("in.md", []byte("# Title\n\nThe *fish* eat.\n\n## Why\n\n- Do [they](term:x)?\n\n> **Notice: care.** It counts.\n\n| See | Do |\n|---|---|\n| foam | skim |\n\n### Numbers\n\n[All of them](figures:x)\n\n| a |\n|---|\n| 1 |\n\n```lookup x\ncaption = Ready\n```\n"))
	want := []Passage{{"", "The fish eat.", false}, {"why", "Do they?", false}, {"why", "care", false}, {"why", "It counts.", false}, {"why", "foam · skim", false}, {"numbers", "All of them", true}, {"numbers", "Ready", true}}
	if diff := cmp.Diff(doc.Passages, want); diff != "" {
		t.Errorf("passages (-got +want):\n%s", diff)
	}
}
