package static

import (
	"encoding/xml"
	"errors"
	"fmt"
	"html"
	"io"
	"regexp"
	"strings"
)

// Section returns the part of an HTML fragment from its heading with the id
// anchor up to the next heading that is not below it; with "" for anchor, what
// stands before the first heading. Headings count where they stand in no other
// element. found is false if there is no such heading.
func Section(fragment, anchor string) (section string, found bool, err error) {
	d := decoder(fragment)
	depth, begin, level := 0, 0, byte('0')
	found = anchor == ""
	if found {
		level = '9' // every heading ends it
	}
	for {
		at := int(d.InputOffset())
		token, err := d.RawToken()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			line, column := d.InputPos()
			return "", false, fmt.Errorf("line %d, column %d of its text: %w", line, column, err)
		}
		switch t := token.(type) {
		case xml.StartElement:
			name := full(t.Name)
			if heading := len(name) == 2 && name[0] == 'h' && name != "hr"; heading && depth == 0 {
				if found && name[1] <= level {
					return fragment[begin:at], true, nil
				}
				if !found && Attribute(t, "id") == anchor {
					found, begin, level = true, at, name[1]
				}
			}
			depth++
		case xml.EndElement:
			depth--
		}
	}
	if !found {
		return "", false, nil
	}
	return strings.TrimRight(fragment[begin:], "\n") + "\n", true, nil
}

var (
	titled = regexp.MustCompile(`(?s)<title>(.*?)</title>`)
	main   = regexp.MustCompile(`(?s)<main[^>]*>\n(.*)</main>`)
)

// Page returns the title of a page of the web edition, without the handbook's,
// and what stands in its main element.
func Page(page []byte) (title, text string, err error) {
	t, m := titled.FindSubmatch(page), main.FindSubmatch(page)
	if t == nil || m == nil {
		return "", "", errors.New("is no page with a title and a text; restore theme/templates/leaf.html")
	}
	title, _, _ = strings.Cut(html.UnescapeString(string(t[1])), " · ")
	return title, string(m[1]), nil
}
