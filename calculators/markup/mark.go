package markup

import (
	"strconv"
	"strings"

	"mereleaf/calculators/quantity"
)

// Mark returns a fragment with its quantities marked, for the script that shows
// them in the reader's units. It needs no knowledge of English any more:
//
//	<span data-q="9100 L">9,100 L</span>    the values, then the UCUM code
//	<span data-q="18 25 Cel">18 to 25 °C</span>
//	<span data-q="3 K">3 °C</span>          a difference of temperatures
//	<span data-q="84 {hole}">84 holes</span>
//	<span data-q="*6 mm">6 mm</span>        stamped on the thing, and so kept first
//	<span data-q="=28.3 L">28.3 L</span>    stays: the sentence compares units
//	<th>Flow (<span data-q="L/h">L/h</span>)</th>  of the bare numbers below, or beside
//	<table data-units="- L/h">, <tr data-unit="L/h">  of the columns' bare numbers, or a row's
//	<span data-or> (<span data-q="50 [degF]">50 °F</span>)</span>  what stands before it, said again
//
// An element that can hold none, such as the text of a drawing or an option, says
// itself where its quantities stand, in UTF-16 units: data-q="4,6,18 Cel;…", and
// for its label data-l. What is marked already stays as it is; formulas, code,
// workings and sources stay unmarked.
func Mark(fragment string, g quantity.Grammar) string {
	m := marker{in: fragment, b: new(strings.Builder), words: g}
	m.b.Grow(len(fragment) + len(fragment)/8)
	for m.in != "" {
		at := strings.IndexByte(m.in, '<')
		if at < 0 {
			at = len(m.in)
		}
		m.text(m.in[:at])
		if at > 0 {
			m.last = m.in[:at]
		}
		m.in = m.in[at:]
		if m.in != "" {
			m.tag()
		}
	}
	if m.page != nil {
		return m.page.String() + m.b.String() // the fragment ends within a table
	}
	return m.b.String()
}

type marker struct {
	in      string // what is still to come
	b       *strings.Builder
	page    *strings.Builder // what stands before the table that b holds; nil outside
	words   quantity.Grammar
	open    []element
	behind  string // the tag written last
	last    string // the text written last
	link    string // the text of a marked link that has just been closed
	heading string // "K" in a th whose degrees are differences, which its data-u says
	bare    bare   // of the drawing
}

// element is an open element.
type element struct {
	name  string
	skip  bool // its text stays unmarked
	said  bool // it is marked: its text is one quantity
	sized bool // it prints in true size
}

func (m *marker) inside() element {
	if len(m.open) == 0 {
		return element{}
	}
	return m.open[len(m.open)-1]
}

// tag writes the tag that the rest begins with.
func (m *marker) tag() {
	end := tagEnd(m.in)
	tag := m.in[:end]
	m.in = m.in[end:]
	switch name := tagName(tag); {
	case strings.HasPrefix(tag, "</"):
		m.link = ""
		if m.inside().said && name == m.inside().name {
			m.link = unescape(m.last)
		}
		for i := len(m.open) - 1; i >= 0; i-- {
			if m.open[i].name == name {
				m.open = m.open[:i]
				break
			}
		}
	case strings.HasPrefix(tag, "<!"), strings.HasPrefix(tag, "<?"):
	default:
		q := attribute(tag, "data-q")
		e := element{name, m.inside().skip || m.unmarked(tag, name), q != "", m.inside().sized || hasClass(tag, "tile")}
		switch {
		case !e.skip:
			tag = m.within(tag, name)
		case name == "a" && q != "":
			tag = strings.Replace(tag, `data-q="`, `data-q="`+m.mannerOf(q), 1)
		}
		if !strings.HasSuffix(tag, "/>") && !void(name) {
			m.open = append(m.open, e)
		}
		if name == "script" || name == "style" {
			end := strings.Index(m.in, "</"+name)
			end = max(end, 0)
			tag, m.in = tag+m.in[:end], m.in[end:]
		}
	}
	switch name := tagName(tag); {
	case name == "table" && m.page == nil && !strings.HasPrefix(tag, "</"):
		m.page, m.b = m.b, new(strings.Builder)
		m.b.WriteString(tag)
	case name == "table" && m.page != nil && strings.HasPrefix(tag, "</"):
		m.b.WriteString(tag)
		m.page.WriteString(withUnits(m.b.String()))
		m.page, m.b = nil, m.page
	default:
		m.b.WriteString(tag)
	}
	m.behind = tag
}

