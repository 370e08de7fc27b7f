package tower

import "mereleaf/calculators"

// sheet is a build sheet in the making. Its methods add to the section opened
// last.
type sheet struct{ sections []calculators.Section }

func (s *sheet) open(title string) {
	s.sections = append(s.sections, calculators.Section{Title: title})
}

// steps opens a section of things to do, which have these hazards.
func (s *sheet) steps(title string, hazards calculators.Hazards) {
	s.open(title)
	s.last().Hazards = hazards
}

func (s *sheet) last() *calculators.Section { return &s.sections[len(s.sections)-1] }

// says adds a sentence, line a finding, step a thing to do; the numbers fill the
// gaps of the text.
func (s *sheet) says(text string, numbers ...float64) {
	l := s.last()
	l.Says = append(l.Says, calculators.Text(text, numbers...))
}

func (s *sheet) line(label, text string, numbers ...float64) {
	l := s.last()
	l.Lines = append(l.Lines, calculators.Line{Label: label, Text: calculators.Text(text, numbers...)})
}

func (s *sheet) step(text string, numbers ...float64) {
	l := s.last()
	l.Steps = append(l.Steps, calculators.Text(text, numbers...))
}

// found adds a line with an output of a calculator, if it gave one.
func (s *sheet) found(a *answer, output, label string) {
	if _, ok := a.result.Value(output); !ok {
		return
	}
	l := s.last()
	l.Lines = append(l.Lines, calculators.Line{Label: label, Text: a.shown(output), By: calculators.Call{Name: a.by.ID, Args: a.args}})
}

func (s *sheet) head(cells ...string) { s.last().Head = cells }

func (s *sheet) row(cells ...string) {
	l := s.last()
	l.Rows = append(l.Rows, cells)
}

func (s *sheet) rows() int { return len(s.last().Rows) }
