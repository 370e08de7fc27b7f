package website

import (
	"html/template"
	"slices"

	"mereleaf/calculators"
	"mereleaf/cmd/mereleaf/internal/paths"
)

// calculators lists the calculators' own leaves.
func (w *web) calculators() []link {
	var links []link
	for _, c := range w.book.Calculators.All() {
		links = append(links, calculatorLink(c))
	}
	return links
}

type reckonListContent struct {
	at
	Parts []partContent // with calculators as Chapters; parts without one left out
}

func (w *web) reckonList() Page {
	f := w.frame(paths.Reckon, "Calculators", "Work out a number for your own pond.", "")
	c := reckonListContent{at: f.at}
	for i, p := range w.book.Parts {
		part := partContent{at: f.at, link: partLink(p), Hue: hue(i)}
		for _, calc := range w.book.Calculators.All() {
			if calc.Part == p.Folder {
				part.Chapters = append(part.Chapters, calculatorLink(calc))
			}
		}
		if len(part.Chapters) > 0 {
			c.Parts = append(c.Parts, part)
		}
	}
	return w.listed(f, "reckon-list.html", c, c.Parts)
}

type reckonContent struct {
	at
	Title, Question string
	Log             string // path of the log of what the calculator weighs; mostly ""
	Form            template.HTML
	Warned          []cautionLine
	Cautions        []string
	Lookup, Chart   template.HTML
	Formulas        []formulaContent
	Agreed          []agreed
}

type formulaContent struct {
	Name, Says string
	Cited      citation
	Math, Code template.HTML
	Legend     template.HTML // what the symbols stand for
}

// reckon is a calculator's own leaf. Calculators are part of the program, so
// within one run it changes with the theme, the module and the ponds alone that
// its example and tables are about.
func (w *web) reckon(c calculators.Calculator) Page {
	f := w.frame(paths.Calculator(c.ID), c.Title, c.Question, c.Part)
	return Page{Path: string(f.at), Key: key(w.base, "reckon.html", c.ID, w.agreedOf(c.ID), c.Example, c.Ready, c.Lookup, c.Chart, w.cautionLines(c.Hazards)), Bytes: func() ([]byte, error) {
		content, err := w.reckonContent(f.at, c)
		if err != nil {
			return nil, err
		}
		return w.print(f, "reckon.html", content)
	}}
}

func (w *web) reckonContent(here at, c calculators.Calculator) (reckonContent, error) {
	r := reckonContent{Warned: w.cautionLines(c.Hazards), at: here, Title: c.Title, Question: c.Question, Cautions: c.Cautions, Agreed: w.agreedOf(c.ID)}
	if c.ID == weighs {
		r.Log = paths.Log
	}
	form, err := w.pad.Form(c, nil, string(here))
	if err != nil {
		return r, err
	}
	lookup, err := w.pad.Lookup(c, c.Lookup)
	if err != nil {
		return r, err
	}
	chart, err := w.pad.Chart(c, c.Chart)
	if err != nil {
		return r, err
	}
	r.Form, r.Lookup, r.Chart = template.HTML(form), template.HTML(lookup), template.HTML(chart)
	var shown []string // functions whose source stands above already
	for _, formula := range c.Formulas {
		fc, err := w.formula(here, formula, slices.Contains(shown, formula.Function))
		if err != nil {
			return r, err
		}
		shown = append(shown, formula.Function)
		r.Formulas = append(r.Formulas, fc)
	}
	return r, nil
}

func (w *web) formula(here at, f calculators.Formula, shown bool) (formulaContent, error) {
	c := formulaContent{Name: f.Name, Says: f.Says, Cited: w.citation(here, f.Source, f.Locator, f.Basis)}
	if f.TeX != "" {
		math, err := w.pad.Math(f.TeX, true)
		if err != nil {
			return c, err
		}
		legend, err := w.pad.Legend(f)
		if err != nil {
			return c, err
		}
		c.Math, c.Legend = template.HTML(math), template.HTML(legend)
	}
	if f.Function != "" && !shown {
		code, err := w.pad.FunctionSource(f.Function)
		if err != nil {
			return c, err
		}
		c.Code = template.HTML(code)
	}
	return c, nil
}
