// Package mereleaf holds what the program takes along of its handbook, for where
// there is none.
package mereleaf

import _ "embed"

// Cautions is the file of cautions: an answer never comes without them.
//
//go:embed content/cautions.md
var Cautions []byte
