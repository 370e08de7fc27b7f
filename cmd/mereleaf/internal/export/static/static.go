// Package static makes the text of a web page into one that nobody types into:
// for the e-book and for paper. A field becomes what stands in it, a list of
// choices the one that is chosen, and what only a live page uses is left out.
package static

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"mereleaf/calculators/markup"
)

// Rewriter rewrites one page after the other.
type Rewriter struct {
	// Lead turns the target of a link into that in the new text and what follows
	// the link in print, such as " (W 3)". "" for to leaves a link that leads
	// nowhere.
	Lead func(link string) (to, after string)
	// Skip says which further elements to leave out; nil for none. within is the
	// name of the element around.
	Skip func(t xml.StartElement, within string) bool
	// Prefix begins every id, and every reference to one by id.
	Prefix string
	// Deeper is by how many levels headings go down.
	Deeper int
	// Flat unfolds what can be folded, drops what is read out only, with the
	// sections that are named so, and begins svg and math without their namespaces: for HTML on paper. Without it the
	// text is XHTML.
	Flat bool

	SVG, Math bool // whether a page since the last reset held any

	d   *xml.Decoder
	out bytes.Buffer
}

const (
	svgSpace  = "http://www.w3.org/2000/svg"
	mathSpace = "http://www.w3.org/1998/Math/MathML"
)

// Rewrite returns the still text of an HTML fragment that is well-formed as
// XML. The error says where in the fragment it is not.
func (r *Rewriter) Rewrite(fragment string) (string, error) {
	r.out.Reset()
	r.d = decoder("<x>" + fragment + "</x>")
	if _, err := r.d.RawToken(); err != nil {
		return "", err
	}
	if err := r.children("x"); err != nil {
		line, column := r.d.InputPos()
		return "", fmt.Errorf("line %d, column %d of its text: %w", line, column, err)
	}
	return r.out.String(), nil
}

func decoder(text string) *xml.Decoder {
	d := xml.NewDecoder(strings.NewReader(text))
	d.Entity = xml.HTMLEntity
	return d
}

// children copies all up to the end of the element around.
func (r *Rewriter) children(name string) error {
	for {
		token, err := r.d.RawToken()
		if errors.Is(err, io.EOF) {
			return fmt.Errorf("<%s> is not closed", name)
		}
		if err != nil {
			return err
		}
		switch t := token.(type) {
		case xml.CharData:
			r.out.WriteString(markup.Escape(string(t)))
		case xml.StartElement:
			if err := r.element(t, name); err != nil {
				return err
			}
		case xml.EndElement:
			if full(t.Name) != name {
				return fmt.Errorf("</%s> closes <%s>", full(t.Name), name)
			}
			return nil
		}
	}
}

// full is a name as it was written: RawToken parts it from its prefix.
func full(n xml.Name) string {
	if n.Space == "" {
		return n.Local
	}
	return n.Space + ":" + n.Local
}

func (r *Rewriter) element(t xml.StartElement, within string) error {
	name := full(t.Name)
	switch {
	case r.leftOut(t, within):
		return r.skip()
	case name == "input":
		r.out.WriteString(markup.Escape(shown(t)))
		return r.children(name)
	case name == "select":
		return r.choice(name)
	}
	as := r.named(name)
	after := r.open(t, as)
	if empty(as) {
		return r.children(name) // there are none
	}
	if err := r.children(name); err != nil {
		return err
	}
	r.out.WriteString("</" + as + ">" + markup.Escape(after))
	return nil
}

// leftOut reports the elements that mean something on a live page only.
func (r *Rewriter) leftOut(t xml.StartElement, within string) bool {
	return Attribute(t, "hidden") != "" || full(t.Name) == "button" || Has(t, "data-web") ||
		Classed(t, "state") || Classed(t, "faults") || Classed(t, "ready") ||
		r.Skip != nil && r.Skip(t, within)
}

// named returns the name under which an element goes on.
func (r *Rewriter) named(name string) string {
	switch name {
	case "form", "fieldset":
		return "div"
	case "legend", "label":
		return "p"
	case "output":
		return "strong"
	}
	if r.Flat {
		switch name {
		case "details", "section":
			return "div"
		case "summary":
			return "p"
		}
	}
	if len(name) == 2 && name[0] == 'h' && name[1] >= '1' && name[1] <= '6' {
		return "h" + string(min(name[1]+byte(r.Deeper), '6'))
	}
	return name
}

