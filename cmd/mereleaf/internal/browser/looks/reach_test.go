package looks

import (
	"strings"
	"testing"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"mereleaf/cmd/mereleaf/internal/browser/browsertest"
)

// TestNamesInTheAccessibilityTree reads the pages as a screen reader does: all that
// can be reached has a name.
func TestNamesInTheAccessibilityTree(t *testing.T) {
	tb := browser.Open(t)
	tb.Phone()
	browsertest.Call(tb, accessibility.Enable, cdp.Empty{})
	text := func(v *accessibility.Value) string {
		if v == nil {
			return ""
		}
		return strings.Trim(string(v.Value), `"`)
	}
	for _, path := range browsertest.Looked() {
		tb.Visit(path)
		if strings.HasPrefix(path, "reckon/") && path != "reckon/index.html" {
			tb.Ready(strings.TrimSuffix(strings.TrimPrefix(path, "reckon/"), ".html"))
		}
		browsertest.Evaluate[bool](tb, `(document.querySelectorAll("details").forEach(d => d.open = true), true)`)
		tree, err := chromedp.Call(tb, accessibility.GetFullAXTree, accessibility.GetFullAXTreeParams{})
		if err != nil {
			t.Fatal(err)
		}
		reached, live, main := 0, 0, 0
		for _, n := range tree.Nodes {
			if n.Ignored {
				continue
			}
			role, name := text(n.Role), text(n.Name)
			switch role {
			case "main":
				main++
			case "status":
				live++
			}
			can := false
			for _, p := range n.Properties {
				can = can || p.Name == accessibility.PropertyNameFocusable && p.Value != nil && string(p.Value.Value) == "true"
			}
			if !can || role == "RootWebArea" {
				continue
			}
			if reached++; name == "" {
				t.Errorf("%s: a %s has no name", path, role)
			}
		}
		if reached < 5 || main != 1 {
			t.Errorf("%s: %d things can be reached, and %d are its main part", path, reached, main)
		}
		if strings.HasPrefix(path, "reckon/") && path != "reckon/index.html" && live == 0 {
			t.Errorf("%s: a new answer is said by no one", path)
		}
	}
}

// TestReducedMotion reads with as little movement as possible.
func TestReducedMotion(t *testing.T) {
	tb := browser.Open(t)
	tb.Phone()
	moving := map[string]int{} // elements by what the reader prefers
	for _, path := range browsertest.Looked() {
		tb.Visit(path)
		for _, prefers := range []string{"reduce", "no-preference"} {
			browsertest.Call(tb, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-reduced-motion", Value: prefers}}})
			moving[prefers] += browsertest.Evaluate[int](tb, `[...document.querySelectorAll("*")].filter(e => { const s = getComputedStyle(e); return s.scrollBehavior === "smooth" || s.animationName !== "none" || s.transitionDuration.split(",").some(d => parseFloat(d) > 0) }).length`)
		}
	}
	if moving["reduce"] != 0 || moving["no-preference"] == 0 {
		t.Errorf("elements that move, by what the reader prefers: %v", moving)
	}
}
