package browser

import (
	"encoding/json"
	"fmt"
	"maps"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"mereleaf/calculators"
)

// touch makes the tab a phone that is touched.
func (tb *tab) touch() {
	tb.t.Helper()
	tb.do(chromedp.EmulateViewport(360, 780, chromedp.EmulateMobile, chromedp.EmulateTouch))
}

// reckon opens the leaf of a calculator and waits until it reckons.
func (tb *tab) reckon(id string) {
	tb.t.Helper()
	tb.visit("reckon/" + id + ".html")
	tb.ready(id)
}

// record opens the leaf of the pond record.
func (tb *tab) record() {
	tb.t.Helper()
	tb.visit("record.html")
	tb.do(chromedp.WaitVisible(chromedp.CSS(`[data-part="export"]`)))
}

// press touches a button of the leaf of the record.
func (tb *tab) press(name string) {
	tb.t.Helper()
	// What was done before may still be moving the leaf, and the click would miss.
	evaluate[bool](tb, fmt.Sprintf(`new Promise((done) => {
		let last = 0, still = 0
		const look = () => {
			const top = document.querySelector('[data-do=%q]')?.getBoundingClientRect().top ?? 0
			still = top === last ? still + 1 : 0
			last = top
			still > 3 ? done(true) : setTimeout(look, 20)
		}
		look()
	})`, name))
	tb.do(chromedp.Click(chromedp.CSS(fmt.Sprintf(`[data-do=%q]`, name))))
}

// holds is what a field of a pad holds.
func (tb *tab) holds(id, input string) string {
	tb.t.Helper()
	return evaluate[string](tb, fmt.Sprintf(`document.querySelector(%q).value`, pad(id)+fmt.Sprintf(` [data-input=%q] [name]`, input)))
}

// await polls a script expression until it is true.
func (tb *tab) await(expression, want string) {
	tb.t.Helper()
	if !tb.until(func() bool { return look[bool](tb, expression) }) {
		tb.t.Fatal(want)
	}
}

func (tb *tab) says(part, want string) {
	tb.t.Helper()
	said := ""
	if !tb.until(func() bool {
		said = look[string](tb, fmt.Sprintf(`document.querySelector(%q).textContent`, part))
		return strings.Contains(said, want)
	}) {
		tb.t.Fatalf("%s does not say %q; it says %q", part, want, said)
	}
}

// kept is the text behind the record's key, "null" without one.
func (tb *tab) kept() string {
	tb.t.Helper()
	return evaluate[string](tb, `String(localStorage.getItem("pond record `+base+`"))`)
}

func (tb *tab) setKept(text string) {
	tb.t.Helper()
	evaluate[bool](tb, fmt.Sprintf(`(localStorage.setItem("pond record `+base+`", %q), true)`, text))
}

// facts reads a record as another program would.
func facts(t *testing.T, text string) map[string]string {
	t.Helper()
	var record struct {
		Version int               `json:"pond record"`
		Facts   map[string]string `json:"facts"`
	}
	if err := json.Unmarshal([]byte(text), &record); err != nil || record.Version != 1 {
		t.Fatalf("%v: version %d of %s", err, record.Version, text)
	}
	return record.Facts
}

// fillPond types into two calculators what the tests below look for.
func fillPond(tb *tab) map[string]string {
	tb.t.Helper()
	tb.reckon("nitrite")
	tb.write("nitrite", "volume", "2400")
	tb.choose(pad("nitrite")+` [data-input="volume"] select.unit`, "[gal_br]")
	tb.write("nitrite", "reading", "0.7")
	tb.reckon("fish-weight")
	tb.do(chromedp.Click(chromedp.CSS(pad("fish-weight") + " .add")))
	row := pad("fish-weight") + " .lines > .line:nth-child(2) "
	tb.choose(row+`[data-column="species"] select`, "tench")
	tb.do(chromedp.SendKeys(chromedp.CSS(row+`input[name="length"]`), "35"))
	tb.do(chromedp.SendKeys(chromedp.CSS(row+`input[name="count"]`), "4"))
	given, _ := argument(mustFind(tb.t.(*testing.T), "fish-weight").Example.Given, "fish")
	return map[string]string{"volume": "2400 [gal_br]", "nitrite": "0.7 mg/L", "fish": given + "; tench, 35 cm, 4"}
}

