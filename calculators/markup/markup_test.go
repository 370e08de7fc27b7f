package markup_test

import (
	"strings"
	"testing"
	"unicode/utf8"

	"mereleaf/calculators/markup"
	"mereleaf/calculators/markup/markuptest"
)

// The text a browser reads back must be the text that was written, whatever it
// holds: as content and as attribute.
func FuzzEscape(f *testing.F) {
	for _, s := range []string{"", "plain", `<script>alert("1")</script>`, "a & b &amp; c", "it's", "{sources}", "\x00\x01\ufffe", "½ µS/cm ≤ 3", "\xff\xfe", "]]>", "a\r\nb\tc"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		var b markup.Builder
		b.Open("p", "data-x", s)
		b.Leaf("b", s)
		all := markuptest.Elements(t, b.String())
		want := readable(s)
		if got := all[1].Text; got != want {
			t.Errorf("content %q reads back as %q", want, got)
		}
		if got := all[0].Attrs["data-x"]; got != want {
			t.Errorf("attribute %q reads back as %q", want, got)
		}
		if strings.ContainsAny(markup.Escape(s), "{}<>\"'") {
			t.Errorf("%q keeps a special character: %q", s, markup.Escape(s))
		}
	})
}

// readable is what XML 1.0 can carry of a text (production 2, Char, less the
// carriage return, which parsers normalise).
func readable(s string) string {
	return strings.Map(func(r rune) rune {
		if r == utf8.RuneError || r < ' ' && r != '\t' && r != '\n' || r == 0xFFFE || r == 0xFFFF {
			return utf8.RuneError
		}
		return r
	}, s)
}

func TestBuilder(t *testing.T) {
	var b markup.Builder
	b.Open("p", "class", "", "aria-label", "")
	b.Text("a < b")
	b.Void("br")
	b.Open("b")
	b.Leaf("i", "x", "title", `"`)
	if got, want := b.String(), `<p aria-label="">a &lt; b<br/><b><i title="&#34;">x</i></b></p>`; got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}
