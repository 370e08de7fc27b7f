package book

import (
	"bytes"
	"maps"
	"slices"
	"strings"

	"mereleaf/calculators"
	"mereleaf/calculators/markup"
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/page"
	"mereleaf/cmd/mereleaf/internal/paths"
)

// CardConfig declares a card for the wall by the pond. It holds no text of its
// own but takes all from chapters and calculators, so that a card cannot say
// something else than they do.
type CardConfig struct {
	Title string   `toml:"title"`
	Take  []string `toml:"take"` // see Take

	at  diag.Position   // of the title
	pos []diag.Position // of each take
}

// Card is such a card with what it takes.
type Card struct {
	Title string
	Takes []Take
}

// Take is one piece of a card: the section of a chapter, or something of a
// calculator. In handbook.toml it reads
//
//	water/94-power-cut.md             the chapter's first words, up to its first heading
//	water/94-power-cut.md#now         the section under a heading
//	calculator:drill-template         what it answers, and where it stands
//	lookup:power-cut                  the calculator's table of ready answers
//	steps:tower#growing-in            the steps of a section of its example's build sheet
//	drawing:tower#a-drilled-floor     a drawing of that sheet
type Take struct {
	Chapter *Chapter
	Anchor  string // of the chapter; "" for its first words

	HTML string // of a calculator's piece
	Lead string // path of the leaf that a calculator's piece comes from

	Full []page.Warned // cautions that the piece holds as text
	Line []page.Warned // cautions that it only leads to
}

// Warns returns the cautions that the card's pieces lead to and do not hold, each
// once. A card hangs where nobody can follow a link.
func (c Card) Warns() []page.Warned {
	held := map[string]bool{}
	for _, t := range c.Takes {
		for _, w := range t.Full {
			held[w.Slug] = true
		}
	}
	var all []page.Warned
	for _, t := range c.Takes {
		for _, w := range t.Line {
			if !held[w.Slug] {
				all = append(all, w)
			}
			held[w.Slug] = true
		}
	}
	return all
}

// locateCards keeps where each take is named, for faults found later.
func (c *Config) locateCards(text []byte) {
	for i := range c.Cards {
		card := &c.Cards[i]
		card.at = located(text, card.Title)
		for _, take := range card.Take {
			card.pos = append(card.pos, located(text, take))
		}
	}
}

func located(text []byte, value string) diag.Position {
	if at := bytes.Index(text, []byte(quoted(value))); value != "" && at >= 0 {
		return diag.At(ConfigFile, text, at)
	}
	return diag.Position{File: ConfigFile}
}

// readCards finds what the cards take.
func (b *Book) readCards() {
	for _, declared := range b.Config.Cards {
		card := Card{Title: declared.Title}
		if card.Title == "" || len(declared.Take) == 0 {
			b.state.faults.References.Add(diag.Diagnostic{Position: declared.at, Problem: "a [[card]] entry is not complete", Want: `title = "…" and take = ["part/10-chapter.md#heading"]`, Remedy: "add what lacks"})
			continue
		}
		for i, text := range declared.Take {
			take, fault := b.take(text)
			if fault != nil {
				fault.Position = declared.pos[i]
				b.state.faults.References.Add(*fault)
				continue
			}
			card.Takes = append(card.Takes, take)
		}
		b.Cards = append(b.Cards, card)
	}
}

// take reads one piece. Its fault has no position yet.
func (b *Book) take(text string) (Take, *diag.Diagnostic) {
	kind, name, ok := strings.Cut(text, ":")
	if !ok {
		return b.takeChapter(text)
	}
	id, section, _ := strings.Cut(name, "#")
	calc, known := b.Calculators.Find(id)
	if !known {
		return Take{}, &diag.Diagnostic{Problem: "the calculator " + id + " is unknown", Want: "one that mereleaf reckon lists", Remedy: didYouMean(id, calculatorIDs(b.Calculators))}
	}
	var write func() (string, error)
	switch kind {
	case "calculator":
		write = func() (string, error) { return answers(calc), nil }
	case "lookup":
		write = func() (string, error) { return b.state.pad.Lookup(calc, calc.Lookup) }
	case "steps", "drawing":
		write = func() (string, error) { return b.state.pad.Piece(calc, section, kind == "drawing") }
	default:
		return Take{}, &diag.Diagnostic{Problem: "a card cannot take " + quoted(text), Want: "a chapter's section, or calculator:, lookup:, steps: or drawing: with a calculator", Remedy: "correct it"}
	}
	made := b.state.fragment("card\x00"+text, write)
	if made.err != nil {
		return Take{}, &diag.Diagnostic{Problem: "a card cannot take " + quoted(text) + ": " + oneLine(made.err), Remedy: "correct it"}
	}
	if made.html == "" {
		return Take{}, &diag.Diagnostic{Problem: "a card cannot take " + quoted(text) + ": the calculator has none", Remedy: "take something else"}
	}
	return Take{HTML: made.html, Lead: paths.Calculator(id)}, nil
}

// answers says what a calculator is for.
func answers(c calculators.Calculator) string {
	var m markup.Builder
	m.Open("p")
	m.Text(c.Question + " ")
	m.Leaf("b", c.Title+", "+paths.Calculator(c.ID))
	m.Close()
	return m.String() + "\n"
}

func (b *Book) takeChapter(text string) (Take, *diag.Diagnostic) {
	name, anchor, hashed := strings.Cut(text, "#")
	x := b.state.index
	c, ok := x.chapters[Folder+"/"+name]
	switch {
	case !ok:
		return Take{}, &diag.Diagnostic{Problem: "a card takes from " + quoted(name) + ", which is not a chapter", Want: "its path below " + Folder + "/", Remedy: remedyFor(Folder+"/"+name, slices.Sorted(maps.Keys(x.chapters)))}
	case hashed && !x.anchors[c.File][anchor]:
		return Take{}, &diag.Diagnostic{Problem: "the chapter " + name + " has no heading #" + anchor, Want: "one of its headings", Remedy: remedyFor(anchor, slices.Sorted(maps.Keys(x.anchors[c.File])))}
	}
	t := Take{Chapter: c, Anchor: anchor}
	refs := c.Doc.ReferencesUnder(anchor)
	for _, of := range x.takings(c.Doc) {
		if slices.Contains(refs, of.Ref) {
			refs = append(refs, of.From.Doc.ReferencesUnder(of.Anchor)...)
		}
	}
	for _, r := range refs {
		w, ok := x.cautions[r.Target]
		switch {
		case r.Scheme != page.ToCaution || !ok:
		case r.Panel:
			t.Full = append(t.Full, w)
		default:
			t.Line = append(t.Line, w)
		}
	}
	return t, nil
}
