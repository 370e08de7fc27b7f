// Package pages reads every page of the handbook.
package pages

import (
	"os"
	"testing"

	"mereleaf/cmd/mereleaf/internal/browser/browsertest"
)

// browser is closed when the tests have run.
var browser browsertest.Browser

func TestMain(m *testing.M) { os.Exit(browser.Run(m)) }
