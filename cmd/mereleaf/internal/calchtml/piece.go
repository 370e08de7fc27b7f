package calchtml

import (
	"strings"

	"mereleaf/calculators"
	"mereleaf/calculators/markup"
)

// Piece returns the steps, or the drawing, of one section of the build sheet of a
// calculator's example, under the section's title, and says whose example it is.
// The section is named by its title in lower case with hyphens. The error is a
// calculators.InputErrors, as of Drawing.
func (p *Pad) Piece(c calculators.Calculator, section string, drawing bool) (string, error) {
	v, err := c.Reckon(c.Example.Given)
	if err != nil {
		return "", err
	}
	s, err := piece(c.ID, v.Sheet, section, drawing)
	if err != nil {
		return "", err
	}
	var b markup.Builder
	b.Leaf("h3", s.Title)
	b.Leaf("p", "Worked for an example: "+c.Example.Story, "class", "example")
	if drawing {
		b.Open("figure")
		b.Raw(s.Drawing)
		b.Close()
		return b.String() + "\n", nil
	}
	for _, w := range p.Cautions(s.Hazards.List()) {
		b.Raw(w.LineHTML())
	}
	b.Open("ol")
	for _, step := range s.Steps {
		b.Leaf("li", step)
	}
	return b.String() + "\n", nil
}

func piece(id string, sheet []calculators.Section, name string, drawing bool) (calculators.Section, error) {
	var names []string
	for _, s := range sheet {
		if drawing && s.Drawing == "" || !drawing && len(s.Steps) == 0 {
			continue
		}
		own := strings.ReplaceAll(strings.ToLower(s.Title), " ", "-")
		if own == name {
			return s, nil
		}
		names = append(names, own)
	}
	if len(names) == 0 {
		return calculators.Section{}, refusal(id, "has none in its example", "a calculator with a build sheet")
	}
	return calculators.Section{}, refusal(Section, "is \""+name+"\"", "one of "+strings.Join(names, ", "))
}
