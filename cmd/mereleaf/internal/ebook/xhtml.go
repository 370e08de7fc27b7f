package ebook

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"path"
	"slices"
	"strings"

	"mereleaf/calculators/markup"
)

// rewriter turns the text of a web page into XHTML of the e-book: what a reader
// would type into is printed as what stands there, and links lead inside.
type rewriter struct {
	from string          // path of the page
	has  map[string]bool // paths of the book's pages
	d    *xml.Decoder
	out  bytes.Buffer

	svg, math bool // whether it holds any, for the manifest
}

const (
	svgSpace  = "http://www.w3.org/2000/svg"
	mathSpace = "http://www.w3.org/1998/Math/MathML"
)

// rewrite returns the XHTML of an HTML fragment that is well-formed as XML.
func (r *rewriter) rewrite(fragment string) (string, error) {
	r.d = xml.NewDecoder(strings.NewReader("<x>" + fragment + "</x>"))
	r.d.Entity = xml.HTMLEntity
	if _, err := r.d.RawToken(); err != nil {
		return "", err
	}
	if err := r.children("x"); err != nil {
		line, column := r.d.InputPos()
		return "", fmt.Errorf("line %d, column %d of its text: %w", line, column, err)
	}
	return r.out.String(), nil
}

// children copies all up to the end of the element around.
func (r *rewriter) children(name string) error {
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
			if err := r.element(t); err != nil {
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

func (r *rewriter) element(t xml.StartElement) error {
	name := full(t.Name)
	switch {
	case attribute(t, "hidden") != "" || name == "button" || has(t, "state") || has(t, "faults") || has(t, "ready"):
		return r.skip()
	case name == "input":
		r.out.WriteString(markup.Escape(shown(t)))
		return r.children(name)
	case name == "select":
		return r.choice(name)
	case name == "form" || name == "fieldset":
		t.Name.Local = "div"
	case name == "legend" || name == "label":
		t.Name.Local = "p"
	case name == "output":
		t.Name.Local = "strong"
	}
	r.open(t)
	if err := r.children(name); err != nil {
		return err
	}
	r.out.WriteString("</" + full(t.Name) + ">")
	return nil
}

// skip passes over the rest of an element.
func (r *rewriter) skip() error {
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
func (r *rewriter) choice(name string) error {
	text, taken, selected := "", false, false
	for {
		token, err := r.d.RawToken()
		if err != nil {
			return err
		}
		switch t := token.(type) {
		case xml.StartElement:
			selected = attribute(t, "selected") != "" || text == ""
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
	if v := attribute(t, "value"); v != "" {
		return v
	}
	return strings.TrimSpace(attribute(t, "placeholder"))
}

func attribute(t xml.StartElement, name string) string {
	for _, a := range t.Attr {
		if full(a.Name) == name {
			return a.Value
		}
	}
	return ""
}

func has(t xml.StartElement, class string) bool {
	return slices.Contains(strings.Fields(attribute(t, "class")), class)
}

// open writes a start tag without what only a live page uses.
func (r *rewriter) open(t xml.StartElement) {
	name := full(t.Name)
	r.out.WriteString("<" + name)
	switch name {
	case "svg":
		r.svg = true
		r.out.WriteString(` xmlns="` + svgSpace + `"`)
	case "math":
		r.math = true
		r.out.WriteString(` xmlns="` + mathSpace + `"`)
	}
	for _, a := range t.Attr {
		key, value := full(a.Name), a.Value
		if live(name, key) {
			continue
		}
		if key == "href" {
			if value = r.lead(value); value == "" {
				continue
			}
		}
		r.out.WriteString(" " + key + `="` + markup.Escape(value) + `"`)
	}
	r.out.WriteByte('>')
}

// live reports the attributes that mean something to a script or a browser only.
func live(element, name string) bool {
	switch name {
	case "autocomplete", "novalidate", "for", "disabled", "name", "tabindex", "loading", "focusable", "xmlns":
		return true
	case "role":
		return element != "svg" // a live region, or a region that scrolls
	}
	return strings.HasPrefix(name, "data-")
}

// lead turns a link between pages into one between pages of the book; "" if it
// leads to a page that a book has no use for.
func (r *rewriter) lead(link string) string {
	if strings.Contains(link, ":") || strings.HasPrefix(link, "#") {
		return link
	}
	target, fragment, hashed := strings.Cut(link, "#")
	target, _, _ = strings.Cut(target, "?")
	if !r.has[path.Join(path.Dir(r.from), target)] {
		return ""
	}
	link = strings.TrimSuffix(target, ".html") + ".xhtml"
	if hashed {
		link += "#" + fragment
	}
	return link
}
