package reckon

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"

	"mereleaf/calculators"
	"mereleaf/calculators/pondtest"
	"mereleaf/cmd/mereleaf/internal/browser/browsertest"
)

// TestReckonAtPhoneWidth types a reading into the pad of the ammonia chapter
// and finds there what the terminal says.
func TestReckonAtPhoneWidth(t *testing.T) {
	c, _ := pondtest.All(t).Find("free-ammonia")
	want, err := c.Reckon([]calculators.Arg{{Name: "tan", Value: "2.25 mg/L"}, {Name: "ph", Value: "7.9"}, {Name: "temperature", Value: "24.5 Cel"}})
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{"water/ammonia.html", "reckon/free-ammonia.html"} {
		tb := browser.Open(t)
		tb.Phone()
		tb.Visit(path)
		tb.Ready("free-ammonia")
		tb.Write("free-ammonia", "tan", "2.25")
		tb.Write("free-ammonia", "ph", "7.9")
		tb.Write("free-ammonia", "temperature", "24.5")
		tb.Shows("free-ammonia", want)
	}
}

// TestEveryCalculatorInTheBrowser opens each calculator's own leaf, lets the
// module reckon the worked example and compares with the native answer.
func TestEveryCalculatorInTheBrowser(t *testing.T) {
	tb := browser.Open(t)
	tb.Phone()
	tb.ReckonAll(pondtest.All(tb.T).All())
}

// TestRefusalNamesTheField types nonsense and finds the reason at the field.
func TestRefusalNamesTheField(t *testing.T) {
	tb := browser.Open(t)
	tb.Phone()
	tb.Visit("reckon/free-ammonia.html")
	tb.Ready("free-ammonia")
	tb.Write("free-ammonia", "ph", "79")
	invalid := browsertest.Evaluate[bool](tb, fmt.Sprintf(`document.querySelector(%q).getAttribute("aria-invalid") === "true"`, browsertest.Pad("free-ammonia")+` input[name="ph"]`))
	text := tb.Text(browsertest.Pad("free-ammonia"))
	ph, _ := browsertest.Calculator(t, "free-ammonia").Input("ph")
	if !invalid {
		t.Error("the field with pH 79 is not marked as invalid")
	}
	if !strings.Contains(text, ph.AcceptText()) {
		t.Errorf("the pad does not say that %s is accepted", ph.AcceptText())
	}
}

// TestWithoutJavaScript finds the worked example on every calculator's leaf.
func TestWithoutJavaScript(t *testing.T) {
	tb := browser.Open(t)
	tb.Phone()
	browsertest.Call(tb, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
	for _, c := range pondtest.All(t).All() {
		want, err := c.Reckon(c.Example.Given)
		if err != nil {
			t.Fatal(err)
		}
		tb.Visit("reckon/" + c.ID + ".html")
		text := tb.Text("main")
		if !strings.Contains(text, want.Values[0].Text) {
			t.Errorf("%s: without JavaScript the page does not show the worked example's %s", c.ID, want.Values[0].Text)
		}
		for _, selector := range []string{"main table", "main svg"} {
			if n := browsertest.Evaluate[int](tb, fmt.Sprintf(`document.querySelectorAll(%q).length`, selector)); n == 0 {
				t.Errorf("%s: without JavaScript the page has no %s", c.ID, selector)
			}
		}
	}
}

// TestModuleLoadsWhenNeeded sees that a page without a calculator in view does
// not load the module.
func TestModuleLoadsWhenNeeded(t *testing.T) {
	h := browsertest.NewHost(t, map[string]string{browsertest.Base: browser.Edition(t)})
	tb := browser.Open(t)
	tb.Address = h.URL + browsertest.Base
	tb.Phone()
	tb.Visit("safety/electricity.html")
	if n := count(h.Asked(), ".wasm"); n != 0 {
		t.Error("a page without calculator loads the module")
	}
	tb.Visit("reckon/free-ammonia.html")
	tb.Ready("free-ammonia")
	if n := count(h.Asked(), ".wasm"); n != 1 {
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
	want, err := browsertest.Calculator(t, "nitrite").Reckon(browsertest.Calculator(t, "nitrite").Example.Given)
	if err != nil {
		t.Fatal(err)
	}
	site := http.FileServer(http.Dir(browser.Edition(t)))
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
		tb := browser.Open(t)
		tb.Address = server.URL + "/"
		tb.Phone()
		// The pad is out of sight before any script of the leaf looks for it.
		browsertest.Call(tb, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: `document.addEventListener("readystatechange", () => { document.querySelector("main").style.paddingTop = "4000px" }, {once: true})`})
		tb.Visit("reckon/nitrite.html")
		if lost == ".js" {
			select {
			case <-refused:
			case <-tb.Done():
				t.Fatal("the thread is not asked for ahead")
			}
		}
		browsertest.Evaluate[bool](tb, fmt.Sprintf(`(document.querySelector(%q).scrollIntoView(), true)`, browsertest.Pad("nitrite")))
		tb.Await(fmt.Sprintf(`document.querySelector(%q).textContent.includes("The calculator could not be loaded: what you see is the worked example.")`, browsertest.Pad("nitrite")+" .state"), lost+" is missing, and the pad does not say so")
		tb.Shows("nitrite", want)
		tb.Seen() // the browser logs the refused request, which is what this test asked for
	}
}

// TestDamagedLink follows a link to a tower that has been cut and mistyped on its
// way: what is wrong is said at its field, the rest of the link holds, and the answer
// below is not taken for one.
func TestDamagedLink(t *testing.T) {
	tb := browser.Open(t)
	tb.Phone()
	tb.Visit("reckon/tower.html?volume=12000+parsecs&colour=red&box-length=50+cm&fish=ko%E4&%")
	tb.Ready("tower")
	if !browsertest.Evaluate[bool](tb, fmt.Sprintf(`!!document.querySelector('%s [data-input="volume"] .fault')`, browsertest.Pad("tower"))) {
		t.Error("what is wrong with the volume is not said there")
	}
	if state := tb.Text(browsertest.Pad("tower") + " .state"); !strings.Contains(state, "The link is damaged: what it says of “Your fish” is no choice here") {
		t.Errorf("the pad says %q", state)
	}
	if got := tb.Holds("tower", "box-length"); got != "50" {
		t.Errorf("of the link, the length is %q", got)
	}
	if !browsertest.Evaluate[bool](tb, fmt.Sprintf(`document.querySelector(%q).classList.contains("old")`, browsertest.Pad("tower")+" .answer")) {
		t.Error("the answer looks like one to these numbers")
	}
}
