// Package svg checks the line drawings that stand beside chapters, so that they
// can be put into a page as they are: in the ink of the page, light or dark, and
// with nothing in them that could load, run or clash.
//
// A drawing is 344 units wide, which is the width of the text on a small
// telephone: what is drawn there at size 12 is read at size 12.
//
// It touches nothing outside the program.
package svg

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"strconv"
	"strings"

	"mereleaf/calculators/markup"
	"mereleaf/cmd/mereleaf/internal/diag"
)

// MaxSize is the largest drawing accepted, in bytes: it is part of its page.
const MaxSize = 20_000

// Width of every drawing, and the most it may be high, so that it stays on one
// sheet of paper. In units of the drawing.
const (
	Width     = 344
	MaxHeight = 700
)

const namespace = "http://www.w3.org/2000/svg"

// Drawing is a checked drawing.
type Drawing struct {
	Height float64 // units; Width is the same for all
	Words  []Words

	root []string // attributes of the root and their values in turn
	body string
}

// Words are those of one text of a drawing, without its tags.
type Words struct {
	Text  string
	Links []Link
	At    diag.Position
}

// Link is an a around a quantity, which says where it comes from. It is not shown.
type Link struct {
	Start, End int    // in the words
	Href       string // as a link of a chapter has it: "pond:ines#volume"
	At         diag.Position
}

// HTML returns the drawing as an element for a page, well-formed as XML too. It
// has no IDs. alt is what a reader is told who cannot see it.
func (d Drawing) HTML(alt string) string {
	var b markup.Builder
	b.Open("svg", append([]string{"class", "drawing", "role", "img", "xmlns", namespace}, d.root...)...)
	b.Leaf("title", alt)
	b.Raw(d.body)
	b.Close()
	return b.String()
}

// Read checks a drawing's file. It returns every fault it finds; what it returns
// with faults must not be shown.
func Read(file string, text []byte) (Drawing, diag.List) {
	text = bytes.TrimPrefix(text, []byte("\uFEFF"))
	r := &reader{file: file, text: text, xml: xml.NewDecoder(bytes.NewReader(text))}
	for r.next() {
	}
	if len(r.faults) == 0 && !r.rooted {
		r.fault(0, "the file holds no drawing", `<svg xmlns="`+namespace+`" viewBox="0 0 344 …">`, "draw it")
	}
	r.drawing.body = r.body.String()
	return r.drawing, r.faults
}

// reader goes once through a file.
type reader struct {
	file    string
	text    []byte
	xml     *xml.Decoder
	faults  diag.List
	drawing Drawing
	body    markup.Builder
	open    []element // that the reader is in
	silent  int       // how many of them are not shown
	words   *Words    // of the text that the reader is in
	rooted  bool
}

type element struct {
	name  string
	sized bool // it or one around it says how large letters are
}

func (r *reader) fault(offset int, problem, want, remedy string) {
	r.faults.Add(diag.Diagnostic{Position: diag.At(r.file, r.text, offset), Problem: problem, Want: want, Remedy: remedy})
}

// next reads on by a tag, or what stands between two; false at the end.
func (r *reader) next() bool {
	at := int(r.xml.InputOffset())
	token, err := r.xml.Token()
	if err != nil {
		if !errors.Is(err, io.EOF) {
			r.broken(err)
		}
		return false
	}
	switch token := token.(type) {
	case xml.StartElement:
		r.start(token, at)
	case xml.EndElement:
		r.end()
	case xml.CharData:
		r.characters(string(token), at)
	case xml.Directive:
		r.fault(at, "there is a <! in the drawing", "elements alone", "remove it")
	case xml.ProcInst:
		if token.Target != "xml" {
			r.fault(at, "there is a <?"+token.Target+" in the drawing", "elements alone", "remove it")
		}
	}
	return true
}

// broken reports where the file ceases to be XML.
func (r *reader) broken(err error) {
	problem := err.Error()
	var syntax *xml.SyntaxError
	if errors.As(err, &syntax) {
		problem = syntax.Msg
	}
	r.fault(int(r.xml.InputOffset()), "the file is not XML: "+problem, "an SVG drawing", "correct it")
}

