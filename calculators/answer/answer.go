// Package answer shows a calculator's answer as HTML. The pages made at build
// time and the WebAssembly module in the reader's browser call the same HTML,
// so an answer that is worked out at the pond looks and reads like the printed
// one.
//
// The fragments hold no style attributes and no paths: a link starts with a
// placeholder, Sources or Reckon, and an id with Pad, which Resolve replaces.
package answer

import (
	"strconv"
	"strings"

	"mereleaf/calculators"
	"mereleaf/calculators/markup"
	"mereleaf/calculators/quantity"
)

// Sources stands in a fragment for the link to the leaf of sources, Reckon for
// the folder of the calculators' leaves, Pad for the id of the pad around it. No
// text can hold them, because braces are escaped.
const (
	Pad     = "{pad}"
	Sources = "{sources}"
	Reckon  = "{reckon}"
)

// Resolve puts the id of the pad, the link to the leaf of sources and that to the
// folder of the calculators' leaves ("../reckon/"), both relative to the page that
// shows the fragment, in place of the placeholders. An empty link makes every
// source a fragment of the page itself.
func Resolve(fragment, pad, sources, reckon string) string {
	return strings.NewReplacer(Pad, markup.Escape(pad), Sources, markup.Escape(sources), Reckon, markup.Escape(reckon)).Replace(fragment)
}

// HTML returns the answer: first, in an element of class found, what the reader
// must see (value, range, scale, advice, doubts; of an unfit answer the advice
// first), then further results, limits, the build sheet, the fine results and the
// working, both folded.
func HTML(v calculators.View) string {
	var b markup.Builder
	b.Open("div", "class", "found", "role", "status")
	if v.Unfit {
		b.Open("div", "class", "unfit")
		advice(&b, v.Advice)
		b.Close()
	}
	if len(v.Values) > 0 {
		main(&b, v.Values[0])
	}
	scale(&b, v.Scale)
	if !v.Unfit {
		advice(&b, v.Advice)
	}
	list(&b, "flags", v.Flags)
	b.Close()
	b.Line()
	coarse, fine := sift(v.Values)
	further(&b, coarse)
	limits(&b, v.Scale.Marks)
	jumps(&b, v.Sheet)
	for i := range v.Sheet {
		section(&b, &v.Sheet[i], i)
	}
	more(&b, fine)
	assumed(&b, v.Assumed)
	working(&b, v.Working)
	return markup.Mark(b.String(), quantity.Grammar{Words: true}) // as the page marks it
}

