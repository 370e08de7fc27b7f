package quantities

import (
	"strings"

	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/page"
)

// Unbound reports every quantity of stretches of a file that stands in no link to
// a source, with the links that it might be. Captions of blocks are among the
// stretches of their file.
func (b *Binder) Unbound(doc *page.Document, stretches ...page.Stretch) diag.List {
	var faults diag.List
	var near *nearby
	for _, s := range stretches {
		for _, q := range b.loose(s) {
			if near == nil {
				near = b.around(doc)
			}
			faults.Add(diag.Diagnostic{Position: s.Pos(q.Start), Problem: "the quantity " + quoted(s.Text, q) + " is bound to nothing",
				Want: "a link to its source: figure:, calculator: or pond:", Remedy: near.remedy(s, q)})
		}
	}
	return faults
}

// Captions reports the quantities that stand in the captions of a file's blocks:
// they are gaps, which the program fills.
func (b *Binder) Captions(doc *page.Document) diag.List {
	var faults diag.List
	for _, block := range doc.Blocks {
		for _, set := range block.Settings {
			if set.Name != "caption" {
				continue
			}
			for _, q := range b.Nouns.Grammar().Scan(withoutGaps(set.Value)) {
				d := diag.Diagnostic{Position: set.ValuePos, Problem: "the caption says " + quoted(set.Value, q), Want: "a gap for it, such as {temperature}",
					Remedy: "put the name of an input or a result of " + block.Name + " in braces"}
				d.Column += q.Start
				faults.Add(d)
			}
		}
	}
	return faults
}

// Bare reports the quantities of a text that can hold no link.
func (b *Binder) Bare(text string, at diag.Position) diag.List {
	var faults diag.List
	for _, q := range b.Nouns.Grammar().Scan(text) {
		faults.Add(diag.Diagnostic{Position: at, Problem: "the quantity " + quoted(text, q) + " stands where no link can bind it", Want: "words", Remedy: "say it without the number"})
	}
	return faults
}

// withoutGaps puts the gaps of a caption out of sight.
func withoutGaps(caption string) string {
	text, inside := []byte(caption), false
	for i, c := range text {
		inside = inside || c == '{'
		if inside {
			text[i] = 0
		}
		inside = inside && c != '}'
	}
	return string(text)
}

// quoted is a quantity as its text has it, on one line.
func quoted(text string, q quantity.Span) string {
	return strings.Join(strings.Fields(text[q.Start:q.End]), " ")
}

// loose lists the quantities of a stretch outside links that bind. What those
// links say is put out of sight first, so that "10 °C (50 °F)" with a link for
// the former shows the latter.
func (b *Binder) loose(s page.Stretch) []quantity.Span {
	text := []byte(s.Text)
	for _, l := range s.Links {
		if l.Ref.Quantity() {
			for i := l.Start; i < l.End; i++ {
				text[i] = 0
			}
		}
	}
	var all []quantity.Span
	for _, q := range b.Nouns.Grammar().Scan(string(text)) {
		all = append(all, b.parts(string(text), q)...)
	}
	return all
}

// parts lists a quantity, what says it again in other units, and a size between
// its number and its noun: "two 6 mm holes".
func (b *Binder) parts(text string, q quantity.Span) []quantity.Span {
	all := []quantity.Span{q}
	if q.Noun != "" && q.UnitStart > q.NumEnd {
		for _, inner := range b.Nouns.Grammar().Scan(text[q.NumEnd:q.UnitStart]) {
			inner.Start, inner.End = inner.Start+q.NumEnd, inner.End+q.NumEnd
			all = append(all, inner)
		}
	}
	if q.Both != nil {
		all = append(all, b.parts(text, *q.Both)...)
	}
	return all
}
