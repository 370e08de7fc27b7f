// Package reckon types into the calculators, the tower among them.
package reckon

import (
	"os"
	"testing"

	"mereleaf/cmd/mereleaf/internal/browser/browsertest"
)

// browser is closed when the tests have run.
var browser browsertest.Browser

func TestMain(m *testing.M) { os.Exit(browser.Run(m)) }
