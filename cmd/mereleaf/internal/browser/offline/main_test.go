// Package offline keeps the handbook for the pond, where there is no signal.
package offline

import (
	"os"
	"testing"

	"mereleaf/cmd/mereleaf/internal/browser/browsertest"
)

// browser is closed when the tests have run.
var browser browsertest.Browser

func TestMain(m *testing.M) { os.Exit(browser.Run(m)) }
