// Package markup writes HTML and SVG that is well-formed as XML by
// construction: every element that is opened is closed, every text and
// attribute is escaped.
//
// It exists because html/template needs reflection, which would make the
// WebAssembly module of the calculators half as large again.
package markup

import "strings"

// Builder writes one fragment. The zero Builder is ready for use.
type Builder struct {
	b    strings.Builder
	open []string
}

// Open starts an element. attrs are names and values in turn; an attribute
// whose value is "" is left out, except alt, value, aria-label and data-*,
// where empty means something. Its names are written in the code, never by a
// reader, so they are not checked.
func (b *Builder) Open(tag string, attrs ...string) {
	b.start(tag, attrs)
	b.b.WriteByte('>')
	b.open = append(b.open, tag)
}

// Void writes an element without content, such as input or path.
func (b *Builder) Void(tag string, attrs ...string) {
	b.start(tag, attrs)
	b.b.WriteString("/>")
}

// Close ends the element opened last.
func (b *Builder) Close() {
	last := len(b.open) - 1
	b.b.WriteString("</" + b.open[last] + ">")
	b.open = b.open[:last]
}

// Leaf writes an element that holds only text.
func (b *Builder) Leaf(tag, text string, attrs ...string) {
	b.Open(tag, attrs...)
	b.Text(text)
	b.Close()
}

// Text writes text.
func (b *Builder) Text(s string) { b.b.WriteString(Escape(s)) }

// Raw writes a fragment that another Builder made.
func (b *Builder) Raw(fragment string) { b.b.WriteString(fragment) }

// Line ends a line, to keep pages readable in their source.
func (b *Builder) Line() { b.b.WriteByte('\n') }

// String closes what is still open and returns the fragment.
func (b *Builder) String() string {
	for len(b.open) > 0 {
		b.Close()
	}
	return b.b.String()
}

func (b *Builder) start(tag string, attrs []string) {
	b.b.WriteString("<" + tag)
	for i := 0; i+1 < len(attrs); i += 2 {
		if attrs[i+1] == "" && !mayBeEmpty(attrs[i]) {
			continue
		}
		b.b.WriteString(" " + attrs[i] + `="` + Escape(attrs[i+1]) + `"`)
	}
}

func mayBeEmpty(attribute string) bool {
	switch attribute {
	case "alt", "value", "aria-label":
		return true
	}
	return strings.HasPrefix(attribute, "data-")
}

// Escape makes a text safe as content and as attribute value. Braces are
// escaped too, so that no text can pass for a placeholder of package answer,
// and characters that XML forbids become the replacement character.
func Escape(s string) string {
	clean := true
	for _, r := range s {
		if special(r) {
			clean = false
			break
		}
	}
	if clean {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == '&':
			b.WriteString("&amp;")
		case r == '<':
			b.WriteString("&lt;")
		case r == '>':
			b.WriteString("&gt;")
		case r == '"':
			b.WriteString("&#34;")
		case r == '\'':
			b.WriteString("&#39;")
		case r == '{':
			b.WriteString("&#123;")
		case r == '}':
			b.WriteString("&#125;")
		case forbidden(r):
			b.WriteRune('\uFFFD')
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

func special(r rune) bool {
	switch r {
	case '&', '<', '>', '"', '\'', '{', '}', '\uFFFD':
		return true
	}
	return forbidden(r)
}

// forbidden reports the characters outside Char of XML 1.0. A carriage return
// is among them, because parsers would turn it into a line feed.
func forbidden(r rune) bool {
	return r < ' ' && r != '\t' && r != '\n' || r == '\uFFFE' || r == '\uFFFF'
}
