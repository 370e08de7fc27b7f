package figures

import (
	"strings"
)

// span is what a heading names: one column, or the two columns that hold the
// ends of a range. high equals low for one column.
type span struct {
	low, high int
	whole     bool // named by the stem: a single number stands for both ends
}

// find returns the columns that a name may mean. Several columns of one name
// differ in their unit; the text after the name, if any, is a unit that says
// which: "low [mg/L]".
func (s *Set) find(name string) []span {
	plain := plainName(name)
	var exact, stems []span
	for i, c := range s.Columns {
		if c.called(plain) {
			exact = append(exact, s.span(i))
		}
		if high, stem := s.partner(i); high > i && stem != "" && stem == plain {
			stems = append(stems, span{i, high, true})
		}
	}
	if len(exact) > 0 {
		return exact
	}
	return stems
}

// span returns the column with its partner, if it is the lower end of a range.
func (s *Set) span(i int) span {
	if high, _ := s.partner(i); high >= 0 {
		return span{i, high, false}
	}
	return span{i, i, false}
}

// partner returns the column that holds the upper end to a lower one, and what
// the two are of: "specific surface" for specific_surface_min and _max. It is -1
// if the column is not the lower end of a range.
func (s *Set) partner(i int) (high int, stem string) {
	return s.partners[i].high, s.partners[i].stem
}

type partner struct {
	high int
	stem string
}

func (s *Set) pair() {
	s.partners = make([]partner, len(s.Columns))
	for i, c := range s.Columns {
		s.partners[i] = partner{high: -1}
		words := strings.Fields(c.plain)
		for w, word := range words {
			upper := lowWord(word)
			if upper == "" {
				continue
			}
			rest := append(append([]string{}, words[:w]...), words[w+1:]...)
			want := strings.Join(append(append(append([]string{}, words[:w]...), upper), words[w+1:]...), " ")
			for j, d := range s.Columns {
				if d.plain == want && d.Unit == c.Unit {
					s.partners[i] = partner{j, strings.Join(rest, " ")}
				}
			}
		}
	}
}

// columnNames lists the set's columns of figures for a message.
func (s *Set) columnNames() string {
	names := make([]string, 0, len(s.Columns))
	for _, c := range s.heading[:len(s.heading)-originColumns] {
		names = append(names, c.Text)
	}
	return strings.Join(names, ", ")
}

// isOrigin reports whether a column is one of source, locator, basis, note.
func (s *Set) isOrigin(i int) bool { return i >= len(s.Columns)-originColumns }
