package calchtml

import (
	"hash/fnv"
	"net/url"
	"strconv"
	"strings"

	"mereleaf/calculators"
	"mereleaf/calculators/answer"
	"mereleaf/calculators/markup"
	"mereleaf/cmd/mereleaf/internal/page"
	"mereleaf/cmd/mereleaf/internal/paths"
)

// Form returns the calculation pad of a calculator on the leaf here: what is
// given, by presets over the calculator's worked example, and the answer. Two
// pads on one leaf have different ids unless calculator and presets are the
// same. The error says in one line which input was refused and why.
func (p *Pad) Form(c calculators.Calculator, presets []calculators.Arg, here string) (string, error) {
	args := Given(c, presets)
	v, err := reckon(c, args)
	if err != nil {
		return "", err
	}
	f := form{warned: p.Cautions(c.Hazards), c: c, args: args, prefix: prefix(c.ID, presets), here: here}
	if len(v.Sheet) > 0 && here != paths.Calculator(c.ID) {
		// A chapter stays light; the reader's own numbers bring the whole sheet.
		v.Sheet = []calculators.Section{{Title: "The whole sheet", Says: []string{"It stands on this calculator's own leaf, or here once you change a number."}}}
	}
	sources, folder := paths.Relative(here, paths.Sources), paths.Relative(here, paths.Calculator(""))
	folder = strings.TrimSuffix(folder, ".html")
	f.b.Open("section", "class", "pad", "aria-labelledby", f.prefix)
	f.b.Leaf("h2", f.title(), "id", f.prefix)
	f.b.Line()
	f.b.Open("form", "data-calculator", c.ID, "data-sources", sources, "data-reckon", folder, "autocomplete", "off", "novalidate", "novalidate")
	f.b.Line()
	f.note(len(presets) == 0)
	if err := f.given(); err != nil {
		return "", err
	}
	f.b.Open("div", "class", "faults", "role", "status")
	f.b.Close()
	f.b.Line()
	f.b.Open("div", "class", "answer")
	f.b.Line()
	f.b.Raw(answer.Resolve(answer.HTML(v), f.prefix, sources, folder))
	f.b.Close()
	f.b.Line()
	f.cautions()
	f.links()
	return f.b.String() + "\n", nil
}

// prefix starts the ids of a pad: "pad_free-ammonia", with a hash of the
// presets if there are any.
func prefix(id string, presets []calculators.Arg) string {
	if len(presets) == 0 {
		return "pad_" + id
	}
	h := fnv.New32a()
	for _, a := range presets {
		_, _ = h.Write([]byte(a.Name + "=" + a.Value + "\n")) // a hash takes everything
	}
	return "pad_" + id + "_" + strconv.FormatUint(uint64(h.Sum32()), 36)
}

// form is a pad in the making.
type form struct {
	b      markup.Builder
	warned []page.Warned
	c      calculators.Calculator
	args   []calculators.Arg
	prefix string
	here   string
}

// title names the pad, on the calculator's own leaf not by the name that the
// leaf bears already.
func (f *form) title() string {
	if f.here == paths.Calculator(f.c.ID) {
		return "Put in your numbers"
	}
	return f.c.Title
}

// note says whose numbers the pad shows.
func (f *form) note(example bool) {
	f.b.Open("p", "class", "note")
	if example {
		f.b.Leaf("span", "Worked example. "+f.c.Example.Story+" ", "class", "whose")
	} else {
		f.b.Leaf("span", "Worked with the numbers shown. ", "class", "whose")
	}
	f.b.Open("span", "class", "state", "role", "status")
	f.b.Close()
	f.b.Close()
	f.b.Line()
}

func (f *form) given() error {
	f.b.Open("fieldset", "class", "given", "disabled", "disabled")
	f.b.Leaf("legend", "Given")
	f.b.Line()
	f.ready()
	for first := 0; first < len(f.c.Inputs); {
		group, end := f.c.Inputs[first].Group, first+1
		for end < len(f.c.Inputs) && f.c.Inputs[end].Group == group {
			end++
		}
		if err := f.group(group, f.c.Inputs[first:end]); err != nil {
			return err
		}
		first = end
	}
	f.b.Close()
	f.b.Line()
	return nil
}

