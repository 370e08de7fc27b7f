package page

import (
	"bytes"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/renderer/html"
	"github.com/yuin/goldmark/util"

	"mereleaf/cmd/mereleaf/internal/diag"
)

// plain returns the text of a node without marks, as a reader sees it.
func (d *Document) plain(n ast.Node) string {
	if t, ok := n.FirstChild().(*ast.Text); ok && n.ChildCount() == 1 { // most cells and links
		value := t.Segment.Value(d.Text)
		if !t.IsRaw() {
			value = unescape(value)
		}
		return string(bytes.TrimSpace(value))
	}
	var b strings.Builder
	d.appendPlain(&b, n)
	return strings.TrimSpace(b.String())
}

func (d *Document) appendPlain(b *strings.Builder, n ast.Node) {
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		switch c := c.(type) {
		case *ast.Text:
			value := c.Segment.Value(d.Text)
			if !c.IsRaw() {
				value = unescape(value)
			}
			b.Write(value)
			if c.SoftLineBreak() || c.HardLineBreak() {
				b.WriteByte(' ')
			}
		case *ast.String:
			b.Write(c.Value)
		default:
			d.appendPlain(b, c)
		}
	}
}

func unescape(value []byte) []byte {
	if bytes.IndexByte(value, '\\') < 0 && bytes.IndexByte(value, '&') < 0 {
		return value
	}
	return util.ResolveEntityNames(util.ResolveNumericReferences(util.UnescapePunctuations(value)))
}

// Running is the running text of a chapter: without headings, tables and blocks.
type Running struct{ *survey }

// Running parses the chapter again, because only reports look at its text.
func (d *Document) Running() Running { return Running{look(d.File, d.Text)} }

// FindWords returns where words first stand whole, in any case and outside
// links; false if they do not.
func (r Running) FindWords(words string) (diag.Position, bool) {
	found := -1
	_ = ast.Walk(r.root, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		switch n := n.(type) {
		case *ast.Heading, *tableNode, *blockNode, *referenceNode, *ast.FencedCodeBlock, *ast.CodeBlock:
			return ast.WalkSkipChildren, nil
		case *ast.Text:
			if i := indexWords(n.Segment.Value(r.Text), words); entering && i >= 0 {
				found = n.Segment.Start + i
				return ast.WalkStop, nil
			}
		}
		return ast.WalkContinue, nil
	})
	return r.at(found), found >= 0
}

// indexWords is the offset of words in text, in any case, where no letter or
// digit adjoins them; -1 if there is none.
func indexWords(text []byte, words string) int {
	if words == "" {
		return -1
	}
	for i := 0; i+len(words) <= len(text); i++ {
		// Folding keeps the last five bits of an ASCII letter: a cheap test first.
		if words[0] < utf8.RuneSelf && (text[i]^words[0])&0x1f != 0 {
			continue
		}
		if strings.EqualFold(string(text[i:i+len(words)]), words) && !joined(text, i) && !joined(text, i+len(words)) {
			return i
		}
	}
	return -1
}

// joined reports whether letters or digits stand on both sides of an offset.
func joined(text []byte, i int) bool {
	before, _ := utf8.DecodeLastRune(text[:i])
	after, _ := utf8.DecodeRune(text[i:])
	return isWordRune(before) && isWordRune(after)
}

func isWordRune(r rune) bool {
	return r != utf8.RuneError && (unicode.IsLetter(r) || unicode.IsDigit(r))
}

// writeText writes text with a number joined to the unit behind it, so that a
// line never breaks between them.
func writeText(w util.BufWriter, source []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	n := node.(*ast.Text)
	value := n.Segment.Value(source)
	if n.IsRaw() {
		html.DefaultWriter.RawWrite(w, value)
	} else {
		writeJoined(w, value)
	}
	switch {
	case n.HardLineBreak():
		_, _ = w.WriteString("<br />\n")
	case n.SoftLineBreak() && joinsNext(value, n, source):
		_, _ = w.WriteString(noBreak)
	case n.SoftLineBreak():
		_ = w.WriteByte('\n')
	}
	return ast.WalkContinue, nil
}

// noBreak is a no-break space, spelled visibly and so that XML knows it too.
const noBreak = "&#160;"

func writeJoined(w util.BufWriter, value []byte) {
	for {
		i := unitGap(value)
		if i < 0 {
			html.DefaultWriter.Write(w, value)
			return
		}
		html.DefaultWriter.Write(w, value[:i])
		_, _ = w.WriteString(noBreak)
		value = value[i+1:]
	}
}

// unitGap returns the offset of the first space between a number and a unit;
// -1 if there is none.
func unitGap(value []byte) int {
	for i := 0; ; i++ {
		j := bytes.IndexByte(value[i:], ' ')
		if j < 0 {
			return -1
		}
		i += j
		if endsInNumber(value[:i]) && startsWithUnit(value[i+1:]) {
			return i
		}
	}
}

// joinsNext reports whether a number ends a line whose successor begins with
// its unit.
func joinsNext(value []byte, n *ast.Text, source []byte) bool {
	next, ok := n.NextSibling().(*ast.Text)
	return ok && endsInNumber(value) && startsWithUnit(next.Segment.Value(source))
}

func endsInNumber(b []byte) bool {
	if len(b) == 0 {
		return false
	}
	if c := b[len(b)-1]; c < utf8.RuneSelf { // no fraction below
		return c >= '0' && c <= '9'
	}
	for _, fraction := range []string{"½", "¼", "¾", "⅓", "⅔", "⅛", "⅜", "⅝", "⅞"} {
		if bytes.HasSuffix(b, []byte(fraction)) {
			return true
		}
	}
	return false
}

func startsWithUnit(b []byte) bool {
	end := bytes.IndexAny(b, " ,;:.)\n")
	if end < 0 {
		end = len(b)
	}
	word, _, _ := strings.Cut(string(b[:end]), "/") // mg/L begins with mg
	return isUnit(word)
}

// isUnit reports whether a word of running text is a unit or the first word of
// one. The list is of words as people write them; package quantity knows more.
func isUnit(word string) bool {
	switch word {
	case "%", "‰", "°C", "°F", "°", "K", "°dH", "dKH",
		"mm", "cm", "m", "km", "mm²", "cm²", "m²", "m³", "µm", "nm", "in", "ft", "yd", "inch", "inches", "feet", "foot",
		"metre", "metres", "millimetre", "millimetres", "centimetre", "centimetres",
		"ml", "mL", "l", "L", "litre", "litres", "gal", "gallon", "gallons", "cubic", "square",
		"µg", "mg", "g", "kg", "t", "lb", "oz", "gram", "grams", "kilogram", "kilograms", "ppm",
		"s", "min", "h", "d", "second", "seconds", "minute", "minutes", "hour", "hours", "day", "days",
		"week", "weeks", "month", "months", "year", "years",
		"W", "kW", "kWh", "V", "A", "mA", "Hz", "N", "Pa", "kPa", "bar", "psi", "degrees", "percent":
		return true
	}
	return false
}