// TestRecordFillsOtherCalculators types in two calculators and finds it in a
// third and, after a reload, in all.
func TestRecordFillsOtherCalculators(t *testing.T) {
	tb := open(t)
	tb.touch()
	tb.reckon("nitrite")
	if got := tb.kept(); got != "null" {
		t.Fatalf("before anything is typed there is kept %s", got)
	}
	want := fillPond(tb)
	if got := facts(t, tb.kept()); !maps.Equal(got, want) {
		t.Fatalf("kept is %v; want %v", got, want)
	}

	tb.reckon("oxygen-night")
	example := mustFind(t, "oxygen-night").Example.Given
	args := calculators.With(calculators.With(example, calculators.Arg{Name: "volume", Value: want["volume"]}), calculators.Arg{Name: "fish", Value: want["fish"]})
	tb.main("oxygen-night", native(t, "oxygen-night", args...))
	if note := tb.text(pad("oxygen-night") + " .note"); !strings.Contains(note, "Your pond's numbers") || !strings.Contains(note, "Still from the worked example: Area of the surface") {
		t.Errorf("the pad says %q of its numbers", note)
	}
	if marks := evaluate[[]string](tb, fmt.Sprintf(`[...document.querySelectorAll(%q)].map(m => m.closest("[data-input]").dataset.input + " " + m.textContent)`, pad("oxygen-night")+" .from")); strings.Join(marks, "; ") != "fish yours, today; volume yours, today" {
		t.Errorf("marked are %q", marks)
	}

	tb.reckon("nitrite")
	if got := tb.holds("nitrite", "volume") + " " + tb.holds("nitrite", "reading"); got != "2400 0.7" {
		t.Errorf("after a reload volume and reading are %q", got)
	}
}

// TestReloadKeepsAll empties a field, chooses, and types where no other
// calculator asks for the same.
func TestReloadKeepsAll(t *testing.T) {
	const id = "water-change"
	tb := open(t)
	tb.touch()
	tb.reckon(id)
	tb.choose(pad(id)+` select[name="find"]`, "left")
	tb.write(id, "count", "3")
	tb.write(id, "each", "20")
	tb.do(chromedp.Click(chromedp.CSS(pad(id) + " input[name=tap]")))
	tb.write(id, "tap", "1\b")
	want := evaluate[string](tb, fmt.Sprintf(`document.querySelector(%q).textContent`, pad(id)+" .answer"))
	tb.reckon(id)
	for input, value := range map[string]string{"find": "left", "count": "3", "each": "20", "tap": ""} {
		if got := tb.holds(id, input); got != value {
			t.Errorf("after the reload %s is %q; want %q", input, got, value)
		}
	}
	if got := tb.text(pad(id) + " .answer"); got != want {
		t.Errorf("after the reload the answer is %q; it was %q", got, want)
	}
}

// TestLinkBeforeRecord opens a link to a calculator: its numbers count more than
// what is kept, until the reader types.
func TestLinkBeforeRecord(t *testing.T) {
	const id = "nitrite"
	tb := open(t)
	tb.touch()
	fillPond(tb)
	link := "reckon/" + id + ".html?volume=5000+L&reading=0.3+mg%2FL"
	tb.visit(link)
	tb.ready(id)
	if got := tb.holds(id, "volume") + " " + tb.holds(id, "reading"); got != "5000 0.3" {
		t.Errorf("the link's numbers show as %q", got)
	}
	if got := facts(t, tb.kept())["volume"]; got != "2400 [gal_br]" {
		t.Errorf("a link that was only opened has changed what is kept to %q", got)
	}
	tb.write(id, "reading", "0.9")
	tb.do(chromedp.Reload())
	tb.ready(id)
	if got := tb.holds(id, "volume") + " " + tb.holds(id, "reading"); got != "5000 0.9" {
		t.Errorf("typed over the link and reloaded, they are %q", got)
	}
}

