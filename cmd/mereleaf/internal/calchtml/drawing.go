package calchtml

import (
	"cmp"
	"strings"

	"mereleaf/calculators"
	"mereleaf/calculators/markup"
)

// Section names the setting of a drawing block that says which drawing is meant.
const Section = "section"

// Drawn says which drawing of a calculator's build sheet to show.
type Drawn struct {
	Given   []calculators.Arg
	Section string // title of the section whose drawing it is, in any case; "" for the first drawing
	Caption string // "" for the section's title
}

// Drawing returns a drawing of a calculator's build sheet under its caption. The
// error is a calculators.InputErrors that names an input, Section, or the
// calculator if it draws nothing.
func (p *Pad) Drawing(c calculators.Calculator, d Drawn) (string, error) {
	v, err := c.Reckon(d.Given)
	if err != nil {
		return "", err
	}
	s, err := drawn(c, v.Sheet, d.Section)
	if err != nil {
		return "", err
	}
	caption, err := caption(c, cmp.Or(d.Caption, s.Title), d.Given)
	if err != nil {
		return "", err
	}
	var b markup.Builder
	b.Open("figure")
	b.Leaf("figcaption", caption)
	b.Raw(s.Drawing)
	return b.String() + "\n", nil
}

// drawn finds the section whose drawing is meant.
func drawn(c calculators.Calculator, sheet []calculators.Section, title string) (calculators.Section, error) {
	var titles []string
	for _, s := range sheet {
		if s.Drawing == "" {
			continue
		}
		if title == "" || strings.EqualFold(s.Title, title) {
			return s, nil
		}
		titles = append(titles, s.Title)
	}
	if len(titles) == 0 {
		return calculators.Section{}, refusal(c.ID, "draws nothing from these inputs", "a calculator whose build sheet has a drawing")
	}
	return calculators.Section{}, refusal(Section, "is \""+title+"\"", "one of "+strings.Join(titles, ", "))
}

func refusal(what, problem, accept string) error {
	return calculators.InputErrors{{Input: what, Problem: problem, Accept: accept}}
}
