// Package markuptest checks fragments of HTML and SVG in tests.
package markuptest

import (
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"
)

// Element is an element of a fragment, in document order.
type Element struct {
	Name  string
	Attrs map[string]string
	Path  string // names of the elements around it and its own: "div/p/b"
	Text  string // all text inside it
}

// Elements reads a fragment, and fails the test if it is not well-formed as
// XML, has an attribute twice or an id twice, or a style or event attribute,
// which the handbook's content security policy forbids.
func Elements(t testing.TB, fragment string) []Element {
	t.Helper()
	all, err := parse(fragment)
	if err != nil {
		t.Fatalf("not well-formed: %v\n%s", err, fragment)
	}
	ids := map[string]bool{}
	for _, e := range all {
		for name := range e.Attrs {
			if name == "style" || strings.HasPrefix(name, "on") {
				t.Errorf("%s has the attribute %s", e.Path, name)
			}
		}
		if id, ok := e.Attrs["id"]; ok && ids[id] {
			t.Errorf("the id %q stands twice", id)
		} else if ok {
			ids[id] = true
		}
	}
	return all
}

// Find returns the elements of a name whose class attribute holds the class, or
// any of the name if class is empty.
func Find(all []Element, name, class string) []Element {
	var found []Element
	for _, e := range all {
		if e.Name == name && (class == "" || containsWord(e.Attrs["class"], class)) {
			found = append(found, e)
		}
	}
	return found
}

func containsWord(words, word string) bool {
	for w := range strings.FieldsSeq(words) {
		if w == word {
			return true
		}
	}
	return false
}

func parse(fragment string) ([]Element, error) {
	d := xml.NewDecoder(strings.NewReader("<fragment>" + fragment + "</fragment>"))
	d.Entity = map[string]string{}
	var all []Element
	var open []int
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return all[1:], nil
		}
		if err != nil {
			return nil, err
		}
		switch token := token.(type) {
		case xml.StartElement:
			e := Element{Name: token.Name.Local, Attrs: map[string]string{}, Path: token.Name.Local}
			if len(open) > 1 {
				e.Path = all[open[len(open)-1]].Path + "/" + e.Path
			}
			for _, a := range token.Attr {
				if _, twice := e.Attrs[a.Name.Local]; twice {
					return nil, errors.New(e.Path + " has the attribute " + a.Name.Local + " twice")
				}
				e.Attrs[a.Name.Local] = a.Value
			}
			open = append(open, len(all))
			all = append(all, e)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			for _, i := range open {
				all[i].Text += string(token)
			}
		case xml.Comment, xml.ProcInst, xml.Directive:
			return nil, errors.New("a fragment holds only elements and text")
		}
	}
}
