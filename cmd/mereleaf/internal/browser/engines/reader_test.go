//go:build unix

package engines

import (
	"context"
	"errors"
	"fmt"
	"html"
	"io"
	"maps"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"mereleaf/calculators"
	"mereleaf/calculators/pondtest"
	"mereleaf/cmd/mereleaf/internal/browser/browsertest"
	"mereleaf/cmd/mereleaf/internal/website/units"
)

// wrong is a page beside the edition that does what no page may.
const (
	wrong     = "wrong.html"
	wrongText = `<!doctype html><html><head><title>Wrong</title><link rel="icon" href="data:,"></head><body><script>
		console.log("told")
		console.warn("warned")
		console.error("shown")
		Promise.reject(new Error("broken"))
		throw new Error("thrown")
	</script></body></html>`
)

// newHost serves an edition. What a reader opens begins with a script, if one is given;
// what a page or the worker fetches stays as it was made.
func newHost(t *testing.T, site, script string) *httptest.Server {
	files := http.NewServeMux()
	files.Handle(browsertest.Base, http.StripPrefix(browsertest.Base, http.FileServer(http.Dir(site))))
	files.HandleFunc(browsertest.Base+wrong, func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "text/html")
		_, _ = io.WriteString(w, wrongText) // the browser has gone
	})
	h := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		switch {
		case r.URL.Path == browsertest.Base+"watch.js":
			w.Header().Set("Content-Type", "text/javascript")
			_, _ = io.WriteString(w, script) // the browser has gone
		case script != "" && r.Header.Get("Sec-Fetch-Mode") == "navigate":
			page := httptest.NewRecorder()
			files.ServeHTTP(page, r)
			maps.Copy(w.Header(), page.Header())
			w.Header().Del("Content-Length")
			w.Header().Set("Cache-Control", "no-store")
			w.WriteHeader(page.Code)
			_, _ = io.WriteString(w, strings.Replace(page.Body.String(), "<head>", `<head><script src="`+browsertest.Base+`watch.js"></script>`, 1))
		default:
			files.ServeHTTP(w, r)
		}
	}))
	t.Cleanup(h.Close)
	return h
}

// reader is someone in front of an engine, with a handbook at an address of its own.
type reader struct {
	engine
	t         *testing.T
	ctx       context.Context
	host      *httptest.Server
	site      string   // the folder of the edition
	pardoned  []string // of which the console may speak
	downloads string   // where the browser saves files, below which it is
}

// visit opens an address.
func (r *reader) visit(address string) {
	r.t.Helper()
	if err := r.engine.visit(address); err != nil {
		r.t.Fatalf("%s: %v", address, err)
	}
}

// open opens a page of the handbook.
func (r *reader) open(path string) {
	r.t.Helper()
	r.visit(r.host.URL + browsertest.Base + path)
}

func evaluate[T any](r *reader, expression string) T {
	r.t.Helper()
	v, err := evaluated[T](r.engine, expression)
	if err != nil {
		r.t.Fatalf("%s: %v", expression, err)
	}
	return v
}

// until asks again and again, as long as all engines have time, and reports whether ok
// was true in the end. How long a thing takes depends on what else runs.
func (r *reader) until(ok func() bool) bool {
	r.t.Helper()
	for !ok() {
		select {
		case <-r.ctx.Done():
			return false
		case <-time.After(20 * time.Millisecond):
		}
	}
	return true
}

// look is the value of an expression that is asked again and again: a page that is on
// its way to another one, or not there as a whole yet, has none.
func look[T any](r *reader, expression string) T {
	r.t.Helper()
	v, err := evaluated[*T](r.engine, `document.readyState === "complete" ? (`+expression+`) : null`)
	if err != nil && !errors.Is(err, errScript) && r.ctx.Err() == nil {
		r.t.Fatalf("%s: %v", expression, err)
	}
	if v == nil || err != nil {
		v = new(T)
	}
	return *v
}

// await waits until an expression is true.
func (r *reader) await(expression, want string) {
	r.t.Helper()
	if !r.until(func() bool { return look[bool](r, expression) }) {
		r.t.Fatal(want)
	}
}

// says waits until the first element that matches says something, spaces as may be.
func (r *reader) says(selector, want string) {
	r.t.Helper()
	said := ""
	if !r.until(func() bool {
		said = strings.ReplaceAll(look[string](r, fmt.Sprintf(`document.querySelector(%q)?.textContent ?? ""`, selector)), "\u00a0", " ")
		return strings.Contains(said, want)
	}) {
		r.t.Fatalf("%s does not say %q; it says %q", selector, want, said)
	}
}

// touch clicks an element when it keeps still and nothing lies upon it.
func (r *reader) touch(selector string) {
	r.t.Helper()
	var at []int
	if !r.until(func() bool {
		at = look[[]int](r, fmt.Sprintf(`(async () => {
			const e = document.querySelector(%q)
			if (!e?.checkVisibility()) return []
			e.scrollIntoView({block: "center", behavior: "instant"})
			const place = () => { const b = e.getBoundingClientRect(); return [b.left + b.width / 2, b.top + b.height / 2].map(Math.round) }
			const before = place()
			await new Promise((done) => setTimeout(done, 50))
			const [x, y] = place()
			return x === before[0] && y === before[1] && e.contains(document.elementFromPoint(x, y)) ? [x, y] : []
		})()`, selector))
		return len(at) == 2
	}) {
		r.t.Fatalf("%s cannot be clicked", selector)
	}
	if err := r.engine.click(at[0], at[1]); err != nil {
		r.t.Fatalf("%s: %v", selector, err)
	}
}

