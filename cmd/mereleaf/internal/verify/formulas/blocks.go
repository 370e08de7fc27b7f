package formulas

import (
	"mereleaf/calculators"
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/verify/formulas/texeval"
)

// Block is mathematics in a chapter.
type Block struct {
	TeX string
	Pos diag.Position
}

// CheckBlocks holds the mathematics of chapters to the formulas of the
// calculators, which are compared with what runs: each equation of a block must be
// one that a calculator prints, spaced as it may be.
func CheckBlocks(set calculators.Set, blocks []Block) diag.List {
	declared := map[string]bool{}
	byLeft := map[string][]equation{}
	for _, c := range set.All() {
		for _, f := range c.Formulas {
			all, err := texeval.Parse(f.TeX)
			if err != nil { // a reaction, or a fault that Check reports
				continue
			}
			for _, n := range all {
				declared[n.String()] = true
				key := n.Sides()[0].String()
				byLeft[key] = append(byLeft[key], equation{n, f.TeX})
			}
		}
	}
	var faults diag.List
	for _, b := range blocks {
		fault := func(problem, remedy string) {
			faults.Add(diag.Diagnostic{Position: b.Pos, Problem: problem, Want: "equations as a calculator prints them, which are compared with what runs", Remedy: remedy})
		}
		all, err := texeval.Parse(b.TeX)
		if err != nil {
			fault("the formula cannot be evaluated: "+err.Error(), "correct its TeX")
			continue
		}
		for _, n := range all {
			if declared[n.String()] {
				continue
			}
			remedy := "declare it as a formula of the calculator that computes it"
			if near := nearest(byLeft[n.Sides()[0].String()], n); near != "" {
				remedy = "print it as its calculator does: " + near
			}
			fault("no calculator prints the equation for "+left(n), remedy)
		}
	}
	return faults
}

// equation is one that a calculator prints, with the TeX of its formula.
type equation struct {
	node *texeval.Node
	tex  string
}

// nearest returns the TeX of the equation that shares most symbols with another;
// "" if there is none.
func nearest(all []equation, n *texeval.Node) (tex string) {
	wanted, most := map[string]bool{}, -1
	n.Symbols(wanted)
	for _, e := range all {
		symbols, shared := map[string]bool{}, 0
		e.node.Symbols(symbols)
		for name := range symbols {
			if wanted[name] {
				shared++
			}
		}
		if shared > most {
			tex, most = e.tex, shared
		}
	}
	return tex
}

// left names an equation by its left side.
func left(n *texeval.Node) string {
	if name := n.Sides()[0].Symbol(); name != "" {
		return name
	}
	return "what stands here"
}
