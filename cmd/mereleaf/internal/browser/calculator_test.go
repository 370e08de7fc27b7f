package browser

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"mereleaf/calculators"
	"mereleaf/calculators/pondtest"
)

// ready waits until the module has been loaded and the fields accept typing.
func (tb *tab) ready(id string) {
	tb.t.Helper()
	tb.await(fmt.Sprintf(`(form => {
		form?.scrollIntoView({behavior: "instant"})
		return form?.querySelector("fieldset.given").disabled === false
	})(document.querySelector(%q))`, pad(id)), id+" does not get ready")
}

func pad(id string) string { return fmt.Sprintf(`form[data-calculator=%q]`, id) }

// write replaces what a field of a pad holds, key by key.
func (tb *tab) write(id, input, value string) {
	tb.t.Helper()
	field := pad(id) + fmt.Sprintf(` input[name=%q]`, input)
	evaluate[bool](tb, fmt.Sprintf(`(document.querySelector(%q).value = "", true)`, field))
	tb.do(chromedp.SendKeys(chromedp.CSS(field), value))
}

// TestReckonAtPhoneWidth types a reading into the pad of the ammonia chapter
// and finds there what the terminal says.
func TestReckonAtPhoneWidth(t *testing.T) {
	c, _ := pondtest.All(t).Find("free-ammonia")
	want, err := c.Reckon([]calculators.Arg{{Name: "tan", Value: "2.25 mg/L"}, {Name: "ph", Value: "7.9"}, {Name: "temperature", Value: "24.5 Cel"}})
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{"water/ammonia.html", "reckon/free-ammonia.html"} {
		tb := open(t)
		tb.phone()
		tb.visit(path)
		tb.ready("free-ammonia")
		tb.write("free-ammonia", "tan", "2.25")
		tb.write("free-ammonia", "ph", "7.9")
		tb.write("free-ammonia", "temperature", "24.5")
		tb.shows("free-ammonia", want)
	}
}

// shows compares every displayed value of a pad with a native answer.
func (tb *tab) shows(id string, want calculators.View) {
	tb.t.Helper()
	text := tb.text(pad(id) + " .answer")
	for _, v := range want.Values {
		if !strings.Contains(text, v.Text) {
			tb.t.Errorf("%s: the page does not show %s %q; it shows %q", id, v.Name, v.Text, text)
		}
	}
}

// TestEveryCalculatorInTheBrowser opens each calculator's own leaf, lets the
// module reckon the worked example and compares with the native answer.
func TestEveryCalculatorInTheBrowser(t *testing.T) {
	tb := open(t)
	tb.phone()
	reckonAll(tb, pondtest.All(tb.t).All())
}

// reckonAll lets the module reckon the worked example of each calculator.
func reckonAll(tb *tab, all []calculators.Calculator) {
	tb.t.Helper()
	for _, c := range all {
		tb.visit("reckon/" + c.ID + ".html")
		tb.ready(c.ID)
		// What stands there is emptied first, so that only the module can fill it.
		evaluate[bool](tb, fmt.Sprintf(`(document.querySelector(%q).textContent = "", document.querySelector(%q).dispatchEvent(new Event("input", {bubbles: true})))`,
			pad(c.ID)+" .answer", pad(c.ID)+" input, "+pad(c.ID)+" select"))
		want, err := c.Reckon(c.Example.Given)
		if err != nil {
			tb.t.Fatal(err)
		}
		tb.shows(c.ID, want)
	}
}

// TestRefusalNamesTheField types nonsense and finds the reason at the field.
func TestRefusalNamesTheField(t *testing.T) {
	tb := open(t)
	tb.phone()
	tb.visit("reckon/free-ammonia.html")
	tb.ready("free-ammonia")
	tb.write("free-ammonia", "ph", "79")
	invalid := evaluate[bool](tb, fmt.Sprintf(`document.querySelector(%q).getAttribute("aria-invalid") === "true"`, pad("free-ammonia")+` input[name="ph"]`))
	text := tb.text(pad("free-ammonia"))
	ph, _ := mustFind(t, "free-ammonia").Input("ph")
	if !invalid {
		t.Error("the field with pH 79 is not marked as invalid")
	}
	if !strings.Contains(text, ph.AcceptText()) {
		t.Errorf("the pad does not say that %s is accepted", ph.AcceptText())
	}
}

func mustFind(t *testing.T, id string) calculators.Calculator {
	t.Helper()
	c, ok := pondtest.All(t).Find(id)
	if !ok {
		t.Fatalf("no calculator %s", id)
	}
	return c
}

