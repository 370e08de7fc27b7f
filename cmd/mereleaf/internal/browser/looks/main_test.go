// Package looks judges how pages look and whether everybody can reach what is on them,
// on a page of each kind.
package looks

import (
	"os"
	"testing"

	"mereleaf/cmd/mereleaf/internal/browser/browsertest"
)

// browser is closed when the tests have run.
var browser browsertest.Browser

func TestMain(m *testing.M) { os.Exit(browser.Run(m)) }