// within marks what an element says of itself: its label, and its text if that
// can hold no element.
func (m *marker) within(tag, name string) string {
	if label := attribute(tag, "aria-label"); label != "" && attribute(tag, "data-l") == "" {
		tag = withAttribute(tag, "data-l", m.places(unescape(label)))
	}
	switch name {
	case "svg":
		m.bare = bareUnits(m.in)
	case "th", "caption":
		m.heading = attribute(tag, "data-u")
	case "text", "title", "desc", "option":
		if end := strings.IndexByte(m.in, '<'); end > 0 && strings.HasPrefix(m.in[end:], "</"+name) {
			tag = withAttribute(tag, "data-q", m.placesIn(tag, unescape(m.in[:end])))
		}
	}
	return tag
}

// text writes a text with its quantities marked.
func (m *marker) text(raw string) {
	e := m.inside()
	if e.said && e.name == "a" && strings.ContainsAny(raw, " \n") {
		text := unescape(raw)
		for _, s := range m.words.Scan(text) {
			text = text[:s.Start] + joined(text, s) + text[s.End:]
			break // it is the only one
		}
		raw = escapeText(text)
	}
	if e.skip || e.name == "text" || e.name == "title" || e.name == "desc" || e.name == "option" || raw == "" {
		m.b.WriteString(raw)
		return
	}
	head := ""
	from, to := 0, 0
	text := raw
	before := m.link
	m.link = ""
	if mayHold(raw) || m.heads() {
		text = unescape(raw)
		if m.heads() {
			head, from, to = headUnit(text)
		} else if m.inElement("caption") {
			head, from, to = captionUnit(text)
		}
	}
	var spans []quantity.Span
	if mayHold(raw) {
		spans = m.words.Scan(text)
	}
	if len(spans) == 0 && head == "" {
		m.b.WriteString(raw)
		return
	}
	at := m.behindLink(before, text)
	for _, s := range beside(text, spans) {
		if s.Start >= at {
			at = m.span(text, at, s)
		}
	}
	if head != "" && from >= at {
		if head == "Cel" && m.heading != "" {
			head = m.heading
		}
		if head == "mm" && sizes(text) {
			head = "*mm"
		}
		m.b.WriteString(escapeText(text[at:from]))
		m.quantity(text[from:to], head)
		at = to
	}
	m.b.WriteString(escapeText(text[at:]))
}

// beside ties what stands in another unit behind a range in brackets to it: "7.0
// kg (4.6 kg to 9.5 kg), or 16 lb".
func beside(text string, spans []quantity.Span) []quantity.Span {
	kept := spans[:0]
	for i := range spans {
		s := spans[i]
		if n := len(kept); n > 0 && kept[n-1].Both == nil && text[kept[n-1].End:s.Lead] == "), or " && s.Unit.SameDimension(kept[n-1].Unit) {
			kept[n-1].Both = &s
			continue
		}
		kept = append(kept, s)
	}
	return kept
}

// around is a size in a link with the text before and behind it.
type around struct {
	text string
	span quantity.Span
}

// mannerOf is manner for the quantity of a link, whose tag has just been read and
// says what it is.
func (m *marker) mannerOf(q string) string {
	at := strings.LastIndexByte(q, ' ')
	if at < 0 || q[0] == '*' || q[0] == '=' {
		return ""
	}
	code, most := q[at+1:], 0.0
	for _, field := range strings.Fields(q[:at]) {
		if s, err := quantity.Read(field); err == nil {
			most = max(most, greatest(s))
		}
	}
	switch a := m.bound("a"); {
	case few(most, code):
		return "="
	case code == "mm" && len(a.span.Numbers) > 0 && stamped(a.text, a.span):
		return "*"
	}
	return ""
}

