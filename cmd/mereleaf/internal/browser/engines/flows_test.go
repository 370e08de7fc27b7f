//go:build unix

package engines

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"mereleaf/cmd/mereleaf/internal/browser/browsertest"
	"mereleaf/cmd/mereleaf/internal/build"
	"mereleaf/cmd/mereleaf/internal/paths"
	workers "mereleaf/cmd/mereleaf/internal/website/offline"
	"mereleaf/cmd/mereleaf/internal/website/units"
)

// TestFlows does in every engine what a reader does with the handbook: see flows.
func TestFlows(t *testing.T) {
	end, ok := t.Deadline()
	if !ok {
		end = time.Now().Add(time.Hour)
	}
	// What is said of a thing that never came must still be said in time.
	ctx, cancel := context.WithDeadline(context.Background(), end.Add(-time.Until(end)/8))
	t.Cleanup(cancel)
	var taken *browsertest.Edition
	t.Cleanup(func() {
		if taken != nil {
			taken.Close()
		}
	})
	edition := sync.OnceValues(func() (*browsertest.Edition, error) { // only where there is a browser
		var err error
		taken, err = browsertest.TakeEdition()
		return taken, err
	})
	for _, e := range []struct {
		name  string
		start func(ctx context.Context, folder string) (engine, error)
		watch string // what its pages begin with
	}{
		{"Chromium", startChromium, ""},
		{"Firefox", startFirefox, ""},
		{"WebKitGTK", startWebKit, watch},
	} {
		t.Run(e.name, func(t *testing.T) {
			t.Parallel()
			folder := passing(t)
			browser, err := e.start(ctx, folder)
			if none := missing(""); errors.As(err, &none) {
				browsertest.SkipOrFail(t, err.Error())
			}
			if err != nil {
				t.Fatal(err)
			}
			t.Cleanup(browser.close)
			made, err := edition()
			if err != nil {
				t.Fatal(err)
			}
			for _, flow := range flows {
				t.Run(flow.name, func(t *testing.T) {
					// Each at an address of its own, where nothing is kept yet.
					ctx, cancel := half(ctx)
					defer cancel()
					r := &reader{engine: browser, t: t, ctx: ctx, host: newHost(t, made.Web, e.watch), site: made.Web, downloads: folder}
					defer r.leave()
					flow.goes(r)
				})
			}
		})
	}
}

// flows are what a reader does.
var flows = []struct {
	name string
	goes func(r *reader)
}{
	{"console", console},
	{"calculator", calculator},
	{"link", link},
	{"units", turned},
	{"log", kept},
	{"find", found},
	{"offline", offline},
	{"single file", single},
}

// passing is a folder for a browser. One that was killed may still write for a moment,
// which T.TempDir takes for a failure.
func passing(t *testing.T) string {
	t.Helper()
	folder, err := os.MkdirTemp("", "mereleaf-engine-")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		for range 100 {
			if os.RemoveAll(folder) == nil {
				return
			}
			time.Sleep(20 * time.Millisecond)
		}
		t.Logf("%s is left over", folder)
	})
	return folder
}

// half has half of the time that is left, so that one thing that never comes does not
// take the time of all after it.
func half(ctx context.Context) (context.Context, context.CancelFunc) {
	end, _ := ctx.Deadline()
	return context.WithTimeout(ctx, time.Until(end)/2)
}

// console opens a page that goes wrong in each way, which the other flows must hear.
func console(r *reader) {
	r.open(wrong)
	heard := ""
	for _, want := range []string{"warned", "shown", "thrown", "broken"} {
		if !r.until(func() bool {
			heard += strings.Join(r.faults(), "\n")
			return strings.Contains(heard, want)
		}) {
			r.t.Fatalf("%q is not heard; heard is %q", want, heard)
		}
	}
	if strings.Contains(heard, "told") {
		r.t.Errorf("heard is what is no fault: %q", heard)
	}
}

// calculator asks one, and types what it must refuse.
func calculator(r *reader) {
	r.open("reckon/free-ammonia.html")
	r.measure(units.Metric)
	r.reckons()
	ph, _ := r.ammonia().Input("ph")
	r.write(field("ph"), "79")
	r.await(fmt.Sprintf(`document.querySelector(%q).getAttribute("aria-invalid") === "true"`, field("ph")), "a pH of 79 is not refused")
	r.says(form, ph.AcceptText())
}

