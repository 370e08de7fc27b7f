// Package website writes the handbook as a web site.
//
// It touches nothing outside the program.
package website

// Page is one leaf of an edition.
type Page struct {
	Path string // in the edition: "water/ammonia.html"
	Key  string // while it stays the same, so do the bytes
	// Bytes renders the page. It may be called from several goroutines at once.
	// The error is a diag.Diagnostic or diag.List where it has a position.
	Bytes func() ([]byte, error)
}
