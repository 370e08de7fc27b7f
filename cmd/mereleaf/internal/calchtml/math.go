package calchtml

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/wyatt915/treeblood"

	"mereleaf/calculators/markup"
)

// Math returns TeX as MathML, in a block of its own if display is set, with the
// TeX as its alternative text. The error is one line.
func (p *Pad) Math(tex string, display bool) (string, error) {
	tex = strings.Join(strings.Fields(tex), " ")
	if err := checkTeX(tex); err != nil {
		return "", fmt.Errorf("formula %q: %w", tex, err)
	}
	mathML, err := treeblood.TexToMML(tex, nil, display, false)
	if err != nil {
		return "", fmt.Errorf("formula %q cannot be read: %s", tex, firstLine(err))
	}
	clean, err := tidy(mathML, tex, display)
	if err != nil {
		return "", fmt.Errorf("formula %q: %w", tex, err)
	}
	if display { // a long formula scrolls, by keyboard too
		return `<div class="tex" role="group" aria-label="Formula" tabindex="0">` + clean + "</div>\n", nil
	}
	return clean, nil
}

func firstLine(err error) string {
	line, _, _ := strings.Cut(strings.TrimSpace(err.Error()), "\n")
	line, _, _ = strings.Cut(line, "<pre>")
	return line
}

// checkTeX finds what the library lets through although it cannot be meant.
func checkTeX(tex string) error {
	if tex == "" {
		return errors.New("is empty; write it in TeX")
	}
	depth := 0
	for i, c := range tex {
		if i > 0 && tex[i-1] == '\\' {
			continue
		}
		switch c {
		case '{':
			depth++
		case '}':
			depth--
		}
		if depth < 0 {
			return errors.New("has a } without its {")
		}
	}
	if depth > 0 {
		return errors.New("has a { without its }")
	}
	for _, pair := range [][2]string{{`\left`, `\right`}, {`\begin`, `\end`}} {
		if count(tex, pair[0]) != count(tex, pair[1]) {
			return fmt.Errorf(`has %d %s and %d %s; expected as many of both`, count(tex, pair[0]), pair[0], count(tex, pair[1]), pair[1])
		}
	}
	return nil
}

// count counts a command, not the longer ones it begins, such as \leftarrow.
func count(tex, command string) int {
	n := 0
	for {
		_, after, found := strings.Cut(tex, command)
		if !found {
			return n
		}
		if after == "" || !isLetter(after[0]) {
			n++
		}
		tex = after
	}
}

func isLetter(c byte) bool { return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' }

// tidy makes the library's MathML fit for the handbook: attributes in one order
// (the library's changes from run to run), no style attributes, no annotation,
// and an error instead of an element that marks one.
func tidy(mathML, tex string, display bool) (string, error) {
	start := strings.Index(mathML, "<annotation")
	end := strings.LastIndex(mathML, "</annotation>")
	if start < 0 || end < start {
		return "", errors.New("has come out without its annotation")
	}
	// The annotation repeats the TeX, and not as well-formed XML.
	d := xml.NewDecoder(strings.NewReader(mathML[:start] + mathML[end+len("</annotation>"):]))
	d.Entity = xml.HTMLEntity
	var b markup.Builder
	b.Open("math", mathAttrs(tex, display)...)
	if err := copyTokens(&b, d); err != nil {
		return "", err
	}
	return b.String(), nil
}

func mathAttrs(tex string, display bool) []string {
	attrs := []string{"xmlns", "http://www.w3.org/1998/Math/MathML", "alttext", tex}
	if display {
		attrs = append(attrs, "display", "block")
	}
	return attrs
}

func copyTokens(b *markup.Builder, d *xml.Decoder) error {
	leaves := 0
	var styled []bool // for each open element: it has a style around it
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			if leaves == 0 {
				return errors.New("has nothing in it")
			}
			return nil
		}
		if err != nil {
			return fmt.Errorf("has come out as bad XML: %w", err)
		}
		switch token := token.(type) {
		case xml.StartElement:
			switch token.Name.Local {
			case "math", "semantics":
				continue
			case "merror":
				return fmt.Errorf("has something unknown in it: %s", rest(d))
			}
			style, attrs := attributes(token)
			if style != "" {
				b.Open("mstyle", "displaystyle", style)
			}
			styled = append(styled, style != "")
			b.Open(token.Name.Local, attrs...)
		case xml.EndElement:
			if token.Name.Local != "math" && token.Name.Local != "semantics" {
				b.Close()
				if styled[len(styled)-1] {
					b.Close()
				}
				styled = styled[:len(styled)-1]
			}
		case xml.CharData:
			// Between elements there is only layout; inside mtext a space counts,
			// and there the library writes it as a no-break space.
			if text := strings.Trim(string(token), " \n\t"); text != "" {
				leaves++
				b.Text(text)
			}
		}
	}
}

// rest returns the text that follows, which names what was not understood.
func rest(d *xml.Decoder) string {
	for {
		token, err := d.Token()
		if err != nil {
			return "?"
		}
		if text, ok := token.(xml.CharData); ok {
			return string(text)
		}
	}
}

// attributes returns the attributes of an element in the order of their names,
// without those that MathML 3 does not give it, and the display style that the
// library gives to a fraction itself instead of to a style around it.
func attributes(e xml.StartElement) (style string, flat []string) {
	slices.SortFunc(e.Attr, func(a, b xml.Attr) int { return strings.Compare(a.Name.Local, b.Name.Local) })
	for _, a := range e.Attr {
		name := a.Name.Local
		switch {
		case name == "style", e.Name.Local == "mi" && (name == "lspace" || name == "rspace" || name == "movablelimits"):
			continue
		case name == "displaystyle" && e.Name.Local == "mfrac":
			style = a.Value
			continue
		case name == "strechy": // the library's misspelling, seen in 0.1.16
			name = "stretchy"
		}
		flat = append(flat, name, a.Value)
	}
	return style, flat
}
