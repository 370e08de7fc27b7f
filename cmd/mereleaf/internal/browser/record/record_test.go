package record

import (
	"fmt"
	"maps"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"mereleaf/calculators"
	"mereleaf/cmd/mereleaf/internal/browser/browsertest"
)

// TestRecordFillsOtherCalculators types in two calculators and finds it in a
// third and, after a reload, in all.
func TestRecordFillsOtherCalculators(t *testing.T) {
	tb := browser.Open(t)
	tb.Touch()
	tb.Reckon("nitrite")
	if got := tb.Kept(); got != "null" {
		t.Fatalf("before anything is typed there is kept %s", got)
	}
	want := tb.FillPond()
	if got := browsertest.Facts(t, tb.Kept()); !maps.Equal(got, want) {
		t.Fatalf("kept is %v; want %v", got, want)
	}

	tb.Reckon("oxygen-night")
	example := browsertest.Calculator(t, "oxygen-night").Example.Given
	args := calculators.With(calculators.With(example, calculators.Arg{Name: "volume", Value: want["volume"]}), calculators.Arg{Name: "fish", Value: want["fish"]})
	tb.Figure("oxygen-night", browsertest.Answer(t, "oxygen-night", args...))
	if note := tb.Text(browsertest.Pad("oxygen-night") + " .note"); !strings.Contains(note, "Your pond's numbers") || !strings.Contains(note, "Still from the worked example: Area of the surface") {
		t.Errorf("the pad says %q of its numbers", note)
	}
	if marks := browsertest.Evaluate[[]string](tb, fmt.Sprintf(`[...document.querySelectorAll(%q)].map(m => m.closest("[data-input]").dataset.input + " " + m.textContent)`, browsertest.Pad("oxygen-night")+" .from")); strings.Join(marks, "; ") != "fish yours, today; volume yours, today" {
		t.Errorf("marked are %q", marks)
	}

	tb.Reckon("nitrite")
	if got := tb.Holds("nitrite", "volume") + " " + tb.Holds("nitrite", "reading"); got != "2400 0.7" {
		t.Errorf("after a reload volume and reading are %q", got)
	}
}

// TestReloadKeepsAll empties a field, chooses, and types where no other
// calculator asks for the same.
func TestReloadKeepsAll(t *testing.T) {
	const id = "water-change"
	tb := browser.Open(t)
	tb.Touch()
	tb.Reckon(id)
	tb.Choose(browsertest.Pad(id)+` select[name="find"]`, "left")
	tb.Write(id, "count", "3")
	tb.Write(id, "each", "20")
	tb.Do(chromedp.Click(chromedp.CSS(browsertest.Pad(id) + " input[name=tap]")))
	tb.Write(id, "tap", "1\b")
	want := browsertest.Evaluate[string](tb, fmt.Sprintf(`document.querySelector(%q).textContent`, browsertest.Pad(id)+" .answer"))
	tb.Reckon(id)
	for input, value := range map[string]string{"find": "left", "count": "3", "each": "20", "tap": ""} {
		if got := tb.Holds(id, input); got != value {
			t.Errorf("after the reload %s is %q; want %q", input, got, value)
		}
	}
	if got := tb.Text(browsertest.Pad(id) + " .answer"); got != want {
		t.Errorf("after the reload the answer is %q; it was %q", got, want)
	}
}

// TestLinkBeforeRecord opens a link to a calculator: its numbers count more than
// what is kept, until the reader types.
func TestLinkBeforeRecord(t *testing.T) {
	const id = "nitrite"
	tb := browser.Open(t)
	tb.Touch()
	tb.FillPond()
	link := "reckon/" + id + ".html?volume=5000+L&reading=0.3+mg%2FL"
	tb.Visit(link)
	tb.Ready(id)
	if got := tb.Holds(id, "volume") + " " + tb.Holds(id, "reading"); got != "5000 0.3" {
		t.Errorf("the link's numbers show as %q", got)
	}
	if got := browsertest.Facts(t, tb.Kept())["volume"]; got != "2400 [gal_br]" {
		t.Errorf("a link that was only opened has changed what is kept to %q", got)
	}
	tb.Write(id, "reading", "0.9")
	tb.Do(chromedp.Reload())
	tb.Ready(id)
	if got := tb.Holds(id, "volume") + " " + tb.Holds(id, "reading"); got != "5000 0.9" {
		t.Errorf("typed over the link and reloaded, they are %q", got)
	}
}

