package browser

import (
	"cmp"
	"fmt"
	"slices"
	"testing"

	"github.com/chromedp/cdproto/emulation"

	"mereleaf/calculators/catalog"
)

// slowdown is how much slower than this machine a phone is taken to be.
const slowdown = 4

// BenchmarkKeystroke measures, with the processor slowed down fourfold, how long
// a keystroke holds up the page: reading the fields, the module's answer, the new
// HTML and its layout. It reports the worst median of all calculators but the
// simulation and the build sheet, and those of these two, and lists the slowest.
// One page is visited before any is measured: the first one pays for the start of
// the browser too.
func BenchmarkKeystroke(b *testing.B) {
	tb := open(b)
	tb.phone()
	type timed struct {
		id string
		ms float64
	}
	var all []timed
	measure := func(id string) timed {
		call(tb, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: 1})
		tb.visit("reckon/" + id + ".html")
		tb.ready(id)
		call(tb, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: slowdown})
		return timed{id, evaluate[float64](tb, fmt.Sprintf(keystrokes, pad(id)))}
	}
	measure("units")
	for b.Loop() {
		all = all[:0]
		for _, c := range catalog.All().All() {
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
const keystrokes = `(() => {
	const form = document.querySelector(%q);
	const field = form.querySelector("input");
	const times = [];
	for (let i = 0; i < 30; i++) {
		const start = performance.now();
		field.dispatchEvent(new Event("input", { bubbles: true }));
		form.querySelector(".answer").getBoundingClientRect();
		times.push(performance.now() - start);
	}
	return times.sort((a, b) => a - b)[15];
})()`
