// Package answer shows a calculator's answer as HTML. The pages made at build
// time and the WebAssembly module in the reader's browser call the same HTML,
// so an answer that is worked out at the pond looks and reads like the printed
// one.
//
// The fragments hold no ids, no style attributes and no paths: a link to a
// source starts with the placeholder Sources, which Resolve replaces.
package answer

import (
	"strings"

	"mereleaf/calculators"
	"mereleaf/calculators/markup"
)

// Sources stands in a fragment for the link to the leaf of sources. No text can
// hold it, because braces are escaped.
const Sources = "{sources}"

// Resolve puts the link to the leaf of sources, relative to the page that shows
// the fragment, in place of the placeholder. An empty link makes every source a
// fragment of the page itself.
func Resolve(fragment, sources string) string {
	return strings.ReplaceAll(fragment, Sources, markup.Escape(sources))
}

// HTML returns the answer: first, in an element of class found, what the reader
// must see (value, range, scale, advice, doubts), then further results, limits,
// the fine results and the working, both folded.
func HTML(v calculators.View) string {
	var b markup.Builder
	b.Open("div", "class", "found", "role", "status")
	if len(v.Values) > 0 {
		main(&b, v.Values[0])
	}
	scale(&b, v.Scale)
	advice(&b, v.Advice)
	list(&b, "flags", v.Flags)
	b.Close()
	b.Line()
	coarse, fine := sift(v.Values)
	further(&b, coarse)
	limits(&b, v.Scale.Marks)
	more(&b, fine)
	assumed(&b, v.Assumed)
	working(&b, v.Working)
	return b.String()
}

func main(b *markup.Builder, s calculators.Shown) {
	b.Leaf("p", s.Label, "class", "what")
	// The element around is the status region; a second one would make a screen
	// reader say the value twice.
	b.Leaf("output", s.Text, "role", "presentation")
	if s.Low != "" {
		b.Leaf("p", "likely, and somewhere from "+s.Low+" to "+s.High, "class", "range")
	}
	if len(s.Also) > 0 {
		b.Leaf("p", "or "+strings.Join(s.Also, ", or "), "class", "also")
	}
}

func advice(b *markup.Builder, sentences []string) {
	for i, s := range sentences {
		class := ""
		if i == 0 {
			class = "say"
		}
		b.Leaf("p", s, "class", class)
	}
}

func list(b *markup.Builder, class string, items []string) {
	if len(items) == 0 {
		return
	}
	b.Open("ul", "class", class)
	for _, s := range items {
		b.Leaf("li", s)
	}
	b.Close()
}

// sift parts the results behind the answer into those always shown and the fine
// ones.
func sift(values []calculators.Shown) (coarse, fine []calculators.Shown) {
	for i, s := range values {
		switch {
		case i == 0:
		case s.Fine:
			fine = append(fine, s)
		default:
			coarse = append(coarse, s)
		}
	}
	return coarse, fine
}

// more folds the fine results away.
func more(b *markup.Builder, values []calculators.Shown) {
	if len(values) == 0 {
		return
	}
	b.Open("details", "class", "more")
	b.Leaf("summary", "More from these numbers")
	further(b, values)
	b.Close()
	b.Line()
}

func further(b *markup.Builder, values []calculators.Shown) {
	if len(values) == 0 {
		return
	}
	b.Open("dl", "class", "further")
	for _, s := range values {
		b.Leaf("dt", s.Label)
		text := s.Text
		if s.Low != "" {
			text += " (" + s.Low + " to " + s.High + ")"
		}
		for _, also := range s.Also {
			text += ", or " + also
		}
		b.Leaf("dd", text)
	}
	b.Close()
	b.Line()
}

// limits names the marks of the scale, which has room for their values only.
func limits(b *markup.Builder, marks []calculators.ShownMark) {
	if len(marks) == 0 {
		return
	}
	b.Open("ul", "class", "limits")
	for _, m := range marks {
		b.Open("li")
		class := basisClass(m.Basis)
		if m.Source != "" {
			b.Raw(sourceLink(m.Source, class, m.Text))
		} else {
			b.Leaf("span", m.Text, "class", class)
		}
		b.Text(" " + m.Label)
		switch {
		case m.Basis == "practice":
			b.Text(" (common practice)")
		case m.Basis == "memory":
			b.Text(" (from memory)")
		}
		b.Close()
	}
	b.Close()
	b.Line()
}

// sourceLink is the one place that writes the placeholder unescaped.
func sourceLink(key, class, text string) string {
	return `<a class="` + class + `" href="` + Sources + "#" + markup.Escape(key) + `">` + markup.Escape(text) + "</a>"
}

// basisClass is the class that draws a number's origin: p published, k common
// practice, m from memory.
func basisClass(basis string) string {
	switch basis {
	case "practice":
		return "k"
	case "memory":
		return "m"
	}
	return "p"
}

func assumed(b *markup.Builder, inputs []calculators.ShownInput) {
	if len(inputs) == 0 {
		return
	}
	texts := make([]string, len(inputs))
	for i, in := range inputs {
		texts[i] = in.Label + " " + in.Text
	}
	b.Leaf("p", "Assumed, because not stated: "+strings.Join(texts, "; ")+".", "class", "assumed")
	b.Line()
}

func working(b *markup.Builder, steps []calculators.Step) {
	if len(steps) == 0 {
		return
	}
	b.Open("details", "class", "working")
	b.Leaf("summary", "How it is worked out")
	b.Open("ol")
	for _, s := range steps {
		b.Open("li")
		b.Leaf("b", s.Label)
		b.Text(" ")
		b.Leaf("span", s.Text)
		b.Close()
	}
	b.Close()
	b.Close()
	b.Line()
}

// Errors returns what is wrong with the inputs and that the answer shown does
// not belong to them.
func Errors(errs calculators.InputErrors) string {
	if len(errs) == 0 {
		return ""
	}
	var b markup.Builder
	b.Leaf("p", "Not updated. The answer below belongs to the earlier numbers.", "class", "stale")
	b.Open("ul")
	for _, e := range errs {
		b.Open("li")
		b.Leaf("b", e.Input)
		b.Text(" " + Fault(e))
		b.Close()
	}
	return b.String()
}

// Fault says what is wrong with one input, without its name.
func Fault(e calculators.InputError) string {
	s := e.Problem
	if e.Accept != "" {
		s += "; expected " + e.Accept
	}
	if e.Remedy != "" {
		s += "; " + e.Remedy
	}
	return s
}
