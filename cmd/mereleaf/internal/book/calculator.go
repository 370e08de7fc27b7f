package book

import (
	"cmp"
	"crypto/sha256"
	"errors"
	"net/url"
	"strings"

	"mereleaf/calculators"
	"mereleaf/cmd/mereleaf/internal/calchtml"
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/page"
	"mereleaf/cmd/mereleaf/internal/paths"
	"mereleaf/cmd/mereleaf/internal/verify/quantities"
)

// calculator resolves a link to a calculator with inputs.
func (l *linker) calculator(r *page.Reference) page.Link {
	call, fault := l.book.call(r)
	if fault != nil {
		l.out.faults.Add(*fault)
		return page.Link{}
	}
	query := url.Values{}
	for _, a := range call.Query {
		query.Add(a.Name, a.Value)
	}
	href := l.to(paths.Calculator(r.Target))
	if len(query) > 0 {
		href += "?" + query.Encode()
	}
	return page.Link{Href: href, Class: "calculator"}
}

// call asks the calculator of a link: a link must not open a pad that refuses its
// own values.
func (b *Book) call(r *page.Reference) (quantities.Call, *diag.Diagnostic) {
	d := &diag.Diagnostic{Position: r.Pos}
	c, ok := b.Calculators.Find(r.Target)
	if !ok {
		d.Problem, d.Want, d.Remedy = "the calculator "+r.Target+" is unknown", "one that mereleaf reckon lists", didYouMean(r.Target, calculatorIDs(b.Calculators))
		return quantities.Call{}, d
	}
	call, fault := b.state.binder.Call(c, r)
	if fault != nil {
		return call, fault
	}
	if err := b.state.binder.Ask(c, call); err != nil {
		d.Problem, d.Remedy = "the calculator "+c.ID+" refuses the link's inputs: "+oneLine(err), "correct them"
		return call, d
	}
	return call, nil
}

func oneLine(err error) string { return strings.ReplaceAll(err.Error(), "\n", "; ") }

func calculatorIDs(set calculators.Set) []string {
	var ids []string
	for _, c := range set.All() {
		ids = append(ids, c.ID)
	}
	return ids
}

// compose makes the fragments of a document's fenced blocks.
func (b *Book) compose(doc *page.Document, where string) *fragments {
	x := &fragments{memo: b.state.memo}
	var shown []byte
	for _, block := range doc.Blocks {
		c := &composer{book: b, block: block, place: where}
		f := c.compose()
		x.html = append(x.html, f.html)
		shown = append(shown, f.digest[:]...)
		x.faults = append(x.faults, c.faults...)
	}
	x.shown = sha256.Sum256(shown)
	return x
}

// composer makes the fragment of one block.
type composer struct {
	book   *Book
	block  *page.Block
	place  string
	faults diag.List
}

func (c *composer) fault(at diag.Position, problem, want, remedy string) {
	c.faults.Add(diag.Diagnostic{Position: at, Problem: problem, Want: want, Remedy: remedy})
}

// compose returns the block's fragment; an empty one if it has faults.
func (c *composer) compose() *fragment {
	if c.block.Kind == page.MathBlock {
		return c.memoised(c.block.TeX, func() (string, error) { return c.book.state.pad.Math(c.block.TeX, true) })
	}
	calc, ok := c.book.Calculators.Find(c.block.Name)
	if !ok {
		c.fault(c.block.NamePos, "the calculator "+c.block.Name+" is unknown", "one that mereleaf reckon lists", didYouMean(c.block.Name, calculatorIDs(c.book.Calculators)))
		return &fragment{}
	}
	p := c.book.state.pad
	var write func() (string, error)
	switch c.block.Kind {
	default:
		presets := c.presets(calc)
		write = func() (string, error) { return c.form(calc, presets) }
	case page.LookupBlock:
		lookup := c.lookup(calc)
		write = func() (string, error) {
			html, err := p.Lookup(calc, lookup)
			return c.withOrigin(calc, html), err
		}
	case page.ChartBlock:
		chart := c.chart(calc)
		write = func() (string, error) {
			html, err := p.Chart(calc, chart)
			return c.withOrigin(calc, html), err
		}
	case page.DrawingBlock:
		drawing := c.drawing(calc)
		write = func() (string, error) {
			html, err := p.Drawing(calc, drawing)
			return c.withOrigin(calc, html), err
		}
	}
	// All of them link to other leaves, so they differ from folder to folder.
	return c.memoised(folderOf(c.place)+c.signature(), write)
}