// TestUnreadableRecord types over records that cannot be read, which must not be
// lost.
func TestUnreadableRecord(t *testing.T) {
	const id = "nitrite"
	newer := `{"pond record":2,"facts":{"volume":"1 L"}}`
	for _, c := range []struct{ text, says string }{{"{not a record", "cannot be read"}, {newer, "newer edition"}} {
		tb := open(t)
		tb.touch()
		tb.visit("terms.html")
		tb.setKept(c.text)
		tb.reckon(id)
		tb.says(pad(id)+" .state", c.says)
		tb.write(id, "reading", "0.9")
		args := calculators.With(mustFind(t, id).Example.Given, calculators.Arg{Name: "reading", Value: "0.9 mg/L"})
		tb.main(id, native(t, id, args...))
		if c.text == newer {
			if tb.kept() != newer {
				t.Errorf("the newer record was overwritten with %s", tb.kept())
			}
			continue
		}
		if got := facts(t, tb.kept()); got["nitrite"] != "0.9 mg/L" {
			t.Errorf("beside the broken record is kept %v", got)
		}
		tb.record()
		tb.says(`[data-part="aside"]`, "Save what cannot be read")
		if got := evaluate[string](tb, `localStorage.getItem("pond record `+base+` aside 1")`); got != c.text {
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
		tb := open(t)
		tb.touch()
		tb.reckon(id)
		evaluate[bool](tb, spoil)
		tb.write(id, "reading", "0.9")
		args := calculators.With(mustFind(t, id).Example.Given, calculators.Arg{Name: "reading", Value: "0.9 mg/L"})
		tb.main(id, native(t, id, args...))
		tb.do(chromedp.Focus(chromedp.CSS(pad(id) + " input[name=volume]")))
		tb.says(pad(id)+" .state", "gone when you leave the leaf")
		if got := tb.holds(id, "reading"); got != "0.9" {
			t.Errorf("%s: the field has gone back to %q", name, got)
		}
	}
}

// TestTwoTabs types in one tab while another shows the same fact, and while the
// reader is about to type there.
func TestTwoTabs(t *testing.T) {
	first := open(t)
	first.touch()
	first.reckon("nitrite")
	second := first.beside()
	second.touch()
	second.reckon("bicarbonate-dose")
	second.write("bicarbonate-dose", "now", "40")
	first.write("nitrite", "volume", "4321")
	second.await(fmt.Sprintf(`document.querySelector(%q).value === "4321"`, pad("bicarbonate-dose")+" input[name=volume]"), "the other tab does not show the volume")
	args := calculators.With(calculators.With(mustFind(t, "bicarbonate-dose").Example.Given, calculators.Arg{Name: "volume", Value: "4321 L"}), calculators.Arg{Name: "now", Value: "40 mg/L"})
	second.main("bicarbonate-dose", native(t, "bicarbonate-dose", args...))
	if got := facts(t, first.kept()); got["volume"] != "4321 L" || got["alkalinity"] != "40 mg/L" {
		t.Errorf("of two tabs is kept %v", got)
	}

	field := pad("bicarbonate-dose") + " input[name=volume]"
	second.do(chromedp.Focus(chromedp.CSS(field)))
	evaluate[bool](second, fmt.Sprintf(`(document.querySelector(%q).value = "98", true)`, field))
	first.write("nitrite", "volume", "5555")
	second.await(`localStorage.getItem("pond record `+base+`").includes("5555")`, "the other tab does not see what is kept")
	if got := second.holds("bicarbonate-dose", "volume"); got != "98" {
		t.Errorf("the field that is being typed into was changed to %q", got)
	}
	second.do(chromedp.SendKeys(chromedp.CSS(field), "7"))
	first.await(`localStorage.getItem("pond record `+base+`").includes("987")`, "what was typed in the other tab is not kept")
	if got := first.holds("nitrite", "volume"); got != "5555" {
		t.Errorf("the field in which the reader stands was changed to %q", got)
	}
	first.do(chromedp.Focus(chromedp.CSS(pad("nitrite") + " input[name=reading]")))
	first.await(fmt.Sprintf(`document.querySelector(%q).value === "987"`, pad("nitrite")+" input[name=volume]"), "the first tab does not follow")
}

// TestRecordWithoutJavaScript reads what the leaf says then.
func TestRecordWithoutJavaScript(t *testing.T) {
	tb := open(t)
	tb.touch()
	call(tb, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
	tb.visit("record.html")
	if text := evaluate[string](tb, `document.querySelector("main").innerText`); !strings.Contains(text, "needs JavaScript") || strings.Contains(text, "Erase") {
		t.Errorf("without JavaScript the leaf says %q", text)
	}
}

// TestRecordPictures takes pictures of a record and of a calculator that it has
// filled. Nothing in them may be wider than the screen.
func TestRecordPictures(t *testing.T) {
	tb := open(t)
	tb.touch()
	fillPond(tb)
	tb.reckon("water-change")
	tb.choose(pad("water-change")+` select[name="find"]`, "left")
	tb.write("water-change", "count", "3")
	for _, width := range []int64{360, 1280} {
		tb.do(chromedp.EmulateViewport(width, 800))
		for _, mode := range []string{"light", "dark"} {
			tb.scheme(mode)
			for name, see := range map[string]func(){"record": tb.record, "oxygen-night": func() { tb.reckon("oxygen-night") }} {
				see()
				picture, err := chromedp.Run(tb, chromedp.FullScreenshot(100))
				if err != nil {
					t.Fatal(err)
				}
				keep(t, fmt.Sprintf("kept-%s-%d-%s.png", name, width, mode), picture)
				if wide := evaluate[int64](tb, `document.scrollingElement.scrollWidth`); wide > width {
					t.Errorf("%s is %d px wide on a screen of %d", name, wide, width)
				}
			}
		}
	}
}

// TestRecordAccessible runs axe-core over the leaf with a record on it, with the
// question before erasing, and with a link that asks.
func TestRecordAccessible(t *testing.T) {
	script := axeScript(t)
	tb := open(t)
	tb.touch()
	fillPond(tb)
	tb.record()
	tb.await(`document.querySelector("[data-part=link]").value !== ""`, "there is no link")
	link := evaluate[string](tb, `document.querySelector("[data-part=link]").value`)
	tb.press("erase")
	tb.accessible(script, "with a record", everyRule)
	tb.reckon("nitrite")
	tb.write("nitrite", "volume", "1000")
	tb.accessible(script, "a filled calculator", everyRule)
	tb.do(chromedp.Navigate(link))
	tb.says(`[data-part="differ"]`, "2400")
	tb.accessible(script, "with a link that asks", everyRule)
	picture, err := chromedp.Run(tb, chromedp.FullScreenshot(100))
	if err != nil {
		t.Fatal(err)
	}
	keep(t, "kept-link-360.png", picture)
}
