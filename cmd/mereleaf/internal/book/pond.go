package book

import (
	"strings"

	"mereleaf/calculators"
	"mereleaf/cmd/mereleaf/internal/page"
)

// pond takes the settings that name a pond of the handbook, and a day of its
// log, out of those of a block: pond = ines, on = 2025-07-11. The facts are nil
// if it names none. A setting may then be one of them: water = {volume}.
func (c *composer) pond() (rest []page.Setting, known *calculators.Known) {
	var pond, day *page.Setting
	for i := range c.block.Settings {
		switch s := &c.block.Settings[i]; s.Name {
		case calculators.PondSetting:
			pond = s
		case calculators.DaySetting:
			day = s
		default:
			rest = append(rest, *s)
		}
	}
	if pond == nil {
		if day != nil {
			c.fault(day.Pos, "the block names a day, but no pond", "pond = NAME", "name the pond whose log has the day")
		}
		return rest, nil
	}
	p, ok := c.book.Ponds.Find(pond.Value)
	if !ok {
		c.fault(pond.ValuePos, "the pond "+pond.Value+" is unknown", "one of "+strings.Join(c.book.Ponds.Names(), ", "), "correct the name, or add its record")
		return rest, nil
	}
	if day == nil {
		all, _ := p.On("")
		return rest, &all
	}
	all, ok := p.On(day.Value)
	if !ok {
		c.fault(day.ValuePos, "the pond "+p.Name+" has no single reading on "+day.Value, "one of "+strings.Join(p.Days(), ", "), "correct the day, or add the reading to its log")
	}
	return rest, &all
}

// about puts what a block says over what is known of its pond, or if it names
// none, over what the calculator declares for itself.
func (c *composer) about(calc calculators.Calculator, declared []calculators.Arg, settings []page.Setting, known *calculators.Known) []calculators.Arg {
	given := c.inputs(calc, settings)
	if known != nil {
		given, declared = c.book.Calculators.Quoted(given, *known), known.Args(calc)
	}
	return calc.Over(given, declared)
}
