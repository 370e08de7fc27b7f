package browser

import "testing"

// Inputs that were called pond once: an old link still fills them, and so does a
// record that an earlier edition kept.
func TestEarlierNamesAreRead(t *testing.T) {
	tb := open(t)
	tb.touch()
	tb.visit("reckon/chlorine.html?new-water=500+L&pond=8765+L")
	tb.ready("chlorine")
	if got := tb.holds("chlorine", "volume"); got != "8765" {
		t.Errorf("the link's pond=8765 L shows as %q", got)
	}
	tb.setKept(`{"pond record":1,"facts":{"new-fish.pond":"17 Cel","tower.pond":"ellipse"}}`)
	tb.reckon("new-fish")
	if got := tb.holds("new-fish", "pond-temperature"); got != "17" {
		t.Errorf("the kept new-fish.pond shows as %q", got)
	}
	tb.reckon("tower")
	if got := tb.holds("tower", "volume-from"); got != "ellipse" {
		t.Errorf("the kept tower.pond shows as %q", got)
	}
}
