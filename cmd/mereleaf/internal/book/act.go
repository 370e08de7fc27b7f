package book

import (
	"bytes"
	"slices"
	"strings"

	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/page"
)

// ActConfig declares acts that may do harm in the same way, or in none. An act
// is the verb that opens a step.
type ActConfig struct {
	Language string   `toml:"language"` // of the verbs, without a region: "en"
	Verbs    []string `toml:"verbs"`    // in lower case, of one or more words: "plug in"
	Hazards  []string `toml:"hazards"`  // names of cautions; empty for none

	at []diag.Position // of each verb
}

// StepsConfig names the headings of tables whose cells are steps, besides the
// items of numbered lists, which always are.
type StepsConfig struct {
	Language string   `toml:"language"`
	Columns  []string `toml:"columns"`
}

// CarryConfig declares cautions that whole chapters must have.
type CarryConfig struct {
	Cautions []string `toml:"cautions"`
	Leaves   []string `toml:"leaves"` // the chapters below content/

	at []diag.Position // of each leaf
}

// Act is a listed verb.
type Act struct {
	Verb    string
	Hazards []string
}

// locateActs keeps where each verb and chapter is named, for faults found later.
// The file names them in this order, so each is looked for behind the last.
func (c *Config) locateActs(text []byte) {
	from := 0
	next := func(name string) diag.Position {
		i := bytes.Index(text[from:], []byte(quoted(name)))
		if i < 0 {
			return diag.Position{File: ConfigFile}
		}
		from += i
		return diag.At(ConfigFile, text, from)
	}
	for i := range c.Acts {
		for _, verb := range c.Acts[i].Verbs {
			c.Acts[i].at = append(c.Acts[i].at, next(verb))
		}
	}
	from = 0
	for i := range c.Carries {
		if at := bytes.Index(text[from:], []byte("[[carry]]")); at >= 0 {
			from += at + 1
		}
		for _, leaf := range c.Carries[i].Leaves {
			c.Carries[i].at = append(c.Carries[i].at, next(leaf))
		}
	}
}

// checkActs refuses a verb that stands twice: one of both would be overlooked.
func (c Config) checkActs() diag.List {
	var faults diag.List
	type spoken struct{ language, verb string }
	seen := map[spoken]diag.Position{}
	for _, a := range c.Acts {
		for i, verb := range a.Verbs {
			before, twice := seen[spoken{a.Language, verb}]
			switch {
			case a.Language == "" || verb == "" || verb != strings.ToLower(strings.TrimSpace(verb)):
				faults.Add(diag.Diagnostic{Position: a.at[i], Problem: "the act " + quoted(verb) + " has no language, or is not in lower case", Want: `language = "en" and verbs = ["plug in"]`, Remedy: "correct it"})
			case twice:
				faults.Add(diag.Diagnostic{Position: a.at[i], Problem: "the act " + quoted(verb) + " stands twice", Want: "each verb once in a language, with all its hazards", Remedy: "remove one of them", Related: before})
			}
			seen[spoken{a.Language, verb}] = a.at[i]
		}
	}
	return faults
}

// speaks reports whether a language without region is the handbook's.
func (c Config) speaks(language string) bool {
	base, _, _ := strings.Cut(c.Language, "-")
	return base == language
}

// Act returns the act that a step begins with: of those listed the one with the
// most words. ok is false if none is.
func (c Config) Act(step string) (act Act, ok bool) {
	words := opening(step)
	for _, a := range c.Acts {
		if !c.speaks(a.Language) {
			continue
		}
		for _, verb := range a.Verbs {
			if len(verb) > len(act.Verb) && begins(words, verb) {
				act, ok = Act{verb, a.Hazards}, true
			}
		}
	}
	return act, ok
}

// opening is the beginning of a step in lower case without what a sentence may
// open with.
func opening(step string) string {
	step, _, _ = strings.Cut(step, ".")
	return strings.ToLower(strings.TrimLeft(step, "“\"'( "))
}

// begins reports whether words begin with a verb that is whole. Before a colon one
// word may be a noun, as in "Feed: none".
func begins(words, verb string) bool {
	rest, ok := strings.CutPrefix(words, verb)
	if !ok || strings.HasPrefix(rest, ":") && !strings.Contains(verb, " ") {
		return false
	}
	return rest == "" || strings.HasPrefix(rest, "\u00a0") || strings.ContainsAny(rest[:1], " ,:;!?)\n")
}

// StepColumns are the headings of tables whose cells are steps.
func (c Config) StepColumns() []string {
	var columns []string
	for _, s := range c.Columns {
		if c.speaks(s.Language) {
			columns = append(columns, s.Columns...)
		}
	}
	return columns
}

// ActFaults returns what is wrong with the acts themselves: hazards for which
// there is no caution, chapters that do not exist.
func (b *Book) ActFaults() diag.List {
	var faults diag.List
	unknown := func(at diag.Position, names []string) {
		for _, name := range names {
			if _, ok := b.Caution(name); !ok {
				faults.Add(diag.Diagnostic{Position: at, Problem: "the caution " + quoted(name) + " is unknown", Want: "a heading of " + CautionsFile + ", in lower case with hyphens", Remedy: "correct it, or write the caution"})
			}
		}
	}
	for _, a := range b.Config.Acts {
		if len(a.at) > 0 {
			unknown(a.at[0], a.Hazards)
		}
	}
	for _, carry := range b.Config.Carries {
		for i, leaf := range carry.Leaves {
			if i == 0 {
				unknown(carry.at[i], carry.Cautions)
			}
			if _, ok := b.state.index.chapters[Folder+"/"+leaf]; !ok {
				faults.Add(diag.Diagnostic{Position: carry.at[i], Problem: "the chapter " + quoted(leaf) + " does not exist", Want: "its path below " + Folder + "/", Remedy: "correct it"})
			}
		}
	}
	return faults
}

// MustCarry returns the cautions that a chapter must have somewhere.
func (b *Book) MustCarry(c *Chapter) []string {
	var names []string
	for _, carry := range b.Config.Carries {
		if slices.Contains(carry.Leaves, strings.TrimPrefix(c.File, Folder+"/")) {
			names = append(names, carry.Cautions...)
		}
	}
	return names
}

// readCautions takes the cautions from their file. A name that stands twice is a
// fault of its heading.
func (s *state) readCautions(faults diag.List) ([]page.Warned, diag.List) {
	return slices.Clone(s.cautions.cautions), append(faults, s.cautions.incomplete...)
}
