package browser

import (
	"fmt"
	"strings"
	"testing"
)

// TestFinePointsAreFolded finds the answer of the ammonia leaf before the fine
// points are wanted, and sees that none of them counts unseen.
func TestFinePointsAreFolded(t *testing.T) {
	tb := open(t)
	tb.phone()
	tb.visit("water/ammonia.html")
	tb.ready("free-ammonia")
	fold := func(of string) bool {
		return evaluate[bool](tb, fmt.Sprintf(`document.querySelector(%q).open`, pad("free-ammonia")+" "+of))
	}
	line := func() string { return tb.text(pad("free-ammonia") + " .points") }
	if fold(".fine") || fold(".more") {
		t.Error("the fine points are not folded")
	}
	salt, _ := mustFind(t, "free-ammonia").Input("salinity")
	said := strings.ToLower(salt.Label)
	if text := line(); !strings.HasPrefix(text, "Assumed: "+said) {
		t.Errorf("the fold says %q; want what is assumed of %s", text, said)
	}
	evaluate[bool](tb, fmt.Sprintf(`[...document.querySelectorAll(%q)].every(d => d.open = true)`, pad("free-ammonia")+" details"))
	tb.write("free-ammonia", "salinity", "3")
	if text := line(); !strings.HasPrefix(text, "Stated: "+salt.Label+" 3 g/kg. Assumed: ") || strings.Contains(text, said) {
		t.Errorf("with 3 g/kg of salt the fold says %q", text)
	}
	if !fold(".more") || !fold(".working") {
		t.Error("a new answer folds away what was open")
	}
	tb.write("free-ammonia", "salinity", "4 ppt")
	if text := line(); !strings.Contains(text, "4 ppt. ") {
		t.Errorf("with 4 ppt of salt the fold says %q", text)
	}
}

// TestFinePointsUnfold sees that a number that a link brought, or one that was
// refused, does not hide.
func TestFinePointsUnfold(t *testing.T) {
	tb := open(t)
	tb.phone()
	tb.visit("reckon/free-ammonia.html?salinity=300+g/kg")
	tb.ready("free-ammonia")
	if !evaluate[bool](tb, fmt.Sprintf(`document.querySelector(%q).open`, pad("free-ammonia")+" .fine")) {
		t.Error("the salt that the link brought is folded away")
	}
	if !evaluate[bool](tb, fmt.Sprintf(`document.querySelector(%q).checkVisibility()`, pad("free-ammonia")+" .fault")) {
		t.Error("what is wrong with the salt does not show")
	}
}
