package reckon

import (
	"cmp"
	"fmt"
	"slices"
	"testing"

	"mereleaf/calculators/pondtest"
	"mereleaf/cmd/mereleaf/internal/browser/browsertest"
	"mereleaf/cmd/mereleaf/internal/website/units"
)

// BenchmarkKeystroke measures how long after a keystroke the new answer has been laid
// out: reading the fields, the module's answer in its thread, the new HTML and its
// layout. The browser slows down pages for a test, but not their threads; so it is
// measured at full speed and multiplied. It reports the worst median of all
// calculators but the simulation and the build sheet, and those of these two, and
// lists the slowest. One page is visited before any is measured: the first one pays
// for the start of the browser too.
func BenchmarkKeystroke(b *testing.B) { benchmarkKeystroke(b, units.Metric) }

// BenchmarkKeystrokeUS is the same for a reader whose units are turned.
func BenchmarkKeystrokeUS(b *testing.B) { benchmarkKeystroke(b, units.US) }

func benchmarkKeystroke(b *testing.B, system units.System) {
	tb := browser.Open(b)
	tb.Phone()
	tb.Visit("terms.html")
	browsertest.Evaluate[bool](tb, fmt.Sprintf(`(localStorage.setItem("measures %s", %q), true)`, browsertest.Base, system))
	type timed struct {
		id string
		ms float64
	}
	var all []timed
	measure := func(id string) timed {
		tb.Visit("reckon/" + id + ".html")
		tb.Ready(id)
		return timed{id, browsertest.Slowdown * browsertest.Evaluate[float64](tb, fmt.Sprintf(keystrokes, browsertest.Pad(id)))}
	}
	measure("units")
	for b.Loop() {
		all = all[:0]
		for _, c := range pondtest.All(b).All() {
			all = append(all, measure(c.ID))
		}
	}
	slices.SortFunc(all, func(x, y timed) int { return cmp.Compare(y.ms, x.ms) })
	worst := 0.0
	for i, t := range all {
		switch t.id {
		case "maturing":
			b.ReportMetric(t.ms, "simulation-ms")
		case "tower":
			b.ReportMetric(t.ms, "sheet-ms")
		default:
			worst = max(worst, t.ms)
		}
		if i < 10 {
			b.Logf("%-20s %5.1f ms", t.id, t.ms)
		}
	}
	b.ReportMetric(worst, "worst-ms")
	b.ReportMetric(0, "ns/op") // of a whole round, which tells nothing
}

// keystrokes types the same thing thirty times over and returns the median time
// in milliseconds until the new answer has been laid out.
const keystrokes = `(async () => {
	const form = document.querySelector(%q);
	const field = form.querySelector("input");
	const answer = form.querySelector(".answer");
	const times = [];
	for (let i = 0; i < 30; i++) {
		const start = performance.now();
		const answered = new Promise((done) => new MutationObserver((_, watch) => {
			if (answer.hasAttribute("aria-busy")) return;
			watch.disconnect();
			done();
		}).observe(answer, { attributes: true }));
		field.dispatchEvent(new Event("input", { bubbles: true }));
		await answered;
		await null; // what turns units comes right after
		answer.getBoundingClientRect();
		times.push(performance.now() - start);
	}
	return times.sort((a, b) => a - b)[15];
})()`
