package markup

import (
	"strconv"
	"strings"

	"mereleaf/calculators/quantity"
)

// placesIn lists those of a text, which may be a bare number of a drawing's or the
// name of its axis.
func (m *marker) placesIn(tag, text string) string {
	l := places{text: text}
	code, from, to := headUnit(text)
	anchor := attribute(tag, "text-anchor")
	switch name := tagName(tag); {
	case name == "desc": // "Feed (g/d) over Water (°C). 5 kg: …"
		end := l.axes()
		l.spans(m, end)
		return l.marks
	case name != "text":
		return m.places(text)
	case strings.Contains(text, lengthsIn):
		l.spans(m, 0)
		from = strings.Index(text, lengthsIn) + len(lengthsIn)
		l.add(from, from+len("mm"), "mm")
	case code != "" && code == m.bare.named(anchor):
		l.add(from, to, code)
	case m.bare.of(anchor) != "":
		s, err := quantity.Read(text)
		if err == nil && s.End == len(text) && !s.HasUnit {
			s.Unit, s.HasUnit = quantity.MustUnit(m.bare.of(anchor)), true
			l.add(0, len(text), m.value(text, s))
			return l.marks
		}
		return m.places(text)
	default:
		return m.places(text)
	}
	return l.marks
}

// lengthsIn is how a drawing says in which unit its bare numbers are.
const lengthsIn = "Lengths\u00a0in\u00a0"

// bare is the units of a drawing's bare numbers: of all of them, or of those at
// the ticks of the axis across and of the upright one.
type bare struct{ all, across, upright string }

// bareUnits finds what a drawing says of its numbers. The name of the axis across
// ends where the drawing does.
func bareUnits(rest string) bare {
	drawing, _, _ := strings.Cut(rest, "</svg>")
	if strings.Contains(unescape(drawing), lengthsIn+"mm") {
		return bare{all: "mm"}
	}
	var b bare
	for {
		_, part, found := strings.Cut(drawing, "<text")
		if !found {
			return b
		}
		tag, text, _ := strings.Cut(part, ">")
		text, _, _ = strings.Cut(text, "<")
		drawing = part
		code, _, _ := headUnit(unescape(text))
		switch end := attribute(" "+tag, "text-anchor") == "end"; {
		case code != "" && end && b.across == "":
			b.across = code
		case code != "" && !end && b.upright == "":
			b.upright = code
		}
	}
}

// of is the unit of a number that is anchored so.
func (b bare) of(anchor string) string {
	switch {
	case b.all != "":
		return b.all
	case anchor == "middle":
		return b.across
	case anchor == "end":
		return b.upright
	}
	return ""
}

// named is the unit of the axis whose name is anchored so.
func (b bare) named(anchor string) string {
	if anchor == "end" {
		return b.across
	}
	return b.upright
}

// places lists the quantities of a text.
func (m *marker) places(text string) string {
	l := places{text: text}
	l.spans(m, 0)
	return l.marks
}

// places is a list of quantities by where they stand in a text.
type places struct{ text, marks string }

func (l *places) add(from, to int, q string) {
	if l.marks != "" {
		l.marks += ";"
	}
	l.marks += strconv.Itoa(utf16Len(l.text[:from])) + "," + strconv.Itoa(utf16Len(l.text[from:to])) + "," + q
}

// spans adds the quantities from an offset on.
func (l *places) spans(m *marker, from int) {
	if !mayHold(l.text) {
		return
	}
	for _, s := range m.words.Scan(l.text) {
		for p := &s; p != nil; p = p.Both {
			if p.Fault == nil && p.Start >= from {
				l.add(p.Start, p.End, m.value(l.text, *p))
			}
		}
	}
}

// axes adds the units in brackets of a first sentence that names the axes, and
// returns where that ends; 0 if there is none.
func (l *places) axes() (end int) {
	end = strings.Index(l.text, "). ") + 1
	for i := 0; i < end; i++ {
		if l.text[i] != '(' {
			continue
		}
		for j := end; j > i+1; j-- {
			if l.text[j-1] != ')' {
				continue
			}
			if u, ok := quantity.UnitNamed(l.text[i+1 : j-1]); ok {
				l.add(i+1, j-1, u.Code)
				i = j - 1
				break
			}
		}
	}
	if l.marks == "" {
		return 0
	}
	return end
}
