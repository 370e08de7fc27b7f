package calchtml

import (
	"errors"
	"math"
	"sync"

	"github.com/alecthomas/chroma/v2"
	"github.com/alecthomas/chroma/v2/lexers"
)

// goLexer takes Go apart as chroma's own lexer does, and however long it takes.
// That one gives up on a word after a quarter of a second and goes on as if there
// were none, so that on a busy machine a page would come out otherwise each time.
var goLexer = sync.OnceValues(func() (*chroma.RegexLexer, error) {
	own, ok := lexers.Go.(*chroma.RegexLexer)
	if !ok {
		return nil, errors.New("chroma's lexer of Go has no rules")
	}
	rules, err := own.Rules()
	if err != nil {
		return nil, err
	}
	rules = rules.Clone()
	var root []chroma.Rule
	for _, r := range rules["root"] {
		if r.Pattern == "(`)([^`]*)(`)" { // looks with another lexer for templates, of which we have none
			r = chroma.Rule{Pattern: "`[^`]*`", Type: chroma.LiteralString}
		}
		root = append(root, r)
	}
	rules["root"] = append(root, chroma.Rule{Mutator: patience{}})
	return chroma.NewLexer(own.Config(), func() chroma.Rules { return rules })
})

// patience stands in the place of a rule, takes the limits of time off all rules
// when they have been compiled, and itself out of them.
type patience struct{}

// Mutate implements chroma.Mutator. It is never called.
func (patience) Mutate(*chroma.LexerState) error { return nil }

// MutateLexer implements chroma.LexerMutator.
func (patience) MutateLexer(rules chroma.CompiledRules, state string, rule int) error {
	for _, all := range rules {
		for _, r := range all {
			r.Regexp.MatchTimeout = math.MaxInt64 // which regexp2 takes for none
		}
	}
	rules[state] = append(rules[state][:rule], rules[state][rule+1:]...)
	return nil
}
