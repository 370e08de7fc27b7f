package verify

import (
	"fmt"
	"slices"
	"strings"

	"mereleaf/calculators"
	"mereleaf/cmd/mereleaf/internal/book"
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/page"
)

const cautionsDoc = `acts and their cautions
Every step opens with a verb that handbook.toml lists as an act, and what the act
may do stands as a caution in the step or above it under the same heading. Steps of
build sheets and advice of calculators are held to the same. Every hazard of a
calculator has its caution. Harm to people takes Danger, Warning or
Caution, harm to fish and things alone takes Notice. A chapter carries what
handbook.toml says it must.`

func cautionsFaults(b *book.Book) diag.List {
	faults := slices.Concat(b.ActFaults(), hazardFaults(b), sheetFaults(b))
	for _, c := range b.Chapters() {
		faults = append(faults, signalFaults(b, c)...)
		faults = append(faults, actFaults(b, c)...)
		faults = append(faults, carryFaults(b, c)...)
	}
	return faults
}

func lookCautions(b *book.Book) Finding {
	panels, lines, steps, acts := 0, 0, 0, 0
	for _, c := range b.Chapters() {
		panels += len(c.Doc.Cautions)
		for _, r := range c.Doc.References {
			switch {
			case r.Scheme != page.ToCaution:
			case r.Panel:
				panels++
			default:
				lines++
			}
		}
		for _, s := range stepsOf(b, c) {
			steps++
			if act, ok := b.Config.Act(s.Text); ok && len(act.Hazards) > 0 {
				acts++
			}
		}
	}
	return Finding{Seen: []Count{{steps, "steps"}, {acts, "of them with a hazard"}, {panels, "panels"}, {lines, "in a line"}}}
}

// hazardFaults looks for the caution of every hazard that calculators declare.
func hazardFaults(b *book.Book) diag.List {
	var faults diag.List
	seen := map[calculators.Hazard]bool{calculators.NoHazard: true}
	for _, c := range b.Calculators.All() {
		for _, h := range c.Hazards {
			w, ok := b.Caution(string(h))
			switch {
			case seen[h]:
			case !ok:
				faults.Add(diag.Diagnostic{Position: diag.Position{File: book.CautionsFile}, Problem: fmt.Sprintf("there is no caution %q, a hazard of the calculator %s", h, c.ID),
					Want: "a heading of that name", Remedy: "write the caution"})
			case w.Caution.Injures() != h.HurtsPeople():
				faults.Add(wrongSignal(w.Caution, string(h), h.HurtsPeople()))
			}
			seen[h] = true
		}
	}
	return faults
}

// wrongSignal is the fault of a signal word that says the wrong thing of who
// comes to harm.
func wrongSignal(c page.Caution, hazard string, people bool) diag.Diagnostic {
	d := diag.Diagnostic{Position: c.Pos, Problem: fmt.Sprintf("%q is the signal word for harm to people, and %s harms fish or things alone", strings.ToUpper(c.Signal), hazard),
		Want: "Notice (ANSI Z535.4)", Remedy: "write Notice, or name the hazard to people that it warns of"}
	if people {
		d.Problem = fmt.Sprintf("\"NOTICE\" is for harm to fish or things alone, and %s hurts people", hazard)
		d.Want, d.Remedy = "Danger, Warning or Caution (ANSI Z535.4)", "write the one that fits, or name the hazard to fish that it warns of"
	}
	return d
}

// signalFaults looks at the cautions that a chapter words itself.
func signalFaults(b *book.Book, c *book.Chapter) diag.List {
	if len(b.Cautions) == 0 {
		return nil // none to name; hazardFaults tells if calculators need them
	}
	var faults diag.List
	for _, own := range c.Doc.Cautions {
		w, ok := b.Caution(own.Hazard)
		switch {
		case own.Hazard == "":
			faults.Add(diag.Diagnostic{Position: own.Pos, Problem: "the caution does not say which hazard it warns of",
				Want: "a link in its bold words, such as \"> **Danger: [electric shock](caution:electricity).** …\"", Remedy: "name one of " + book.CautionsFile + ", or put [words](caution:NAME) in its place"})
		case !ok:
			faults.Add(diag.Diagnostic{Position: own.HazardPos, Problem: "the caution " + own.Hazard + " is unknown", Want: "a heading of " + book.CautionsFile + ", in lower case with hyphens", Remedy: "correct the link"})
		case own.Injures() != w.Caution.Injures():
			faults.Add(wrongSignal(own, own.Hazard, w.Caution.Injures()))
		}
	}
	return faults
}