// withOrigin puts under a table, chart or drawing where its numbers come from.
func (c *composer) withOrigin(calc calculators.Calculator, html string) string {
	if html == "" {
		return ""
	}
	return html + c.book.state.pad.Origin(calc, c.place)
}

func folderOf(where string) string {
	folder, _, _ := strings.Cut(where, "/")
	return folder + "\x00"
}

// signature is the block's content.
func (c *composer) signature() string {
	var b strings.Builder
	b.WriteString(c.block.Name)
	for _, s := range c.block.Settings {
		b.WriteString("\x00" + s.Name + "\x00" + s.Value)
	}
	return b.String()
}

// memoised returns a fragment made once for each content. A block with faults
// is not made.
func (c *composer) memoised(content string, make func() (string, error)) *fragment {
	if len(c.faults) > 0 {
		return &fragment{}
	}
	f := c.book.state.fragment(string(c.block.Kind)+"\x00"+content, make)
	if f.err != nil {
		c.refused(f.err)
	}
	return f
}

// refused reports what a calculator or the mathematics refused, at the setting
// concerned where it is known.
func (c *composer) refused(err error) {
	var inputs calculators.InputErrors
	if !errors.As(err, &inputs) {
		c.fault(c.block.Pos, oneLine(err), "", "correct the block")
		return
	}
	for _, e := range inputs {
		c.fault(c.blamed(e.Input), e.Input+" "+e.Problem, e.Accept, cmp.Or(e.Remedy, "correct the block"))
	}
}

// blamed returns the place of the setting that an input's refusal concerns: of
// its name if the calculator has no such input, else of its value.
func (c *composer) blamed(input string) diag.Position {
	for _, s := range c.block.Settings {
		if s.Name != input && !strings.HasPrefix(input, s.Name+" ") {
			continue
		}
		calc, _ := c.book.Calculators.Find(c.block.Name)
		if _, ok := calc.Input(s.Name); !ok && s.Name != calchtml.Section {
			return s.Pos
		}
		return s.ValuePos
	}
	return c.block.NamePos
}

// presets reads the settings of a pad as inputs. About a pond they stand in the
// place of the worked example's.
func (c *composer) presets(calc calculators.Calculator) []calculators.Arg {
	settings, known := c.pond()
	var presets []calculators.Arg
	for _, s := range settings {
		presets = append(presets, calculators.Arg{Name: s.Name, Value: s.Value})
	}
	if known != nil {
		presets = calc.Instead(calc.Over(c.book.Calculators.Quoted(presets, *known), known.Args(calc)), calc.Example.Given)
	}
	return presets
}

// form makes the pad. It reckons first itself, because the refusal then says
// which input it concerns.
func (c *composer) form(calc calculators.Calculator, presets []calculators.Arg) (string, error) {
	if _, err := calc.Reckon(calchtml.Given(calc, presets)); err != nil {
		return "", err
	}
	return c.book.state.pad.Form(calc, presets, c.place)
}

// lookup reads a lookup block: the calculator's own table, changed by the
// block's settings.
func (c *composer) lookup(calc calculators.Calculator) calculators.Lookup {
	l := calc.Lookup
	var given []page.Setting
	settings, pond := c.pond()
	for _, s := range settings {
		switch s.Name {
		case "rows":
			l.Rows = c.axis(calc, s)
		case "columns":
			l.Columns = c.axis(calc, s)
		case "show":
			l.Show = c.outputs(calc, s)
		case "caption":
			l.Caption = s.Value
		default:
			given = append(given, s)
		}
	}
	if l.Columns.Input != "" && len(l.Show) != 1 && len(c.faults) == 0 {
		c.fault(c.block.NamePos, "the table has columns of an input and shows several outputs", "one output", "set show = to one of them")
	}
	l.Given = c.about(calc, l.Given, given, pond)
	l.Caption = c.caption(calc, l.Caption, l.Given)
	return l
}

// chart reads a chart block in the same way.
func (c *composer) chart(calc calculators.Calculator) calculators.Chart {
	ch := calc.Chart
	var given []page.Setting
	settings, pond := c.pond()
	for _, s := range settings {
		switch s.Name {
		case "x":
			ch.X, ch.From, ch.To = c.span(calc, s)
		case "series":
			ch.Series = c.axis(calc, s)
		case "show":
			if names := c.outputs(calc, s); len(names) > 0 {
				ch.Show = names[0]
			}
		case "caption":
			ch.Caption = s.Value
		default:
			given = append(given, s)
		}
	}
	ch.Given = c.about(calc, ch.Given, given, pond)
	ch.Caption = c.caption(calc, ch.Caption, ch.Given)
	return ch
}

