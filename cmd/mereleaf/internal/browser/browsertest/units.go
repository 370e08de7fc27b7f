package browsertest

import (
	"fmt"

	"mereleaf/cmd/mereleaf/internal/website/units"
)

// Measure shows the open leaf, and all that the tab opens later, in a system.
func (tb *Tab) Measure(system units.System) {
	tb.T.Helper()
	Evaluate[bool](tb, fmt.Sprintf(`(() => {
		const choice = document.querySelector(".measures select");
		choice.value = %q;
		choice.dispatchEvent(new Event("change", {bubbles: true}));
		return true;
	})()`, system))
	tb.Turned(system)
}

// Turned waits until the leaf shows a system.
func (tb *Tab) Turned(system units.System) {
	tb.T.Helper()
	tb.Await(fmt.Sprintf(`document.documentElement.dataset.measure === %q && (%q === "metric" || document.querySelector(".turned") !== null)`, system, system), "the leaf does not turn to "+string(system))
}
