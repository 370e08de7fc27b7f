package search

import (
	"testing"

	"mereleaf/cmd/mereleaf/internal/website/bundle/scripttest"
)

// TestFindScript runs the tests of the script that looks in the index.
func TestFindScript(t *testing.T) {
	scripttest.Run(t, "../../../..", "find.test.ts")
}
