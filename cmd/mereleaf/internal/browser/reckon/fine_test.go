package reckon

import (
	"fmt"
	"strings"
	"testing"

	"mereleaf/cmd/mereleaf/internal/browser/browsertest"
)

// TestFinePointsAreFolded finds the answer of the ammonia leaf before the fine
// points are wanted, and sees that none of them counts unseen.
func TestFinePointsAreFolded(t *testing.T) {
	tb := browser.Open(t)
	tb.Phone()
	tb.Visit("water/ammonia.html")
	tb.Ready("free-ammonia")
	fold := func(of string) bool {
		return browsertest.Evaluate[bool](tb, fmt.Sprintf(`document.querySelector(%q).open`, browsertest.Pad("free-ammonia")+" "+of))
	}
	line := func() string { return tb.Text(browsertest.Pad("free-ammonia") + " .points") }
	if fold(".fine") || fold(".more") {
		t.Error("the fine points are not folded")
	}
	salt, _ := browsertest.Calculator(t, "free-ammonia").Input("salinity")
	said := strings.ToLower(salt.Label)
	if text := line(); !strings.HasPrefix(text, "Assumed: "+said) {
		t.Errorf("the fold says %q; want what is assumed of %s", text, said)
	}
	browsertest.Evaluate[bool](tb, fmt.Sprintf(`[...document.querySelectorAll(%q)].every(d => d.open = true)`, browsertest.Pad("free-ammonia")+" details"))
	tb.Write("free-ammonia", "salinity", "3")
	if text := line(); !strings.HasPrefix(text, "Stated: "+salt.Label+" 3 g/kg. Assumed: ") || strings.Contains(text, said) {
		t.Errorf("with 3 g/kg of salt the fold says %q", text)
	}
	if !fold(".more") || !fold(".working") {
		t.Error("a new answer folds away what was open")
	}
	tb.Write("free-ammonia", "salinity", "4 ppt")
	if text := line(); !strings.Contains(text, "4 ppt. ") {
		t.Errorf("with 4 ppt of salt the fold says %q", text)
	}
}

// TestFinePointsUnfold sees that a number that a link brought, or one that was
// refused, does not hide.
func TestFinePointsUnfold(t *testing.T) {
	tb := browser.Open(t)
	tb.Phone()
	tb.Visit("reckon/free-ammonia.html?salinity=300+g/kg")
	tb.Ready("free-ammonia")
	if !browsertest.Evaluate[bool](tb, fmt.Sprintf(`document.querySelector(%q).open`, browsertest.Pad("free-ammonia")+" .fine")) {
		t.Error("the salt that the link brought is folded away")
	}
	if !browsertest.Evaluate[bool](tb, fmt.Sprintf(`document.querySelector(%q).checkVisibility()`, browsertest.Pad("free-ammonia")+" .fault")) {
		t.Error("what is wrong with the salt does not show")
	}
}
