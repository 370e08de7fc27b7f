package figures

import "testing"

func TestCount(t *testing.T) {
	lib := toyLibrary(t)
	want := []Tally{{Published, 5, 15}, {Computed, 1, 4}, {Practice, 10, 22}, {Scenario, 1, 5}}
	got := Count(lib.Sets...)
	if len(got) != len(want) {
		t.Fatalf("%v, want %v", got, want)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("%v, want %v", got[i], want[i])
		}
	}
	if none := Count(); none != nil {
		t.Errorf("no sets have %v", none)
	}
}