func (r *reader) start(e xml.StartElement, at int) {
	name := e.Name.Local
	inside := r.inside()
	around := element{}
	if len(r.open) > 0 {
		around = r.open[len(r.open)-1]
	}
	tag := string(r.text[at:r.xml.InputOffset()])
	attributes := r.attributes(e, tag, at)
	r.open = append(r.open, element{name, around.sized || has(attributes, "font-size")})
	r.place(e, inside, at)
	if hidden(name) {
		r.silent++
	}
	if name == "text" && !r.open[len(r.open)-1].sized {
		r.fault(at, "the letters have no size", `font-size="12" on text or on a g around it`, "write it")
	}
	if name == "text" {
		r.words = &Words{At: diag.At(r.file, r.text, at)}
	}
	switch {
	case r.silent > 0:
	case name == "a":
		r.link(attributes, at)
	case inside == "" && name == "svg" && !r.rooted:
		r.rooted = true
		r.root(attributes, at)
	default:
		r.body.Open(name, flat(attributes)...)
	}
}

// inside is the name of the element that the reader is in; "" outside all.
func (r *reader) inside() string {
	if len(r.open) == 0 {
		return ""
	}
	return r.open[len(r.open)-1].name
}

// hidden reports whether an element is for those who look at the file alone: a
// page has the picture's description from its chapter.
func hidden(name string) bool { return name == "title" || name == "desc" }

// place checks whether an element may stand where it does.
func (r *reader) place(e xml.StartElement, inside string, at int) {
	name := e.Name.Local
	switch {
	case name == "svg" && inside != "":
		r.fault(at, "there is a drawing within the drawing", "one svg, around everything", "take it apart")
	case name == "svg" && e.Name.Space != namespace:
		r.fault(at, "the drawing is not said to be SVG", `xmlns="`+namespace+`"`, "write it into the svg tag")
	case name == "svg" && r.rooted:
		r.fault(at, "there is a second drawing in the file", "one", "make a file of it")
	case !known(name) || e.Name.Space != "" && e.Name.Space != namespace:
		r.fault(at, "the element "+name+" is not accepted", elementsWanted, "draw it with those")
	case name != "svg" && inside == "":
		r.fault(at, "the drawing begins with "+name, "svg", "put everything into one svg")
	case !mayHold(inside, name):
		r.fault(at, name+" stands in "+inside, heldBy(inside), "move it out")
	}
}

func (r *reader) end() {
	last := len(r.open) - 1
	name := r.open[last].name
	r.open = r.open[:last]
	switch {
	case hidden(name):
		r.silent--
	case name == "a":
		if r.words != nil && len(r.words.Links) > 0 {
			r.words.Links[len(r.words.Links)-1].End = len(r.words.Text)
		}
	case r.silent == 0 && last > 0:
		r.body.Close()
	}
	if name == "text" && r.words != nil {
		r.drawing.Words = append(r.drawing.Words, *r.words)
		r.words = nil
	}
}

// link takes an a: a page shows what it holds without it.
func (r *reader) link(attributes []attribute, at int) {
	href, ok := find(attributes, "href")
	switch {
	case !ok:
		r.fault(at, "the link leads nowhere", `href="pond:NAME#fact", or calculator: or figure:`, "say where the quantity comes from")
	case r.words != nil:
		start := len(r.words.Text)
		r.words.Links = append(r.words.Links, Link{start, start, href.value, diag.At(r.file, r.text, href.at)})
	}
}

// characters checks and keeps what stands between tags.
func (r *reader) characters(text string, at int) {
	switch inside := r.inside(); {
	case r.silent > 0:
	case inside == "text" || inside == "tspan" || inside == "a":
		r.body.Text(text)
		if r.words != nil {
			r.words.Text += text
		}
	case strings.TrimSpace(text) != "":
		blank := len(text) - len(strings.TrimLeft(text, " \t\r\n"))
		r.fault(at+blank, "there are words outside text", "words in text, tspan or a", "put them into one")
	}
}

// root checks the attributes of the outermost element and keeps them.
func (r *reader) root(attributes []attribute, at int) {
	box, ok := find(attributes, "viewBox")
	if !ok {
		r.fault(at, "the drawing has no viewBox", `viewBox="0 0 344 H", H being its height`, "write it into the svg tag")
	} else {
		r.viewBox(box)
	}
	if _, ok := find(attributes, "fill"); !ok {
		// Black is what a viewer of the file shows; the page may be dark.
		attributes = append(attributes, attribute{name: "fill", value: ink})
	}
	r.drawing.root = flat(attributes)
}

func (r *reader) viewBox(a attribute) {
	f := strings.Fields(a.value)
	if len(f) == 4 && f[0] == "0" && f[1] == "0" && f[2] == strconv.Itoa(Width) {
		if h, ok := number(f[3]); ok && h > 0 && h <= MaxHeight {
			r.drawing.Height = h
			return
		}
	}
	r.fault(a.at, "the viewBox is \""+a.value+"\"", `"0 0 344 H" with a height H of at most `+strconv.Itoa(MaxHeight), "draw at this width")
}
