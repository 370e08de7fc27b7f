package terminal

import (
	"fmt"
	"strings"

	"mereleaf/calculators"
)

// Options are what a reader may ask for beyond the answer.
type Options struct {
	Working bool // also how it was worked out, step by step
}

// Answer returns the text of an answer, which ends in a line break.
func Answer(c calculators.Calculator, v calculators.View, cite Cite, warn Warn, o Options) string {
	s := &sheet{}
	refs := &references{cite: cite}
	s.heading(c.Title)
	if v.Unfit {
		s.list("What to change first", v.Advice)
	}
	s.heading("Answer")
	s.values(v.Values[:min(len(v.Values), 1)])
	s.scale(v.Scale, refs)
	if !v.Unfit {
		s.list("What to do", v.Advice)
	}
	s.list("Take note", v.Flags)
	if len(v.Values) > 1 {
		s.heading("Found on the way")
		s.values(v.Values[1:])
	}
	for _, section := range v.Sheet {
		s.section(section)
	}
	if o.Working {
		s.working(v.Working)
	}
	s.assumed(v.Assumed)
	s.formulas(c.Formulas, refs)
	s.list("Caution", warn.all(c))
	s.sources(refs)
	return s.String()
}

// values prints each quantity with its range, and what it is.
func (s *sheet) values(values []calculators.Shown) {
	numbers, ranges := column{}, 0
	for _, v := range values {
		numbers.fit(v.Text)
		ranges = max(ranges, length(spread(v)))
	}
	for _, v := range values {
		lead := "  " + numbers.set(v.Text) + "  "
		if ranges > 0 {
			lead += padRight(spread(v), ranges) + "  "
		}
		label := v.Label
		if len(v.Also) > 0 {
			label += " (" + strings.Join(v.Also, ", ") + ")"
		}
		s.hang(lead, label)
	}
}

// spread prints the range behind a likely value; the unit stands in the value.
func spread(v calculators.Shown) string {
	if v.Low == "" {
		return ""
	}
	low, _, _ := strings.Cut(v.Low, "\u00a0")
	high, _, _ := strings.Cut(v.High, "\u00a0")
	return "(" + low + " to " + high + ")"
}

// scale writes the limits as a ladder, least first, with the answer on its
// rung: a line drawn for people who cannot see one.
func (s *sheet) scale(v calculators.ShownScale, refs *references) {
	if len(v.Marks) == 0 {
		return
	}
	s.heading("Where that stands, from low to high")
	numbers := column{}
	for _, m := range v.Marks {
		numbers.fit(m.Text)
	}
	answered := false
	answer := func() {
		s.hang("> ", v.Label+" — your answer")
		answered = true
	}
	for _, m := range v.Marks {
		if !answered && v.At < m.At {
			answer()
		}
		s.hang("  "+numbers.set(m.Text)+"  ", m.Label+" ("+refs.origin(m.Source, "", m.Basis)+")")
	}
	if !answered {
		answer()
	}
}

func (s *sheet) list(heading string, sentences []string) {
	if len(sentences) == 0 {
		return
	}
	s.heading(heading)
	for _, sentence := range sentences {
		s.hang("  - ", sentence)
	}
}

// section prints one part of a build sheet, but for its drawing.
func (s *sheet) section(part calculators.Section) {
	s.heading(part.Title)
	for _, sentence := range part.Says {
		s.hang("  ", sentence)
	}
	labels := 0
	for _, line := range part.Lines {
		labels = max(labels, length(line.Label))
	}
	for _, line := range part.Lines {
		s.hang("  "+padRight(line.Label, min(labels, width/2))+"  ", line.Text)
	}
	s.table(part.Head, part.Rows)
	if part.Hazards != "" {
		s.hang("  ", calculators.MindFirst+" "+string(part.Hazards))
	}
	for i, step := range part.Steps {
		s.hang(fmt.Sprintf("  %2d. ", i+1), step)
	}
	if len(part.Prints) > 0 {
		s.hang("  ", "To print in true size: see this calculator's page.")
	}
	if part.Drawing != "" && len(part.Says)+len(part.Lines)+len(part.Steps)+len(part.Rows) == 0 {
		s.hang("  ", "A drawing: see this calculator's page.")
	}
}

// table prints a table that fits the width in columns, any other as a block of
// labelled lines for each row.
func (s *sheet) table(head []string, rows [][]string) {
	if len(head) == 0 {
		return
	}
	widths, whole := make([]int, len(head)), 0
	for i, h := range head {
		widths[i] = length(h)
		for _, row := range rows {
			widths[i] = max(widths[i], length(row[i]))
		}
		whole += widths[i] + 2
	}
	if whole > width {
		s.blocks(head, rows)
		return
	}
	for _, row := range append([][]string{head}, rows...) {
		line := ""
		for j, cell := range row {
			if j > 0 {
				line += "  " + padLeft(cell, widths[j])
			} else {
				line += "  " + padRight(cell, widths[j])
			}
		}
		s.lines = append(s.lines, strings.TrimRight(line, " "))
	}
}

func (s *sheet) blocks(head []string, rows [][]string) {
	for _, row := range rows {
		s.hang("  ", row[0])
		for i := 1; i < len(row); i++ {
			s.hang("    "+head[i]+": ", row[i])
		}
	}
}

func (s *sheet) working(steps []calculators.Step) {
	if len(steps) == 0 {
		return
	}
	s.heading("How it is worked out")
	for i, step := range steps {
		s.hang(fmt.Sprintf("  %d. ", i+1), step.Label+": "+step.Text)
	}
}

func (s *sheet) assumed(inputs []calculators.ShownInput) {
	if len(inputs) == 0 {
		return
	}
	s.heading("Assumed, because you did not say")
	for _, in := range inputs {
		s.hang("  - ", in.Label+": "+in.Text+" ("+in.Name+"=… to change it)")
	}
}

func (s *sheet) formulas(formulas []calculators.Formula, refs *references) {
	s.heading("Reckoned by")
	for _, f := range formulas {
		s.hang("  - ", f.Name+": "+f.Says+" ("+refs.origin(f.Source, f.Locator, f.Basis)+")")
	}
}