// TestWithoutJavaScript finds the worked example on every calculator's leaf.
func TestWithoutJavaScript(t *testing.T) {
	tb := open(t)
	tb.phone()
	call(tb, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
	for _, c := range pondtest.All(t).All() {
		want, err := c.Reckon(c.Example.Given)
		if err != nil {
			t.Fatal(err)
		}
		tb.visit("reckon/" + c.ID + ".html")
		text := tb.text("main")
		if !strings.Contains(text, want.Values[0].Text) {
			t.Errorf("%s: without JavaScript the page does not show the worked example's %s", c.ID, want.Values[0].Text)
		}
		for _, selector := range []string{"main table", "main svg"} {
			if n := evaluate[int](tb, fmt.Sprintf(`document.querySelectorAll(%q).length`, selector)); n == 0 {
				t.Errorf("%s: without JavaScript the page has no %s", c.ID, selector)
			}
		}
	}
}

// TestModuleLoadsWhenNeeded sees that a page without a calculator in view does
// not load the module.
func TestModuleLoadsWhenNeeded(t *testing.T) {
	h := newHost(t, map[string]string{base: world.folder})
	tb := open(t)
	tb.address = h.URL + base
	tb.phone()
	tb.visit("safety/electricity.html")
	if n := count(h.asked(), ".wasm"); n != 0 {
		t.Error("a page without calculator loads the module")
	}
	tb.visit("reckon/free-ammonia.html")
	tb.ready("free-ammonia")
	if n := count(h.asked(), ".wasm"); n != 1 {
		t.Errorf("the module is loaded %d times, want once", n)
	}
}

func count(urls []string, suffix string) int {
	n := 0
	for _, u := range urls {
		if strings.HasSuffix(u, suffix) {
			n++
		}
	}
	return n
}

// TestModuleFails sees that the worked example stays, with a sentence, when the
// module cannot be loaded, or the thread that it lives in: that one is missed before
// the reader has come to the calculator.
func TestModuleFails(t *testing.T) {
	want, err := mustFind(t, "nitrite").Reckon(mustFind(t, "nitrite").Example.Given)
	if err != nil {
		t.Fatal(err)
	}
	site := http.FileServer(http.Dir(world.folder))
	for _, lost := range []string{".wasm", ".js"} {
		refused := make(chan struct{}, 100)
		server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if strings.HasPrefix(r.URL.Path, "/assets/reckon-") && strings.HasSuffix(r.URL.Path, lost) {
				http.NotFound(w, r)
				refused <- struct{}{}
				return
			}
			site.ServeHTTP(w, r)
		}))
		defer server.Close()
		tb := open(t)
		tb.address = server.URL + "/"
		tb.phone()
		// The pad is out of sight before any script of the leaf looks for it.
		call(tb, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: `document.addEventListener("readystatechange", () => { document.querySelector("main").style.paddingTop = "4000px" }, {once: true})`})
		tb.visit("reckon/nitrite.html")
		if lost == ".js" {
			select {
			case <-refused:
			case <-tb.Done():
				t.Fatal("the thread is not asked for ahead")
			}
		}
		evaluate[bool](tb, fmt.Sprintf(`(document.querySelector(%q).scrollIntoView(), true)`, pad("nitrite")))
		tb.await(fmt.Sprintf(`document.querySelector(%q).textContent.includes("The calculator could not be loaded: what you see is the worked example.")`, pad("nitrite")+" .state"), lost+" is missing, and the pad does not say so")
		tb.shows("nitrite", want)
		tb.seen() // the browser logs the refused request, which is what this test asked for
	}
}

// TestDamagedLink follows a link to a tower that has been cut and mistyped on its
// way: what is wrong is said at its field, the rest of the link holds, and the answer
// below is not taken for one.
func TestDamagedLink(t *testing.T) {
	tb := open(t)
	tb.phone()
	tb.visit("reckon/tower.html?volume=12000+parsecs&colour=red&box-length=50+cm&fish=ko%E4&%")
	tb.ready("tower")
	if !evaluate[bool](tb, fmt.Sprintf(`!!document.querySelector('%s [data-input="volume"] .fault')`, pad("tower"))) {
		t.Error("what is wrong with the volume is not said there")
	}
	if state := tb.text(pad("tower") + " .state"); !strings.Contains(state, "The link is damaged: what it says of “Your fish” is no choice here") {
		t.Errorf("the pad says %q", state)
	}
	if got := tb.holds("tower", "box-length"); got != "50" {
		t.Errorf("of the link, the length is %q", got)
	}
	if !evaluate[bool](tb, fmt.Sprintf(`document.querySelector(%q).classList.contains("old")`, pad("tower")+" .answer")) {
		t.Error("the answer looks like one to these numbers")
	}
}
