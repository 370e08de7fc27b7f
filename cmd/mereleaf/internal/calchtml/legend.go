package calchtml

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"mereleaf/calculators"
	"mereleaf/calculators/markup"
	"mereleaf/cmd/mereleaf/internal/verify/formulas"
)

// Legend returns the line under a formula that says what its symbols stand for,
// in which unit; "" for a reaction. The error is one line.
func (p *Pad) Legend(f calculators.Formula) (string, error) {
	terms, err := formulas.Legend(f)
	if err != nil {
		return "", fmt.Errorf("formula %q: %w", f.Name, err)
	}
	if len(terms) == 0 {
		return "", nil
	}
	var b markup.Builder
	b.Open("p", "class", "symbols")
	for i, t := range terms {
		if i > 0 {
			b.Text("; ")
		}
		for j, name := range t.Symbols {
			if j > 0 {
				b.Text(", ")
			}
			symbol(&b, name)
		}
		if t.Symbols == nil {
			b.Text("gives")
		}
		for word := range strings.FieldsSeq(t.Word) {
			b.Text(" ")
			if strings.Contains(word, "_") { // another symbol: "growth at t_0"
				symbol(&b, word)
			} else {
				b.Text(word)
			}
		}
		if t.Unit != "" {
			b.Text(", " + t.Unit)
		}
	}
	b.Close()
	return b.String() + "\n", nil
}

// symbol writes a symbol of a declaration as mathematics shows it: C_in with an
// index, dS_1/dt with a dot above. One letter is slanted, a word or a substance
// is upright.
func symbol(b *markup.Builder, name string) {
	name, dotted := strings.CutSuffix(name, "/dt")
	dot := ""
	if dotted {
		name, dot = strings.TrimPrefix(name, "d"), "\u0307"
	}
	if inner, found := strings.CutPrefix(name, "["); found { // concentration of a substance
		b.Text("[" + lowered(strings.TrimSuffix(inner, "]")) + "]")
		return
	}
	base, index, _ := strings.Cut(name, "_")
	if base == "O" || base == "CO" {
		b.Text(lowered(name))
		return
	}
	for _, sign := range []string{"p", "Δ", "Σ"} { // of what follows it: pK, Δt
		if rest, found := strings.CutPrefix(base, sign); found && utf8.RuneCountInString(rest) == 1 {
			b.Text(sign)
			base = rest
		}
	}
	base, prime := strings.CutSuffix(base, "'")
	if utf8.RuneCountInString(base) == 1 {
		b.Leaf("i", base+dot)
	} else {
		b.Text(base)
	}
	if prime {
		b.Text("′")
	}
	if index != "" {
		b.Leaf("sub", lowered(index))
	}
}

// lowered is a substance with its numbers below the line: CaCO₃ for CaCO_3.
func lowered(substance string) string {
	return strings.NewReplacer("_2", "₂", "_3", "₃").Replace(substance)
}
