package browsertest

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"mereleaf/cmd/mereleaf/internal/build"
)

// Single opens the whole handbook as one file, from its folder.
func (b *Browser) Single(t testing.TB) *Tab {
	t.Helper()
	tb := b.Open(t)
	tb.Address = "file://" + filepath.ToSlash(b.SingleFile(t))
	tb.Phone()
	return tb
}

// SingleFile is the path of the whole handbook as one file.
func (b *Browser) SingleFile(t testing.TB) string {
	t.Helper()
	return filepath.Join(filepath.Dir(b.Edition(t)), build.SingleName)
}

// Leaf goes to a leaf of the file and waits until it is shown.
func (tb *Tab) Leaf(address string) {
	tb.T.Helper()
	if here := Evaluate[string](tb, `location.protocol`); here == "file:" {
		Evaluate[bool](tb, fmt.Sprintf(`(location.hash = %q, true)`, address))
	} else {
		tb.Do(chromedp.Navigate(tb.Address + "#" + address))
	}
	path, _, _ := strings.Cut(address, "?")
	path, _, _ = strings.Cut(path, "#")
	tb.Shown(path)
}

// Shown waits until a leaf is on the screen.
func (tb *Tab) Shown(path string) {
	tb.T.Helper()
	tb.Await(fmt.Sprintf(`document.documentElement.dataset.leaf === %q`, path), path+" is not shown")
}
