package browsertest

import (
	"encoding/json"
	"os"
	"strings"
	"testing"
)

// What axe-core is asked for: all its rules and the one for WCAG 2.2, 2.5.8, which it
// leaves out by itself; or those alone whose answer changes with what a test changes.
const (
	EveryRule   = `{resultTypes: ["violations"], rules: {"target-size": {enabled: true}}}`
	ColourRules = `{resultTypes: ["violations"], runOnly: ["color-contrast", "link-in-text-block"]}`
	LayoutRules = `{resultTypes: ["violations"], runOnly: ["target-size", "scrollable-region-focusable", "color-contrast", "link-in-text-block"]}`
)

// AxeScript is the source of axe-core.
func AxeScript(t testing.TB) string {
	t.Helper()
	path := os.Getenv("MERELEAF_AXE")
	if path == "" {
		SkipOrFail(t, "MERELEAF_AXE does not name the axe-core script (axe.min.js of the npm package axe-core)")
	}
	script, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(script)
}

// Accessible fails the test with what axe-core finds on the open page, a line each.
func (tb *Tab) Accessible(script, where, rules string) {
	tb.T.Helper()
	if !Evaluate[bool](tb, `"axe" in window`) {
		Evaluate[int](tb, script+";0")
	}
	raw := Evaluate[string](tb, `axe.run(document, `+rules+`).then(r => JSON.stringify(r.violations))`)
	var violations []struct {
		ID, Help string
		Nodes    []struct {
			Target         []any
			FailureSummary string
		}
	}
	if err := json.Unmarshal([]byte(raw), &violations); err != nil {
		tb.T.Fatal(err)
	}
	for _, v := range violations {
		for _, n := range v.Nodes {
			tb.T.Errorf("%s: %s (%s) at %v: %s", where, v.ID, v.Help, n.Target, strings.ReplaceAll(n.FailureSummary, "\n", " "))
		}
	}
}
