package svg

import (
	"encoding/xml"
	"slices"
	"strconv"
	"strings"
)

const (
	ink            = "currentColor"
	elementsWanted = "one of g, path, line, polyline, polygon, rect, circle, ellipse, text, tspan, a, title, desc"
	blanks         = " \t\r\n"

	smallest, largest = 11.0, 13.0 // letters
)

// known reports whether an element may stand in a drawing.
func known(name string) bool {
	switch name {
	case "svg", "g", "path", "line", "polyline", "polygon", "rect", "circle", "ellipse", "text", "tspan", "a", "title", "desc":
		return true
	}
	return false
}

// mayHold reports whether an element may stand directly in another.
func mayHold(outer, inner string) bool {
	switch outer {
	case "svg", "g", "":
		return inner != "tspan" && inner != "a"
	case "text", "tspan":
		return inner == "tspan" || inner == "a" || hidden(inner)
	case "a":
		return inner == "tspan"
	case "title", "desc":
		return false
	}
	return hidden(inner)
}

func heldBy(outer string) string {
	switch outer {
	case "svg", "g":
		return "shapes, g and text in it; tspan and a in text"
	case "text", "tspan":
		return "words, tspan and a in it"
	case "a":
		return "the words of one quantity in it"
	case "title", "desc":
		return "words in it"
	}
	return "nothing in it but title and desc"
}

// geometry lists the attributes that give an element its place and size.
func geometry(element string) []string {
	switch element {
	case "path":
		return []string{"d"}
	case "line":
		return []string{"x1", "y1", "x2", "y2"}
	case "polyline", "polygon":
		return []string{"points"}
	case "rect":
		return []string{"x", "y", "width", "height", "rx", "ry"}
	case "circle":
		return []string{"cx", "cy", "r"}
	case "ellipse":
		return []string{"cx", "cy", "rx", "ry"}
	case "text", "tspan":
		return []string{"x", "y", "dx", "dy"}
	case "a":
		return []string{"href"}
	case "svg":
		return []string{"viewBox"}
	}
	return nil
}

// dress is what every element that shows something may have.
var dress = [...]string{"fill", "stroke", "stroke-width", "stroke-dasharray", "stroke-linecap", "stroke-linejoin", "font-size", "font-weight", "text-anchor", "transform"}

func allowed(element, attribute string) bool {
	switch {
	case hidden(element):
		return false
	case element == "a":
		return attribute == "href"
	case attribute == "transform" && (element == "svg" || element == "tspan"):
		return false
	}
	return slices.Contains(dress[:], attribute) || slices.Contains(geometry(element), attribute)
}

// attribute is one of an element, with the place of its value.
type attribute struct {
	name, value string
	at          int
}

func find(list []attribute, name string) (attribute, bool) {
	for _, a := range list {
		if a.name == name {
			return a, true
		}
	}
	return attribute{}, false
}

func has(list []attribute, name string) bool { _, ok := find(list, name); return ok }

func flat(list []attribute) []string {
	out := make([]string, 0, 2*len(list))
	for _, a := range list {
		out = append(out, a.name, a.value)
	}
	return out
}

// attributes checks those of a tag, which begins at an offset, and returns them
// without the name space.
func (r *reader) attributes(e xml.StartElement, tag string, at int) []attribute {
	if !known(e.Name.Local) {
		return nil
	}
	var list []attribute
	places := placesIn(tag, len(e.Attr))
	for i, a := range e.Attr {
		name, nameAt, valueAt := a.Name.Local, at+places[i].name, at+places[i].value
		switch {
		case name == "xmlns" && a.Name.Space == "" && e.Name.Local == "svg":
			continue
		case a.Name.Space != "" || !allowed(e.Name.Local, name):
			r.fault(nameAt, "the attribute "+name+" is not accepted on "+e.Name.Local, attributesWanted(e.Name.Local), "remove it")
			continue
		case has(list, name):
			r.fault(nameAt, "the attribute "+name+" stands twice", "each once", "remove one")
			continue
		}
		if want := unfit(e.Name.Local, name, a.Value); want != "" {
			r.fault(valueAt, name+" is \""+a.Value+"\"", want, "correct it")
		}
		list = append(list, attribute{name, a.Value, valueAt})
	}
	return list
}

