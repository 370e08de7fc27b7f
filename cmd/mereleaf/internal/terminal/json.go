package terminal

import (
	"bytes"
	"encoding/json"

	"mereleaf/calculators"
)

// The JSON of an answer. Its field names are promised to other programs: add to
// them, never rename. A list without entries is [], never null.
type (
	answerJSON struct {
		ID      string        `json:"id"`
		Values  []valueJSON   `json:"values"`
		Flags   []string      `json:"flags"`
		Advice  []string      `json:"advice"`
		Unfit   bool          `json:"unfit"`
		Working []stepJSON    `json:"working"`
		Scale   scaleJSON     `json:"scale"`
		Sheet   []sectionJSON `json:"sheet"`
		Assumed []inputJSON   `json:"assumed"`

		Cautions []string `json:"cautions"` // of acting on the answer
	}
	valueJSON struct {
		Name  string   `json:"name"`
		Label string   `json:"label"`
		Text  string   `json:"text"`
		Low   string   `json:"low"`
		High  string   `json:"high"`
		Also  []string `json:"also"`
	}
	stepJSON struct {
		Label string `json:"label"`
		Text  string `json:"text"`
	}
	scaleJSON struct {
		Label string     `json:"label"`
		At    float64    `json:"at"`
		Low   float64    `json:"low"`
		High  float64    `json:"high"`
		Marks []markJSON `json:"marks"`
	}
	markJSON struct {
		At      float64 `json:"at"`
		Text    string  `json:"text"`
		Label   string  `json:"label"`
		Source  string  `json:"source"`
		Locator string  `json:"locator"`
		Basis   string  `json:"basis"`
	}
	inputJSON struct {
		Name  string `json:"name"`
		Label string `json:"label"`
		Text  string `json:"text"`
	}
	sectionJSON struct {
		Title   string     `json:"title"`
		Says    []string   `json:"says"`
		Lines   []lineJSON `json:"lines"`
		Head    []string   `json:"head"`
		Rows    [][]string `json:"rows"`
		Steps   []string   `json:"steps"`
		Hazards []string   `json:"hazards"` // of the steps
		Drawing string     `json:"drawing"` // SVG, "" for none
		Prints  []string   `json:"prints"`  // SVG of what prints in true size
	}
	lineJSON struct {
		Label      string    `json:"label"`
		Text       string    `json:"text"`
		Calculator string    `json:"calculator"` // that found it; "" for none
		Given      []argJSON `json:"given"`      // to that calculator
	}
	argJSON struct {
		Name  string `json:"name"`
		Value string `json:"value"`
	}
)

// JSON returns an answer for other programs, with the texts that a page shows but
// for its no-break spaces.
func JSON(c calculators.Calculator, v calculators.View, warn Warn) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	err := e.Encode(answerJSON{
		ID: v.ID, Flags: list(v.Flags), Advice: list(v.Advice), Unfit: v.Unfit, Cautions: list(warn.all(c)),
		Values: each(v.Values, func(s calculators.Shown) valueJSON {
			return valueJSON{s.Name, s.Label, s.Text, s.Low, s.High, list(s.Also)}
		}),
		Working: each(v.Working, func(s calculators.Step) stepJSON { return stepJSON{s.Label, s.Text} }),
		Scale: scaleJSON{v.Scale.Label, v.Scale.At, v.Scale.Low, v.Scale.High, each(v.Scale.Marks, func(m calculators.ShownMark) markJSON {
			return markJSON{m.At, m.Text, m.Label, m.Source, m.Locator, m.Basis}
		})},
		Sheet:   each(v.Sheet, section),
		Assumed: each(v.Assumed, func(s calculators.ShownInput) inputJSON { return inputJSON{s.Name, s.Label, s.Text} }),
	})
	return bytes.ReplaceAll(b.Bytes(), []byte("\u00a0"), []byte(" ")), err
}

func section(s calculators.Section) sectionJSON {
	return sectionJSON{
		Title: s.Title, Says: list(s.Says), Head: list(s.Head), Rows: list(s.Rows), Steps: list(s.Steps), Hazards: each(s.Hazards.List(), func(h calculators.Hazard) string { return string(h) }), Drawing: s.Drawing, Prints: list(s.Prints),
		Lines: each(s.Lines, func(l calculators.Line) lineJSON {
			return lineJSON{l.Label, l.Text, l.By.Name, each(l.By.Args, func(a calculators.Arg) argJSON { return argJSON{a.Name, a.Value} })}
		}),
	}
}

// each changes every entry of a list, and makes one without entries an empty
// list.
func each[A, B any](all []A, change func(A) B) []B {
	out := make([]B, 0, len(all))
	for _, a := range all {
		out = append(out, change(a))
	}
	return out
}

func list[A any](all []A) []A { return each(all, func(a A) A { return a }) }