// TestUnreadableRecord types over records that cannot be read, which must not be
// lost.
func TestUnreadableRecord(t *testing.T) {
	const id = "nitrite"
	newer := `{"pond record":2,"facts":{"volume":"1 L"}}`
	for _, c := range []struct{ text, says string }{{"{not a record", "cannot be read"}, {newer, "newer edition"}} {
		tb := browser.Open(t)
		tb.Touch()
		tb.Visit("terms.html")
		tb.SetKept(c.text)
		tb.Reckon(id)
		tb.Says(browsertest.Pad(id)+" .state", c.says)
		tb.Write(id, "reading", "0.9")
		args := calculators.With(browsertest.Calculator(t, id).Example.Given, calculators.Arg{Name: "reading", Value: "0.9 mg/L"})
		tb.Figure(id, browsertest.Answer(t, id, args...))
		if c.text == newer {
			if tb.Kept() != newer {
				t.Errorf("the newer record was overwritten with %s", tb.Kept())
			}
			continue
		}
		if got := browsertest.Facts(t, tb.Kept()); got["nitrite"] != "0.9 mg/L" {
			t.Errorf("beside the broken record is kept %v", got)
		}
		tb.Record()
		tb.Says(`[data-part="aside"]`, "Save what cannot be read")
		if got := browsertest.Evaluate[string](tb, `localStorage.getItem("pond record `+browsertest.Base+` aside 1")`); got != c.text {
			t.Errorf("put aside is %q; want %q", got, c.text)
		}
	}
}

// TestFullOrRefusedStorage types where nothing can be kept.
func TestFullOrRefusedStorage(t *testing.T) {
	const id = "nitrite"
	full := `(() => { let s = "x".repeat(1 << 20); while (s) { try { localStorage.setItem(s.length + Math.random().toString(), s) } catch { s = s.slice(s.length >> 1) || "" ; if (s.length === 1) break } } return true })()`
	refused := `(Object.defineProperty(window, "localStorage", {get() { throw new DOMException("refused", "SecurityError") }}), true)`
	for name, spoil := range map[string]string{"full": full, "refused": refused} {
		tb := browser.Open(t)
		tb.Touch()
		tb.Reckon(id)
		browsertest.Evaluate[bool](tb, spoil)
		tb.Write(id, "reading", "0.9")
		args := calculators.With(browsertest.Calculator(t, id).Example.Given, calculators.Arg{Name: "reading", Value: "0.9 mg/L"})
		tb.Figure(id, browsertest.Answer(t, id, args...))
		tb.Do(chromedp.Focus(chromedp.CSS(browsertest.Pad(id) + " input[name=volume]")))
		tb.Says(browsertest.Pad(id)+" .state", "gone when you leave the leaf")
		if got := tb.Holds(id, "reading"); got != "0.9" {
			t.Errorf("%s: the field has gone back to %q", name, got)
		}
	}
}