// write replaces what a field holds, key by key.
func (r *reader) write(selector, value string) {
	r.t.Helper()
	r.touch(selector)
	r.await(fmt.Sprintf(`document.activeElement === document.querySelector(%q)`, selector), selector+" does not get the focus")
	evaluate[bool](r, fmt.Sprintf(`(document.querySelector(%q).select(), true)`, selector))
	if err := r.engine.press(value); err != nil {
		r.t.Fatalf("%s: %v", selector, err)
	}
	r.await(fmt.Sprintf(`document.querySelector(%q).value === %q`, selector, value), selector+" does not hold "+value)
}

// measure shows the page in a system of units. The list that a browser unfolds for a
// choice is not part of the page, so it is not clicked.
func (r *reader) measure(system units.System) {
	r.t.Helper()
	r.await(`document.querySelector(".measures select")?.checkVisibility() ?? false`, "there is no choice of units")
	evaluate[bool](r, fmt.Sprintf(`(() => {
		const choice = document.querySelector(".measures select")
		choice.value = %q
		choice.dispatchEvent(new Event("change", {bubbles: true}))
		return true
	})()`, system))
	r.await(fmt.Sprintf(`document.documentElement.dataset.measure === %q`, system), "the page does not turn to "+string(system))
}

// form is that of the calculator that the flows ask.
const form = `form[data-calculator="free-ammonia"]`

func field(input string) string { return fmt.Sprintf(`%s input[name=%q]`, form, input) }

func (r *reader) ammonia() calculators.Calculator {
	r.t.Helper()
	c, ok := pondtest.All(r.t).Find("free-ammonia")
	if !ok {
		r.t.Fatal("there is no such calculator")
	}
	return c
}

// ready waits until the calculator of the open page can be typed into.
func (r *reader) ready() {
	r.t.Helper()
	r.await(fmt.Sprintf(`(form => {
		form?.scrollIntoView({behavior: "instant"})
		return form?.querySelector("fieldset.given").disabled === false
	})(document.querySelector(%q))`, form), "the calculator does not get ready")
}

// reckons types three readings, and finds what Go answers to them.
func (r *reader) reckons() {
	r.t.Helper()
	want, err := r.ammonia().Reckon([]calculators.Arg{{Name: "tan", Value: "2.25 mg/L"}, {Name: "ph", Value: "7.9"}, {Name: "temperature", Value: "24.5 Cel"}})
	if err != nil {
		r.t.Fatal(err)
	}
	r.ready()
	r.write(field("tan"), "2.25")
	r.write(field("ph"), "7.9")
	r.write(field("temperature"), "24.5")
	for _, v := range want.Values {
		r.says(form+" .answer", strings.ReplaceAll(v.Text, "\u00a0", " "))
	}
}

// logReady waits until readings can be typed, and are judged.
func (r *reader) logReady() {
	r.t.Helper()
	r.await(`(log => log?.dataset.state === "ready" && log.dataset.calculators === "ready")(document.querySelector(".log"))`, "the log does not get ready")
}

// downloaded waits for a file that holds a text.
func (r *reader) downloaded(pattern, want string) {
	r.t.Helper()
	if !r.until(func() bool {
		files, _ := filepath.Glob(filepath.Join(r.downloads, pattern))
		for _, f := range files {
			if text, err := os.ReadFile(f); err == nil && strings.Contains(string(text), want) {
				return true
			}
		}
		return false
	}) {
		r.t.Fatalf("no file %s with %q has been saved", pattern, want)
	}
}

var titled = regexp.MustCompile(`<title>(.*?)</title>`)

// titled looks whether the open page is one of the edition.
func (r *reader) titled(path string) {
	r.t.Helper()
	text, err := os.ReadFile(filepath.Join(r.site, filepath.FromSlash(path)))
	if err != nil {
		r.t.Fatal(err)
	}
	want := html.UnescapeString(titled.FindStringSubmatch(string(text))[1])
	if got := evaluate[string](r, `document.title`); got != want {
		r.t.Errorf("%s has the title %q; want %q", path, got, want)
	}
}

// leave ends a flow: the console is clean, and the page asks for nothing more when its
// host goes.
func (r *reader) leave() {
	r.t.Helper()
	r.clean()
	if err := r.engine.visit("about:blank"); err != nil {
		r.t.Error(err)
	}
	r.faults() // of what was still on its way
}

// clean finds nothing in the console, or only what is pardoned.
func (r *reader) clean() {
	r.t.Helper()
	for _, f := range r.faults() {
		if !slices.ContainsFunc(r.pardoned, func(part string) bool { return strings.Contains(f, part) }) {
			r.t.Error(f)
		}
	}
}
