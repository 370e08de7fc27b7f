package browser

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"mereleaf/calculators"
)

// focus is what has the keyboard's focus.
type focus struct {
	Name    string // label or text
	Tag     string
	Marked  bool // a line around it, or the like
	Hidden  bool // out of the window, or covered by what is fixed there
	Ordinal int  // its place among all that can be reached
}

const focused = `(() => {
	const e = document.activeElement;
	if (!e || e === document.body) return { Name: "", Tag: "BODY", Marked: true, Hidden: false, Ordinal: -1 };
	const style = getComputedStyle(e), box = e.getBoundingClientRect();
	const label = e.labels?.[0]?.textContent ?? e.textContent ?? "";
	const x = Math.min(Math.max(box.left + box.width / 2, 1), innerWidth - 1), y = Math.min(box.top + Math.min(box.height / 2, 20), innerHeight - 1);
	const there = document.elementFromPoint(x, y);
	return {
		Name: (e.getAttribute("aria-label") || label || e.name || "").trim().replace(/\s+/g, " "),
		Tag: e.tagName,
		Marked: style.outlineStyle !== "none" && parseFloat(style.outlineWidth) > 0,
		Hidden: box.bottom < 0 || box.top > innerHeight || !there || !(e.contains(there) || there.contains(e)),
		Ordinal: [...document.querySelectorAll("a, button, input, select, textarea, summary, [tabindex]")].indexOf(e),
	};
})()`

// key sends keys and returns what has the focus then.
func (tb *tab) key(keys string) focus {
	tb.t.Helper()
	tb.do(chromedp.KeyEvent(keys))
	return evaluate[focus](tb, focused)
}

// TestTowerByKeyboard plans a tower without a pointer: past the header by the link
// that skips it, through every field in the order in which they are read, each with
// its focus seen, and from the answer into a calculator and back.
func TestTowerByKeyboard(t *testing.T) {
	tb := open(t)
	tb.phone()
	tb.reckon("tower")
	evaluate[bool](tb, `(scrollTo(0, 0), document.activeElement.blur(), true)`)
	if f := tb.key(kb.Tab); !strings.HasPrefix(f.Name, "Skip") {
		t.Fatalf("the first stop is %+v; want the link that skips to the text", f)
	}
	tb.key(kb.Enter)
	last, stops := -1, 0
	var names []string
	to := func(name string) focus {
		t.Helper()
		for range 400 {
			f := tb.key(kb.Tab)
			if f.Tag == "BODY" {
				t.Fatalf("past the end of the leaf, and %q has not come; there were %q", name, names)
			}
			if stops++; f.Name == "" || !f.Marked || f.Hidden {
				t.Errorf("stop %d, after %q, is not seen or has no name: %+v", stops, names[max(0, len(names)-1):], f)
			}
			if f.Ordinal <= last {
				t.Errorf("%q is reached after what stands below it", f.Name)
			}
			last = f.Ordinal
			names = append(names, f.Name)
			if strings.HasPrefix(f.Name, name) {
				return f
			}
		}
		t.Fatalf("%q is not reached; there were %q", name, names)
		return focus{}
	}
	tower := mustFind(t, "tower")
	label := func(input string) string {
		d, ok := tower.Input(input)
		if !ok {
			t.Fatalf("the tower has no input %s", input)
		}
		return d.Label
	}
	before := tb.text(pad("tower") + " .answer")
	to(label("volume"))
	tb.do(chromedp.KeyEvent("12000"))
	if tb.holds("tower", "volume") != "12000" {
		t.Errorf("typed 12000, and the field holds %q", tb.holds("tower", "volume"))
	}
	want := native(t, "tower", calculators.With(tower.Example.Given, calculators.Arg{Name: "volume", Value: "12000 L"})...)
	if got := tb.text(pad("tower") + " .answer"); got == before {
		t.Error("the answer is the same for another volume")
	}
	tb.main("tower", want)

	summary := to("Assumed")
	if summary.Tag != "SUMMARY" {
		t.Errorf("the fine points unfold by a %s", summary.Tag)
	}
	tb.key(kb.Enter)
	if !evaluate[bool](tb, `document.activeElement.parentElement.open`) {
		t.Error("the fine points do not unfold by Enter")
	}
	// A part of the sheet, by the list of parts, and on from there.
	part := to("What it does to the water")
	tb.key(kb.Enter)
	if hash := evaluate[string](tb, `location.hash`); !strings.HasPrefix(hash, "#pad_tower_part_") {
		t.Errorf("the link %q leads to %q", part.Name, hash)
	}
	last = -1 // it has jumped ahead
	link := evaluate[focus](tb, focused)
	for range 10 {
		if link = tb.key(kb.Tab); link.Tag == "A" && evaluate[bool](tb, `document.activeElement.className === "r"`) {
			break
		}
	}
	if !evaluate[bool](tb, `document.querySelector(location.hash).contains(document.activeElement)`) {
		t.Errorf("after the jump the next stop is %+v, outside of the part", link)
	}
	address := evaluate[string](tb, `document.activeElement.href`)
	tb.do(chromedp.KeyEvent(kb.Enter))
	tb.await(fmt.Sprintf(`location.href === %q`, address), "Enter does not follow the link to the calculator behind a line")
	evaluate[bool](tb, `(history.back(), true)`)
	tb.await(`location.pathname.endsWith("reckon/tower.html")`, "there is no way back")
	tb.ready("tower")
	if got := tb.holds("tower", "volume"); got != "12000" {
		t.Errorf("on the way back the volume is %q", got)
	}
}

// TestNamesInTheAccessibilityTree reads the pages as a screen reader does: all that
// can be reached has a name.
func TestNamesInTheAccessibilityTree(t *testing.T) {
	tb := open(t)
	tb.phone()
	call(tb, accessibility.Enable, cdp.Empty{})
	text := func(v *accessibility.Value) string {
		if v == nil {
			return ""
		}
		return strings.Trim(string(v.Value), `"`)
	}
	for _, path := range looked {
		tb.visit(path)
		if strings.HasPrefix(path, "reckon/") && path != "reckon/index.html" {
			tb.ready(strings.TrimSuffix(strings.TrimPrefix(path, "reckon/"), ".html"))
		}
		evaluate[bool](tb, `(document.querySelectorAll("details").forEach(d => d.open = true), true)`)
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
	tb := open(t)
	tb.phone()
	for _, want := range []string{"reduce", "no-preference"} {
		call(tb, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-reduced-motion", Value: want}}})
		moving := 0
		for _, path := range looked {
			tb.visit(path)
			moving += evaluate[int](tb, `[...document.querySelectorAll("*")].filter(e => { const s = getComputedStyle(e); return s.scrollBehavior === "smooth" || s.animationName !== "none" || s.transitionDuration.split(",").some(d => parseFloat(d) > 0) }).length`)
		}
		if (want == "reduce") != (moving == 0) {
			t.Errorf("with motion %q, %d elements move", want, moving)
		}
	}
}