// TestTwoTabs types in one tab while another shows the same fact, and while the
// reader is about to type there.
func TestTwoTabs(t *testing.T) {
	first := browser.Open(t)
	first.Touch()
	first.Reckon("nitrite")
	second := first.Beside()
	second.Touch()
	second.Reckon("bicarbonate-dose")
	second.Write("bicarbonate-dose", "now", "40")
	first.Write("nitrite", "volume", "4321")
	second.Await(fmt.Sprintf(`document.querySelector(%q).value === "4321"`, browsertest.Pad("bicarbonate-dose")+" input[name=volume]"), "the other tab does not show the volume")
	args := calculators.With(calculators.With(browsertest.Calculator(t, "bicarbonate-dose").Example.Given, calculators.Arg{Name: "volume", Value: "4321 L"}), calculators.Arg{Name: "now", Value: "40 mg/L"})
	second.Figure("bicarbonate-dose", browsertest.Answer(t, "bicarbonate-dose", args...))
	if got := browsertest.Facts(t, first.Kept()); got["volume"] != "4321 L" || got["alkalinity"] != "40 mg/L" {
		t.Errorf("of two tabs is kept %v", got)
	}

	field := browsertest.Pad("bicarbonate-dose") + " input[name=volume]"
	second.Do(chromedp.Focus(chromedp.CSS(field)))
	browsertest.Evaluate[bool](second, fmt.Sprintf(`(document.querySelector(%q).value = "98", true)`, field))
	first.Write("nitrite", "volume", "5555")
	second.Await(`localStorage.getItem("pond record `+browsertest.Base+`").includes("5555")`, "the other tab does not see what is kept")
	if got := second.Holds("bicarbonate-dose", "volume"); got != "98" {
		t.Errorf("the field that is being typed into was changed to %q", got)
	}
	second.Do(chromedp.SendKeys(chromedp.CSS(field), "7"))
	first.Await(`localStorage.getItem("pond record `+browsertest.Base+`").includes("987")`, "what was typed in the other tab is not kept")
	if got := first.Holds("nitrite", "volume"); got != "5555" {
		t.Errorf("the field in which the reader stands was changed to %q", got)
	}
	first.Do(chromedp.Focus(chromedp.CSS(browsertest.Pad("nitrite") + " input[name=reading]")))
	first.Await(fmt.Sprintf(`document.querySelector(%q).value === "987"`, browsertest.Pad("nitrite")+" input[name=volume]"), "the first tab does not follow")
}

// TestRecordWithoutJavaScript reads what the leaf says then.
func TestRecordWithoutJavaScript(t *testing.T) {
	tb := browser.Open(t)
	tb.Touch()
	browsertest.Call(tb, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
	tb.Visit("record.html")
	if text := browsertest.Evaluate[string](tb, `document.querySelector("main").innerText`); !strings.Contains(text, "needs JavaScript") || strings.Contains(text, "Erase") {
		t.Errorf("without JavaScript the leaf says %q", text)
	}
}

// TestRecordPictures takes pictures of a record and of a calculator that it has
// filled. Nothing in them may be wider than the screen.
func TestRecordPictures(t *testing.T) {
	tb := browser.Open(t)
	tb.Touch()
	tb.FillPond()
	tb.Reckon("water-change")
	tb.Choose(browsertest.Pad("water-change")+` select[name="find"]`, "left")
	tb.Write("water-change", "count", "3")
	for _, width := range []int64{360, 1280} {
		tb.Do(chromedp.EmulateViewport(width, 800))
		for _, mode := range []string{"light", "dark"} {
			tb.Scheme(mode)
			for name, see := range map[string]func(){"record": tb.Record, "oxygen-night": func() { tb.Reckon("oxygen-night") }} {
				see()
				picture, err := chromedp.Run(tb, chromedp.FullScreenshot(100))
				if err != nil {
					t.Fatal(err)
				}
				browsertest.Keep(t, fmt.Sprintf("kept-%s-%d-%s.png", name, width, mode), picture)
				if wide := browsertest.Evaluate[int64](tb, `document.scrollingElement.scrollWidth`); wide > width {
					t.Errorf("%s is %d px wide on a screen of %d", name, wide, width)
				}
			}
		}
	}
}

// TestRecordAccessible runs axe-core over the leaf with a record on it, with the
// question before erasing, and with a link that asks.
func TestRecordAccessible(t *testing.T) {
	script := browsertest.AxeScript(t)
	tb := browser.Open(t)
	tb.Touch()
	tb.FillPond()
	tb.Record()
	tb.Await(`document.querySelector("[data-part=link]").value !== ""`, "there is no link")
	link := browsertest.Evaluate[string](tb, `document.querySelector("[data-part=link]").value`)
	tb.Press("erase")
	tb.Accessible(script, "with a record", browsertest.EveryRule)
	tb.Reckon("nitrite")
	tb.Write("nitrite", "volume", "1000")
	tb.Accessible(script, "a filled calculator", browsertest.EveryRule)
	tb.Do(chromedp.Navigate(link))
	tb.Says(`[data-part="differ"]`, "2400")
	tb.Accessible(script, "with a link that asks", browsertest.EveryRule)
	picture, err := chromedp.Run(tb, chromedp.FullScreenshot(100))
	if err != nil {
		t.Fatal(err)
	}
	browsertest.Keep(t, "kept-link-360.png", picture)
}
