package reckon

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"mereleaf/calculators"
	"mereleaf/cmd/mereleaf/internal/browser/browsertest"
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
func key(tb *browsertest.Tab, keys string) focus {
	tb.T.Helper()
	tb.Do(chromedp.KeyEvent(keys))
	return browsertest.Evaluate[focus](tb, focused)
}

// TestTowerByKeyboard plans a tower without a pointer: past the header by the link
// that skips it, through every field in the order in which they are read, each with
// its focus seen, and from the answer into a calculator and back.
func TestTowerByKeyboard(t *testing.T) {
	tb := browser.Open(t)
	tb.Phone()
	tb.Reckon("tower")
	browsertest.Evaluate[bool](tb, `(scrollTo(0, 0), document.activeElement.blur(), true)`)
	if f := key(tb, kb.Tab); !strings.HasPrefix(f.Name, "Skip") {
		t.Fatalf("the first stop is %+v; want the link that skips to the text", f)
	}
	key(tb, kb.Enter)
	last, stops := -1, 0
	var names []string
	to := func(name string) focus {
		t.Helper()
		for range 400 {
			f := key(tb, kb.Tab)
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
	tower := browsertest.Calculator(t, "tower")
	label := func(input string) string {
		d, ok := tower.Input(input)
		if !ok {
			t.Fatalf("the tower has no input %s", input)
		}
		return d.Label
	}
	before := tb.Text(browsertest.Pad("tower") + " .answer")
	to(label("volume"))
	tb.Do(chromedp.KeyEvent("12000"))
	if tb.Holds("tower", "volume") != "12000" {
		t.Errorf("typed 12000, and the field holds %q", tb.Holds("tower", "volume"))
	}
	want := browsertest.Answer(t, "tower", calculators.With(tower.Example.Given, calculators.Arg{Name: "volume", Value: "12000 L"})...)
	if got := tb.Text(browsertest.Pad("tower") + " .answer"); got == before {
		t.Error("the answer is the same for another volume")
	}
	tb.Figure("tower", want)

	summary := to("Assumed")
	if summary.Tag != "SUMMARY" {
		t.Errorf("the fine points unfold by a %s", summary.Tag)
	}
	key(tb, kb.Enter)
	if !browsertest.Evaluate[bool](tb, `document.activeElement.parentElement.open`) {
		t.Error("the fine points do not unfold by Enter")
	}
	// A part of the sheet, by the list of parts, and on from there.
	part := to("What it does to the water")
	key(tb, kb.Enter)
	if hash := browsertest.Evaluate[string](tb, `location.hash`); !strings.HasPrefix(hash, "#pad_tower_part_") {
		t.Errorf("the link %q leads to %q", part.Name, hash)
	}
	last = -1 // it has jumped ahead
	link := browsertest.Evaluate[focus](tb, focused)
	for range 10 {
		if link = key(tb, kb.Tab); link.Tag == "A" && browsertest.Evaluate[bool](tb, `document.activeElement.className === "r"`) {
			break
		}
	}
	if !browsertest.Evaluate[bool](tb, `document.querySelector(location.hash).contains(document.activeElement)`) {
		t.Errorf("after the jump the next stop is %+v, outside of the part", link)
	}
	address := browsertest.Evaluate[string](tb, `document.activeElement.href`)
	tb.Do(chromedp.KeyEvent(kb.Enter))
	tb.Await(fmt.Sprintf(`location.href === %q`, address), "Enter does not follow the link to the calculator behind a line")
	tb.Back()
	tb.Await(`location.pathname.endsWith("reckon/tower.html")`, "there is no way back")
	tb.Ready("tower")
	if got := tb.Holds("tower", "volume"); got != "12000" {
		t.Errorf("on the way back the volume is %q", got)
	}
}