// empty reports the elements of HTML without an end tag.
func empty(name string) bool {
	switch name {
	case "br", "hr", "img", "wbr", "col":
		return true
	}
	return false
}

// skip passes over the rest of an element.
func (r *Rewriter) skip() error {
	for depth := 1; depth > 0; {
		token, err := r.d.RawToken()
		if err != nil {
			return err
		}
		switch token.(type) {
		case xml.StartElement:
			depth++
		case xml.EndElement:
			depth--
		}
	}
	return nil
}

// choice prints the option that a list of choices shows: the one selected, or
// the first.
func (r *Rewriter) choice(name string) error {
	text, taken, selected := "", false, false
	for {
		token, err := r.d.RawToken()
		if err != nil {
			return err
		}
		switch t := token.(type) {
		case xml.StartElement:
			selected = Attribute(t, "selected") != "" || text == ""
			if selected {
				text, taken = "", true
			}
		case xml.CharData:
			if selected && taken {
				text += string(t)
			}
		case xml.EndElement:
			if full(t.Name) == name {
				r.out.WriteString(" <b>" + markup.Escape(strings.TrimSpace(text)) + "</b>")
				return nil
			}
			selected = false
		}
	}
}

// shown is what stands in a field.
func shown(t xml.StartElement) string {
	if v := Attribute(t, "value"); v != "" {
		return v
	}
	return strings.TrimSpace(Attribute(t, "placeholder"))
}

// Attribute returns an attribute's value, "" without it.
func Attribute(t xml.StartElement, name string) string {
	for _, a := range t.Attr {
		if full(a.Name) == name {
			return a.Value
		}
	}
	return ""
}

// Has reports whether an element has an attribute, even an empty one.
func Has(t xml.StartElement, name string) bool {
	return slices.ContainsFunc(t.Attr, func(a xml.Attr) bool { return full(a.Name) == name })
}

// Classed reports whether an element is of a class.
func Classed(t xml.StartElement, class string) bool {
	return slices.Contains(strings.Fields(Attribute(t, "class")), class)
}

// open writes a start tag under the name given, without what only a live page
// uses, and returns what follows the element.
func (r *Rewriter) open(t xml.StartElement, as string) (after string) {
	name := full(t.Name)
	r.out.WriteString("<" + as)
	r.space(name)
	for _, a := range t.Attr {
		key, value := full(a.Name), a.Value
		switch {
		case r.live(t, key):
			continue
		case key == "role" && name != "svg":
			value = "group" // what scrolls, but no landmark
		case key == "href":
			if value, after = r.Lead(value); value == "" {
				continue
			}
		case key == "id" || key == "headers" || key == "aria-labelledby" || key == "aria-describedby":
			value = r.prefixed(value)
		}
		r.out.WriteString(" " + key + `="` + markup.Escape(value) + `"`)
	}
	if empty(as) {
		r.out.WriteByte('/')
	}
	r.out.WriteByte('>')
	return after
}

// space writes the namespace of an element that has one of its own.
func (r *Rewriter) space(name string) {
	space := ""
	switch name {
	case "svg":
		r.SVG, space = true, svgSpace
	case "math":
		r.Math, space = true, mathSpace
	}
	if space != "" && !r.Flat {
		r.out.WriteString(` xmlns="` + space + `"`)
	}
}

func (r *Rewriter) prefixed(ids string) string {
	if r.Prefix == "" {
		return ids
	}
	list := strings.Fields(ids)
	for i := range list {
		list[i] = r.Prefix + list[i]
	}
	return strings.Join(list, " ")
}

// live reports the attributes that mean something to a script or a browser only.
// A flat page is read on a screen too, where what scrolls needs the keyboard.
func (r *Rewriter) live(t xml.StartElement, name string) bool {
	drawn, scrolls := full(t.Name) == "svg", r.Flat && Has(t, "tabindex")
	switch name {
	case "autocomplete", "novalidate", "for", "disabled", "name", "loading", "focusable", "xmlns", "open":
		return true
	case "tabindex":
		return !r.Flat
	case "role":
		return !drawn && !scrolls // a live region
	case "title":
		return r.Flat
	case "aria-labelledby", "aria-label":
		if !r.Flat {
			return Has(t, "tabindex") // the name of what scrolls, which has no role here
		}
		return !drawn && !scrolls // of many leaves on one page each would be a landmark
	}
	return strings.HasPrefix(name, "data-")
}
