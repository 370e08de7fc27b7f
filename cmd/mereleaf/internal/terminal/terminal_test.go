package terminal

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"mereleaf/calculators"
	"mereleaf/calculators/pondtest"
)

func unknown(string) (string, bool) { return "", false }

// plain is a displayed text as a terminal shows it.
func plain(s string) string { return strings.ReplaceAll(s, "\u00a0", " ") }

// TestAnswerShowsTheView walks all calculators: an answer in the terminal holds
// every text of the View that the page shows too, in lines that fit.
func TestAnswerShowsTheView(t *testing.T) {
	for _, c := range pondtest.All(t).All() {
		t.Run(c.ID, func(t *testing.T) {
			v, err := c.Reckon(c.Example.Given)
			if err != nil {
				t.Fatal(err)
			}
			text := Answer(c, v, unknown, told(), Options{Working: true})
			fits(t, text)
			one := strings.Join(strings.Fields(text), " ")
			for _, want := range texts(v) {
				if !strings.Contains(one, strings.Join(strings.Fields(plain(want)), " ")) {
					t.Errorf("answer lacks %q", want)
				}
			}
			for _, want := range slices.Concat(told().all(c), sourceKeys(c)) {
				if !strings.Contains(one, plain(want)) {
					t.Errorf("answer lacks %q", want)
				}
			}
		})
	}
}

func texts(v calculators.View) []string {
	all := slices.Concat(v.Advice, v.Flags)
	for _, s := range v.Values {
		all = append(all, s.Text, s.Label, spread(s))
		all = append(all, s.Also...)
	}
	for _, m := range v.Scale.Marks {
		all = append(all, m.Text, m.Label)
	}
	for _, a := range v.Assumed {
		all = append(all, a.Label+": "+a.Text)
	}
	for _, s := range v.Working {
		all = append(all, s.Text)
	}
	return all
}

func sourceKeys(c calculators.Calculator) []string {
	var keys []string
	for _, f := range c.Formulas {
		keys = append(keys, f.Source)
	}
	return keys
}

func fits(t *testing.T, text string) {
	t.Helper()
	for line := range strings.Lines(text) {
		line = strings.TrimSuffix(line, "\n")
		if length(line) > width && strings.Contains(strings.TrimSpace(line), " ") {
			t.Errorf("line of %d characters: %q", length(line), line)
		}
		if strings.ContainsAny(line, "\u00a0\u202f\t") || strings.TrimRight(line, " ") != line {
			t.Errorf("line with invisible characters: %q", line)
		}
	}
}

// TestDescribeNamesEveryInput also tries the command that the text shows: what
// it prints must be accepted as it stands.
func TestDescribeNamesEveryInput(t *testing.T) {
	for _, c := range pondtest.All(t).All() {
		t.Run(c.ID, func(t *testing.T) {
			text := Describe(c, unknown, told())
			fits(t, text)
			for _, d := range c.Inputs {
				if !strings.Contains(text, "  "+d.Name+"=…  "+plain(d.Label)) {
					t.Errorf("no line for input %s", d.Name)
				}
			}
			_, calls, _ := strings.Cut(text, "mereleaf reckon ")
			for i, shown := range append([]calculators.Scenario{{Example: c.Example}}, c.Ready...) {
				want, err := c.Reckon(shown.Given)
				if err != nil {
					t.Fatal(err)
				}
				call, rest, _ := strings.Cut(calls, "mereleaf reckon ")
				got, err := c.Reckon(typed(command(call), c.ID))
				if err != nil || !cmp.Equal(got.Values, want.Values) {
					t.Errorf("command %d shown gives %v, %v; want %v", i+1, got.Values, err, want.Values)
				}
				calls = rest
			}
		})
	}
}

// command is a text up to the first line break that does not continue it.
func command(text string) string {
	lines := strings.SplitAfter(text, "\n")
	end := 0
	for strings.HasSuffix(lines[end], "\\\n") {
		end++
	}
	return strings.Join(lines[:end+1], "")
}

// typed splits a command line as a shell does, as far as commandLine goes.
func typed(line, id string) []calculators.Arg {
	_, rest, _ := strings.Cut(line, id)
	rest = strings.ReplaceAll(rest, "\\\n", "")
	var args []calculators.Arg
	word, quoted := "", false
	for _, r := range rest + " " {
		switch {
		case r == '"':
			quoted = !quoted
		case r == ' ' && !quoted:
			if name, value, ok := strings.Cut(word, "="); ok {
				args = append(args, calculators.Arg{Name: name, Value: value})
			}
			word = ""
		default:
			word += string(r)
		}
	}
	return args
}

func TestListHasEveryCalculator(t *testing.T) {
	text := List(pondtest.All(t))
	fits(t, text)
	for _, c := range pondtest.All(t).All() {
		if !strings.Contains("\n"+text, "\n"+c.ID+" ") {
			t.Errorf("no line for %s", c.ID)
		}
	}
}

func TestHangKeepsValueAndUnitTogether(t *testing.T) {
	s := &sheet{}
	s.hang("- ", strings.Repeat("a", width-7)+" 25\u00a0mm deep")
	if got := strings.Split(s.String(), "\n"); len(got) != 3 || got[1] != "  25 mm deep" {
		t.Errorf("broken as %q", got)
	}
}

func TestColumnAlignsDecimalPoints(t *testing.T) {
	var c column
	all := []string{"0.025\u00a0mg/L", "12\u00a0mg/L", "1,200.5"}
	for _, s := range all {
		c.fit(s)
	}
	want := []string{"    0.025\u00a0mg/L", "   12\u00a0mg/L    ", "1,200.5       "}
	for i, s := range all {
		if got := c.set(s); got != want[i] {
			t.Errorf("set(%q) = %q, want %q", s, got, want[i])
		}
	}
}

// TestSourcesStandOnce: two formulas of one source share its number.
func TestSourcesStandOnce(t *testing.T) {
	r := &references{cite: func(key string) (string, bool) { return "cited " + key, true }}
	first, second, again := r.origin("a", "equation 1", "published"), r.origin("b", "", "memory"), r.origin("a", "table 2", "")
	if first != "[1], equation 1" || second != "[2], from memory" || again != "[1], table 2" {
		t.Errorf("origins %q, %q, %q", first, second, again)
	}
	s := &sheet{}
	s.sources(r)
	if want := "Sources\n  [1] cited a\n  [2] cited b\n"; s.String() != want {
		t.Errorf("sources %q, want %q", s.String(), want)
	}
}