func attributesWanted(element string) string {
	var names []string
	for _, name := range append(geometry(element), dress[:]...) {
		if allowed(element, name) {
			names = append(names, name)
		}
	}
	if names == nil {
		return "none"
	}
	return strings.Join(names, ", ")
}

// tagPlace is where the name and the value of an attribute begin in a tag.
type tagPlace struct{ name, value int }

// placesIn finds the attributes of a tag that package xml has accepted: each
// has an equals sign and quotes.
func placesIn(tag string, count int) []tagPlace {
	places := make([]tagPlace, count)
	from := 0
	for i := range places {
		equals := from + strings.IndexByte(tag[from:], '=')
		name := strings.TrimRight(tag[:equals], blanks)
		value := equals + 1 + strings.IndexAny(tag[equals+1:], `"'`)
		places[i] = tagPlace{strings.LastIndexAny(name, blanks+`"'`) + 1, value + 1}
		from = value + 2 + strings.IndexByte(tag[value+1:], tag[value])
	}
	return places
}

// unfit says what a value should have been; "" if it is accepted.
func unfit(element, name, value string) string {
	switch name {
	case "fill", "stroke":
		return oneOf(value, ink, "none")
	case "stroke-linecap":
		return oneOf(value, "butt", "round", "square")
	case "stroke-linejoin":
		return oneOf(value, "miter", "round", "bevel")
	case "font-weight":
		return oneOf(value, "normal", "bold", "400", "600", "700")
	case "text-anchor":
		return oneOf(value, "start", "middle", "end")
	case "font-size":
		if v, ok := number(value); !ok || v < smallest || v > largest {
			return "11 to 13"
		}
		return ""
	case "transform":
		return unfitTransform(value)
	case "d":
		return unfitPath(value)
	case "points", "stroke-dasharray":
		return unfitList(value, "", "numbers")
	case "viewBox", "href":
		return "" // who reads them says more
	}
	if _, ok := number(value); !ok {
		return "a number without a unit"
	}
	return ""
}

func oneOf(value string, accepted ...string) string {
	if slices.Contains(accepted, value) {
		return ""
	}
	return strings.Join(accepted[:len(accepted)-1], ", ") + " or " + accepted[len(accepted)-1]
}

// number reads a plain number, as the attributes of shapes have it.
func number(text string) (float64, bool) {
	if text == "" || strings.Trim(text, "0123456789.-") != "" {
		return 0, false
	}
	v, err := strconv.ParseFloat(text, 64)
	return v, err == nil
}

// unfitList checks numbers between which letters, blanks and commas may stand.
func unfitList(value, letters, want string) string {
	if value == "" || strings.Trim(value, letters+"0123456789.-, \t\r\n") != "" {
		return want
	}
	return ""
}

func unfitPath(value string) string {
	const want = "the data of a path, from an M on"
	if start := strings.TrimLeft(value, blanks); start == "" || start[0] != 'M' && start[0] != 'm' {
		return want
	}
	return unfitList(value, "MmLlHhVvCcSsQqTtAaZz", want)
}

// unfitTransform accepts moving and turning. What stretches would stretch lines
// and letters too.
func unfitTransform(value string) string {
	const want = "translate(x y) or rotate(angle x y), which leave letters and lines as large as they are"
	rest := strings.TrimSpace(value)
	if rest == "" {
		return want
	}
	for rest != "" {
		name, tail, ok := strings.Cut(rest, "(")
		numbers, after, closed := strings.Cut(tail, ")")
		if name = strings.TrimSpace(name); !ok || !closed || name != "translate" && name != "rotate" || unfitList(numbers, "", want) != "" {
			return want
		}
		rest = strings.TrimLeft(after, " ,\t\r\n")
	}
	return ""
}
