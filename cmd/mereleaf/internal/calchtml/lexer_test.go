package calchtml

import (
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/alecthomas/chroma/v2"
	"github.com/alecthomas/chroma/v2/lexers"
)

// TestLexerWaits: no rule has a limit of time any more when the lexer has been used.
func TestLexerWaits(t *testing.T) {
	var compiled chroma.CompiledRules
	lexer, err := goLexer()
	if err != nil {
		t.Fatal(err)
	}
	rules, err := lexer.Rules()
	if err != nil {
		t.Fatal(err)
	}
	rules = rules.Clone()
	rules["root"] = append(slices.Clone(rules["root"]), chroma.Rule{Mutator: spy{&compiled}})
	watched, err := chroma.NewLexer(lexer.Config(), func() chroma.Rules { return rules })
	if err != nil {
		t.Fatal(err)
	}
	if _, err := watched.Tokenise(nil, "// a"); err != nil {
		t.Fatal(err)
	}
	if len(compiled["root"]) < 20 {
		t.Fatalf("%d rules", len(compiled["root"]))
	}
	for state, all := range compiled {
		for _, r := range all {
			if r.Regexp.MatchTimeout != math.MaxInt64 {
				t.Errorf("%s: %s may take %s", state, r.Pattern, r.Regexp.MatchTimeout)
			}
		}
	}
}

// spy keeps the rules that it sees, and takes itself out of them.
type spy struct{ seen *chroma.CompiledRules }

func (spy) Mutate(*chroma.LexerState) error { return nil }

func (s spy) MutateLexer(rules chroma.CompiledRules, state string, rule int) error {
	rules[state] = slices.Delete(rules[state], rule, rule+1)
	*s.seen = rules
	return nil
}

// TestLexerAgreesWithChromas: every function of some packages is taken apart as by
// chroma's own lexer on a machine that has time.
func TestLexerAgreesWithChromas(t *testing.T) {
	lexer, err := goLexer()
	if err != nil {
		t.Fatal(err)
	}
	count := 0
	for _, folder := range []string{"calculators/water", "calculators/media", "calculators/quantity"} {
		declared, err := functions(os.DirFS("../../../.."), folder)
		if err != nil {
			t.Fatal(err)
		}
		for name, f := range declared {
			count++
			if got, want := tokens(t, lexer, f.source), tokens(t, lexers.Go, f.source); got != want {
				if got = tokens(t, lexer, f.source); got != tokens(t, lexers.Go, f.source) { // once more, in case it had no time
					t.Errorf("%s: %s", name, got)
				}
			}
		}
	}
	if count < 50 {
		t.Errorf("%d functions", count)
	}
}

func tokens(t *testing.T, lexer chroma.Lexer, source string) string {
	t.Helper()
	all, err := lexer.Tokenise(nil, source)
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for _, token := range all.Tokens() {
		b.WriteString(token.String())
	}
	return b.String()
}