func main(b *markup.Builder, s calculators.Shown) {
	b.Leaf("p", s.Label, "class", "what")
	// The element around is the status region; a second one would make a screen
	// reader say the value twice.
	b.Leaf("output", s.Text, "role", "presentation")
	if s.Low != "" {
		b.Leaf("p", quantity.Put("likely, and somewhere from {low} to {high}", "low", s.Low, "high", s.High), "class", "range")
	}
	if len(s.Also) > 0 {
		b.Leaf("p", quantity.Put("or {others}", "others", strings.Join(s.Also, ", or ")), "class", "also")
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

// jumps leads to the parts of a sheet that is longer than a few screens.
func jumps(b *markup.Builder, sheet []calculators.Section) {
	if len(sheet) < 4 {
		return
	}
	b.Open("ol", "class", "jumps")
	for i := range sheet {
		b.Open("li")
		b.Raw(`<a href="#` + part(i) + `">` + markup.Escape(sheet[i].Title) + "</a>")
		b.Close()
	}
	b.Close()
	b.Line()
}

// part is the id of a part of the sheet.
func part(i int) string { return Pad + "_part_" + strconv.Itoa(i+1) }

// section shows one part of a build sheet.
func section(b *markup.Builder, s *calculators.Section, i int) {
	b.Raw(`<section class="sheet" id="` + part(i) + `">`)
	b.Leaf("h3", s.Title)
	for _, sentence := range s.Says {
		b.Leaf("p", sentence)
	}
	found(b, s.Lines)
	table(b, s.Head, s.Rows)
	if s.Hazards != "" {
		b.Open("p", "class", "mind")
		b.Leaf("strong", calculators.MindFirst)
		b.Text(" " + string(s.Hazards))
		b.Close()
	}
	if len(s.Steps) > 0 {
		b.Open("ol")
		for _, step := range s.Steps {
			b.Leaf("li", step)
		}
		b.Close()
	}
	if s.Drawing != "" {
		b.Open("figure")
		b.Raw(s.Drawing)
		b.Close()
	}
	prints(b, s.Prints)
	b.Raw("</section>")
	b.Line()
}

// prints folds away what is of use only on paper.
func prints(b *markup.Builder, sheets []string) {
	if len(sheets) == 0 {
		return
	}
	b.Open("details", "class", "prints")
	b.Leaf("summary", "Sheets that print in true size")
	for _, sheet := range sheets {
		b.Raw(sheet)
		b.Line()
	}
	b.Close()
}

// found lists lines, each with a link that opens the calculator behind it.
func found(b *markup.Builder, lines []calculators.Line) {
	if len(lines) == 0 {
		return
	}
	b.Open("dl", "class", "further")
	for i := range lines {
		line := &lines[i]
		b.Leaf("dt", line.Label)
		b.Open("dd")
		if line.By.Name == "" {
			b.Text(line.Text)
		} else {
			b.Raw(`<a class="r" href="` + Reckon + asked(line.By) + `">` + markup.Escape(line.Text) + "</a>")
		}
		b.Close()
	}
	b.Close()
}

// asked is the address of a calculator's leaf with its arguments, below the
// folder of these leaves.
func asked(c calculators.Call) string {
	address := c.Name + ".html"
	for i, a := range c.Args {
		sign := "&amp;"
		if i == 0 {
			sign = "?"
		}
		address += sign + a.Name + "=" + query(a.Value)
	}
	return address
}

// query escapes a value for a query, RFC 3986 section 3.4; the blank as "+".
func query(s string) string {
	const hex = "0123456789ABCDEF"
	var b strings.Builder
	for i := range len(s) {
		c := s[i]
		switch {
		case c == ' ':
			b.WriteByte('+')
		case c >= '0' && c <= '9', c >= 'A' && c <= 'Z', c >= 'a' && c <= 'z', c == '-', c == '.', c == '_', c == '~', c == '/', c == ',':
			b.WriteByte(c)
		default:
			b.WriteByte('%')
			b.WriteByte(hex[c>>4])
			b.WriteByte(hex[c&15])
		}
	}
	return b.String()
}

// table shows a table in a region that scrolls by itself. One of many columns
// names each cell, for a page that is too narrow to show them side by side.
func table(b *markup.Builder, head []string, rows [][]string) {
	if len(head) == 0 {
		return
	}
	class, many := "wide", len(head) > 5
	if many {
		class = "wide many"
	}
	b.Open("div", "class", class, "tabindex", "0", "role", "region", "aria-label", head[0])
	b.Open("table")
	b.Open("thead")
	b.Open("tr")
	for _, h := range head {
		b.Leaf("th", h, "scope", "col")
	}
	b.Close()
	b.Close()
	b.Open("tbody")
	for _, row := range rows {
		b.Open("tr")
		for i, cell := range row {
			switch {
			case i == 0:
				b.Leaf("th", cell, "scope", "row")
			case many:
				b.Leaf("td", cell, "data-head", head[i])
			default:
				b.Leaf("td", cell)
			}
		}
		b.Close()
	}
	b.Close()
	b.Close()
	b.Close()
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
			text = quantity.Put("{likely} ({low} to {high})", "likely", s.Text, "low", s.Low, "high", s.High)
		}
		for _, also := range s.Also {
			text = quantity.Put("{amount}, or {also}", "amount", text, "also", also)
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
		b.Text(" ")
		b.Open("span") // one cell of the row, whatever is marked in it
		b.Text(m.Label)
		switch {
		case m.Basis == "practice":
			b.Text(" (common practice)")
		case m.Basis == "memory":
			b.Text(" (from memory)")
		}
		b.Close()
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
	b.Leaf("p", quantity.Put("Assumed, because not stated: {inputs}.", "inputs", strings.Join(texts, "; ")), "class", "assumed")
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
		b.Text(" " + e.Fault())
		b.Close()
	}
	return b.String()
}