// bound reads the quantity in the element whose tag has just been read.
func (m *marker) bound(name string) around {
	inside, rest, ok := strings.Cut(m.in, "</"+name+">")
	behind, _, _ := strings.Cut(rest, "<")
	if !ok || strings.IndexByte(inside, '<') >= 0 {
		return around{}
	}
	a := around{text: unescape(m.last) + unescape(inside) + unescape(behind)}
	for _, s := range m.words.Scan(a.text) {
		if s.Start >= len(unescape(m.last)) {
			a.span = s
			break
		}
	}
	return a
}

// span writes the text from at on and the quantity, and returns where that ends.
func (m *marker) span(text string, at int, s quantity.Span) (end int) {
	if s.Fault != nil {
		return at
	}
	m.b.WriteString(escapeText(text[at:s.Start]))
	m.quantity(joined(text, s), m.value(text, s))
	return m.again(text, s)
}

// behindLink writes what says in other units what the link before a text says, and
// returns where that ends.
func (m *marker) behindLink(link, text string) (end int) {
	if link == "" {
		return 0
	}
	spans := m.words.Scan(link + text)
	if len(spans) == 0 || spans[0].End != len(link) || spans[0].Both == nil {
		return 0
	}
	return m.again(link+text, spans[0]) - len(link)
}

// again writes what says a quantity in other units: " (50 °F)". Between the two may
// stand a word, "10 L bucket (2.6 gal (US))".
func (m *marker) again(text string, s quantity.Span) (end int) {
	if s.Both == nil {
		return s.End
	}
	begin, last := s.Both.Start, s.End
	for other := s.Both; other != nil; other = other.Both {
		last = other.End
	}
	for begin > s.End && strings.IndexByte("( ,", text[begin-1]) >= 0 {
		begin--
		if strings.HasSuffix(text[s.End:begin], " or") {
			begin -= len(" or")
		}
	}
	closed := strings.Count(text[begin:last], "(") > strings.Count(text[begin:last], ")") && strings.HasPrefix(text[last:], ")")
	m.b.WriteString(escapeText(text[s.End:begin]) + `<span data-or="">`)
	end = begin
	for other := s.Both; other != nil; other = other.Both {
		m.b.WriteString(escapeText(text[end:other.Start]))
		m.quantity(joined(text, *other), m.value(text, *other))
		end = other.End
	}
	if closed {
		m.b.WriteByte(')')
		end++
	}
	m.b.WriteString("</span>")
	return end
}

// quantity writes one, its number joined to its unit by a no-break space.
func (m *marker) quantity(text, value string) {
	m.b.WriteString(`<span data-q="` + Escape(value) + `">` + escapeText(text) + "</span>")
}

// value is what a mark says of a quantity.
func (m *marker) value(text string, s quantity.Span) string {
	var b strings.Builder
	b.WriteString(manner(text, s, m.inside().sized))
	for _, n := range s.Numbers {
		b.WriteString(strconv.FormatFloat(n.Value, 'g', -1, 64) + " ")
	}
	switch {
	case s.HasUnit:
		b.WriteString(s.Unit.Code + thing(text, s))
	case s.Noun != "":
		b.WriteString("{" + s.Noun + "}")
	}
	return b.String()
}

// Value is the mark of a text that is one quantity, "0.02 mg/L"; "" if it is none.
// It is for an element that shows the number without its unit.
func Value(text string) string {
	m := marker{}
	for _, s := range m.words.Scan(text) {
		return m.value(text, s)
	}
	return ""
}

// heads reports whether the text heads a column or a row.
func (m *marker) heads() bool { return m.inElement("th") }

// joined is a quantity's text with a no-break space before its unit.
func joined(text string, s quantity.Span) string {
	all, unit := text[s.Start:s.End], text[s.UnitStart:s.UnitEnd]
	if !s.HasUnit || unit == "" {
		return all
	}
	return strings.ReplaceAll(strings.ReplaceAll(all, " "+unit, "\u00a0"+unit), "\n"+unit, "\u00a0"+unit)
}

func (m *marker) inElement(name string) bool {
	for i := len(m.open) - 1; i >= 0; i-- {
		switch m.open[i].name {
		case name:
			return true
		case "tr", "table":
			return false
		}
	}
	return false
}