// warning is a place of a chapter where a hazard is told.
type warning struct {
	hazard string
	at     diag.Position
}

// warnings returns where a chapter tells of hazards: its own cautions, links to those
// that stand once, and both in the sections that it takes from other chapters.
func warnings(b *book.Book, c *book.Chapter) []warning {
	var all []warning
	for _, own := range c.Doc.Cautions {
		all = append(all, warning{own.Hazard, own.Pos})
	}
	for _, r := range c.Doc.References {
		if r.Scheme == page.ToCaution {
			all = append(all, warning{r.Target, r.Pos})
		}
	}
	for _, t := range b.Takings(c) {
		for _, own := range t.From.Doc.CautionsUnder(t.Anchor) {
			all = append(all, warning{own.Hazard, t.Ref.Pos})
		}
		for _, r := range t.From.Doc.ReferencesUnder(t.Anchor) {
			if r.Scheme == page.ToCaution {
				all = append(all, warning{r.Target, t.Ref.Pos})
			}
		}
	}
	return all
}

// stepsOf returns all steps of a chapter: items of numbered lists, and cells
// below the headings that handbook.toml names.
func stepsOf(b *book.Book, c *book.Chapter) []page.Step {
	return slices.Concat(c.Doc.Steps, c.Doc.StepsUnder(b.Config.StepColumns()))
}

// actFaults looks at the verb that each step opens with, and for the cautions of
// what it may do.
func actFaults(b *book.Book, c *book.Chapter) diag.List {
	if len(b.Config.Acts) == 0 {
		return nil // a handbook that lists none has no steps to hold to them
	}
	var faults diag.List
	told := warnings(b, c)
	for _, step := range stepsOf(b, c) {
		act, ok := b.Config.Act(step.Text)
		if !ok {
			faults.Add(diag.Diagnostic{Position: step.Pos, Problem: "the step opens with " + quotedStart(step.Text) + ", which is no act of " + book.ConfigFile,
				Want: "a verb that a [[act]] lists", Remedy: "begin with the verb, list it with its hazards, or make the list one without numbers"})
			continue
		}
		above := lastHeading(c.Doc, step.Pos)
		for _, hazard := range act.Hazards {
			if !slices.ContainsFunc(told, func(w warning) bool {
				return w.hazard == hazard && compare(above, w.at) < 0 && compare(w.at, step.End) <= 0
			}) {
				faults.Add(diag.Diagnostic{Position: step.Pos, Problem: fmt.Sprintf("the act %q stands without the caution %s", act.Verb, hazard),
					Want: "the caution in the step, or above it under the same heading", Remedy: "put [words](caution:" + hazard + ") there"})
			}
		}
	}
	return faults
}

// lastHeading is where the heading stands that a place belongs to; the top of
// the file if there is none.
func lastHeading(doc *page.Document, at diag.Position) diag.Position {
	last := diag.Position{File: doc.File}
	for _, h := range doc.Headings {
		if compare(h.Pos, at) < 0 {
			last = h.Pos
		}
	}
	return last
}

// quotedStart is the first three words of a step.
func quotedStart(text string) string {
	words := strings.Fields(text)
	if len(words) > 3 {
		words = append(words[:3:3], "…")
	}
	return "\"" + strings.Join(words, " ") + "\""
}

// carryFaults looks for the cautions that a whole chapter must have.
func carryFaults(b *book.Book, c *book.Chapter) diag.List {
	var faults diag.List
	told := warnings(b, c)
	for _, hazard := range b.MustCarry(c) {
		if !slices.ContainsFunc(told, func(w warning) bool { return w.hazard == hazard }) {
			faults.Add(diag.Diagnostic{Position: diag.Position{File: c.File, Line: 1, Column: 1}, Problem: "the chapter has lost its caution " + hazard,
				Want: "one, as a [[carry]] of " + book.ConfigFile + " says", Remedy: "put [words](caution:" + hazard + ") where the reader first needs it"})
		}
	}
	return faults
}