// drawing reads a drawing block: inputs over those of the calculator's example.
func (c *composer) drawing(calc calculators.Calculator) calchtml.Drawn {
	var d calchtml.Drawn
	var given []page.Setting
	settings, pond := c.pond()
	for _, s := range settings {
		switch s.Name {
		case calchtml.Section:
			d.Section = s.Value
		case "caption":
			d.Caption = s.Value
		default:
			given = append(given, s)
		}
	}
	d.Given = c.about(calc, calc.Example.Given, given, pond)
	d.Caption = c.caption(calc, d.Caption, d.Given)
	return d
}

// caption fills the gaps of a caption with the block's inputs and results.
func (c *composer) caption(calc calculators.Calculator, text string, given []calculators.Arg) string {
	filled, faults := calc.Fill(text, given)
	for _, s := range c.block.Settings {
		if s.Name != "caption" {
			continue
		}
		for _, what := range faults {
			c.fault(s.ValuePos, what, "the name of an input or a result of "+calc.ID+" in each pair of braces", "correct it")
		}
	}
	return filled
}

// inputs reads settings that fix inputs; whether their values are accepted the
// table, chart or drawing itself finds out.
func (c *composer) inputs(calc calculators.Calculator, settings []page.Setting) []calculators.Arg {
	var args []calculators.Arg
	for _, s := range settings {
		if _, ok := calc.Input(s.Name); !ok {
			c.fault(s.Pos, s.Name+" is not a setting here", settingsOf(c.block.Kind)+" or an input of "+calc.ID, "correct the name")
			continue
		}
		args = append(args, calculators.Arg{Name: s.Name, Value: s.Value})
	}
	return args
}

// settingsOf lists what a block of a kind may set beside inputs.
func settingsOf(kind page.BlockKind) string {
	switch kind {
	case page.LookupBlock:
		return "rows, columns, show, caption, pond, on,"
	case page.ChartBlock:
		return "x, series, show, caption, pond, on,"
	}
	return calchtml.Section + ", caption, pond, on,"
}

// axis reads "temperature: 10 Cel, 20 Cel".
func (c *composer) axis(calc calculators.Calculator, s page.Setting) calculators.Axis {
	input, values, ok := strings.Cut(s.Value, ":")
	a := calculators.Axis{Input: strings.TrimSpace(input)}
	if !ok || strings.TrimSpace(values) == "" {
		c.fault(s.ValuePos, s.Name+" names no values", "such as temperature: 10 Cel, 20 Cel", "write an input, a colon and its values")
		return a
	}
	for v := range strings.SplitSeq(values, ",") {
		a.Values = append(a.Values, strings.TrimSpace(v))
	}
	c.knownInput(calc, s, a.Input)
	return a
}

// span reads "ph: 6.5 to 9.5".
func (c *composer) span(calc calculators.Calculator, s page.Setting) (input, from, to string) {
	input, ends, _ := strings.Cut(s.Value, ":")
	from, to, ok := strings.Cut(ends, " to ")
	input = strings.TrimSpace(input)
	if !ok {
		c.fault(s.ValuePos, s.Name+" names no span", "such as ph: 6.5 to 9.5", "write an input, a colon and its ends")
		return input, "", ""
	}
	c.knownInput(calc, s, input)
	return input, strings.TrimSpace(from), strings.TrimSpace(to)
}

func (c *composer) knownInput(calc calculators.Calculator, s page.Setting, input string) {
	if _, ok := calc.Input(input); ok {
		return
	}
	var names []string
	for _, in := range calc.Inputs {
		names = append(names, in.Name)
	}
	c.fault(s.ValuePos, input+" is not an input of "+calc.ID, "one of "+strings.Join(names, ", "), "correct the name")
}

func (c *composer) outputs(calc calculators.Calculator, s page.Setting) []string {
	var names []string
	for name := range strings.SplitSeq(s.Value, ",") {
		name = strings.TrimSpace(name)
		if _, ok := calc.Output(name); !ok {
			var known []string
			for _, o := range calc.Outputs {
				known = append(known, o.Name)
			}
			c.fault(s.ValuePos, name+" is not an output of "+calc.ID, "one of "+strings.Join(known, ", "), "correct the name")
			continue
		}
		names = append(names, name)
	}
	return names
}
