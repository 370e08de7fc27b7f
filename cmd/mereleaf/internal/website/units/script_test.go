package units_test

import (
	"testing"

	"mereleaf/cmd/mereleaf/internal/website/bundle/scripttest"
)

const root = "../../../../.."

// TestUnitScript runs the tests of the page's script that need no browser in Node: of
// units, of what is typed, and of the files that a reader brings.
func TestUnitScript(t *testing.T) {
	for _, name := range []string{"turned.test.ts", "typed.test.ts", "logdates.test.ts", "logfile.test.ts", "hostile.test.ts"} {
		scripttest.Run(t, root, name)
	}
}
