// Package record lets the pond record keep what is typed, and takes it elsewhere.
package record

import (
	"os"
	"testing"

	"mereleaf/cmd/mereleaf/internal/browser/browsertest"
)

// browser is closed when the tests have run.
var browser browsertest.Browser

func TestMain(m *testing.M) { os.Exit(browser.Run(m)) }