// link carries what was typed to a browser that has nothing of it.
func link(r *reader) {
	r.open("reckon/free-ammonia.html")
	r.measure(units.Metric)
	r.reckons()
	r.open(paths.Record)
	r.says(`[data-key="ph"] .value`, "7.9")
	r.await(`document.querySelector("[data-part=link]").value !== ""`, "there is no link")
	address := evaluate[string](r, `document.querySelector("[data-part=link]").value`)
	evaluate[bool](r, `(localStorage.clear(), true)`)
	r.open(paths.Cover)
	r.visit(address)
	r.says(`[data-part="said"]`, "Taken from the link")
	r.says(`[data-key="ph"] .value`, "7.9")
	r.open("reckon/free-ammonia.html")
	r.ready()
	r.await(fmt.Sprintf(`document.querySelector(%q).value === "7.9"`, field("ph")), "the calculator does not take the pH of the link")
}

// turned reads in the units of America, on two pages, and goes back.
func turned(r *reader) {
	const prose = "stocking/feeding.html"
	r.open(prose)
	r.measure(units.Metric)
	written := evaluate[string](r, `document.querySelector(".first").textContent`)
	r.measure(units.US)
	r.says(".first", "Below 50 °F feed nothing. From 82 °F up")
	r.open("reckon/pond-volume.html")
	r.says("output", "2,410 gal (US)")
	r.measure(units.Metric)
	r.says("output", "9,110 L")
	r.open(prose)
	r.await(fmt.Sprintf(`document.querySelector(".first").textContent === %q`, written), "the text does not turn back to what is written")
}

// kept saves a reading, finds it again, and takes it out as a file.
func kept(r *reader) {
	r.open(paths.Log)
	r.measure(units.Metric)
	r.logReady()
	r.write("#log_ph", "8.4")
	r.write("#log_nitrite", "0,05") // as half of the world writes it
	r.touch(`.entry [type="submit"]`)
	r.says(`[data-part="said"]`, "Saved: ")
	r.open(paths.Log)
	r.logReady()
	r.says(`[data-part="list"]`, "Nitrite 0.05 mg/L")
	r.touch(`[data-do="csv"]`)
	r.downloaded("pond-log-*.csv", "8.4")
}

// found looks for a word with a mistake in it, and opens what it finds.
func found(r *reader) {
	r.open(paths.Find)
	r.await(`document.querySelector(".find").dataset.state === "ready"`, "the words do not come")
	r.write(".find input[type=search]", "amonia")
	r.says(".found > li", "Ammonia")
	want := evaluate[string](r, `document.querySelector(".found > li > a").href`)
	r.touch(".found > li > a")
	r.await(fmt.Sprintf(`location.href === %q`, want), "the result does not lead to "+want)
	r.says("main", "mmonia")
}

// offline reads on when the server is gone, also what was never opened before.
func offline(r *reader) {
	r.open(paths.Cover)
	r.says(".keeping", "Ready for the pond")
	icon := evaluate[string](r, `document.querySelector("link[rel=icon]").href`)
	r.clean() // as long as there is a signal
	r.host.Close()
	// For the worker and for the icon of an app the browser itself looks, past all that is
	// kept, and says that they are not there.
	r.pardoned = []string{workers.WorkerPath, "when fetching the script", icon}
	r.open(paths.Cover)
	r.titled(paths.Cover)
	r.open("water/ammonia.html")
	r.titled("water/ammonia.html")
	r.measure(units.Metric)
	r.reckons()
}

// single opens the handbook that is one file, from its folder.
func single(r *reader) {
	file := filepath.Join(filepath.Dir(r.site), build.SingleName)
	r.visit("file://" + filepath.ToSlash(file) + "#reckon/free-ammonia.html")
	r.await(`document.documentElement.dataset.leaf === "reckon/free-ammonia.html"`, "the file does not show what its address names")
	r.measure(units.Metric)
	r.reckons()
}