// ready offers scenarios to start from. What they fill in and tell stands with
// their buttons.
func (f *form) ready() {
	if len(f.c.Ready) == 0 {
		return
	}
	f.b.Open("p", "class", "ready", "hidden", "hidden")
	f.b.Text("Start from:")
	for _, s := range f.c.Ready {
		var query []string
		for _, a := range s.Given {
			query = append(query, a.Name+"="+url.QueryEscape(a.Value))
		}
		f.b.Text(" ")
		f.b.Leaf("button", s.Name, "type", "button", "hidden", "hidden", "data-ready", strings.Join(query, "&"), "data-story", s.Story)
	}
	f.b.Close()
	f.b.Line()
}

// group writes inputs that stand under one heading, "" for none: the fine ones
// that are not stated last, folded.
func (f *form) group(heading string, inputs []calculators.Input) error {
	if heading != "" {
		f.b.Open("fieldset", "class", "group")
		f.b.Leaf("legend", heading)
		f.b.Line()
	}
	var folded []calculators.Input
	for _, d := range inputs {
		if _, stated := calculators.Find(f.args, d.Name); d.Fine && !stated {
			folded = append(folded, d)
			continue
		}
		if err := f.input(d); err != nil {
			return err
		}
	}
	if err := f.fold(folded); err != nil {
		return err
	}
	if heading != "" {
		f.b.Close()
		f.b.Line()
	}
	return nil
}

// fold puts fine points under a line that says what is assumed of them.
func (f *form) fold(inputs []calculators.Input) error {
	if len(inputs) == 0 {
		return nil
	}
	var all []string
	for _, d := range inputs {
		if calculators.Applies(f.c.Inputs, f.args, d) {
			all = append(all, assumed(d))
		}
	}
	f.b.Open("details", "class", "fine")
	f.b.Open("summary")
	f.b.Leaf("span", "Assumed: "+strings.Join(all, "; "), "class", "points")
	f.b.Close()
	f.b.Line()
	for _, d := range inputs {
		if err := f.input(d); err != nil {
			return err
		}
	}
	f.b.Close()
	f.b.Line()
	return nil
}

func (f *form) input(d calculators.Input) error {
	defer f.b.Line()
	value, _ := calculators.Find(f.args, d.Name)
	switch d.Type {
	case calculators.Choice:
		f.choice(d, value)
		return nil
	case calculators.Rows:
		return f.rows(d, value)
	}
	return f.single(d, value)
}

// cautions stand with every answer. The calculator's own leaf prints them in a
// section of their own.
func (f *form) cautions() {
	if f.here == paths.Calculator(f.c.ID) || len(f.c.Cautions)+len(f.warned) == 0 {
		return
	}
	f.b.Open("ul", "class", "cautions")
	for _, w := range f.warned {
		f.b.Open("li")
		f.link(paths.Cautions+"#"+w.Slug, w.Signal())
		f.b.Text(" " + w.Line)
		f.b.Close()
	}
	for _, s := range f.c.Cautions {
		f.b.Leaf("li", s)
	}
	f.b.Close()
	f.b.Line()
}

// links lead to where the answer comes from.
func (f *form) links() {
	own := paths.Calculator(f.c.ID)
	f.b.Open("p", "class", "links")
	if f.here != own {
		f.link(own, "This calculator's own leaf")
		f.b.Text(" ")
	}
	f.link(own+"#formulas", "Formulas and their code")
	seen := map[string]bool{"": true}
	for _, m := range f.c.Formulas {
		if !seen[m.Source] {
			seen[m.Source] = true
			f.b.Text(" ")
			f.link(paths.Sources+"#"+m.Source, "Source: "+m.Name)
		}
	}
	f.b.Close()
}

func (f *form) link(to, text string) {
	f.b.Leaf("a", text, "href", paths.Relative(f.here, to))
}
