package edition

import (
	"slices"
	"strconv"

	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/agreement"
	"mereleaf/cmd/mereleaf/internal/place"
)

// agreed is what came of putting a calculator to a figure set, as a page shows
// it: by the calculator on the set's leaf, by the set on the calculator's.
type agreed struct {
	To   link   // the other leaf; zero for rows that no calculator is put to
	Text string // "54 figures in 54 rows, at most 0.021 % off"
	Why  string // reason of a wider tolerance, or of leaving rows out
}

func newAgreed(to link, r agreement.SetReport) agreed {
	if r.Calculator == "" {
		return agreed{Text: count(r.Rows, "row") + " left out", Why: fullStop(capital(r.Reason))}
	}
	a := agreed{To: to, Text: count(r.Figures, "figure") + " in " + count(r.Rows, "row") + ", "}
	if r.Exact() {
		a.Text += "none off"
	} else {
		a.Text += "at most " + percent(r.Largest) + " off"
	}
	if r.Excepted > 0 {
		a.Text += "; " + count(r.Excepted, "row") + " excepted for reasons given there"
	}
	if r.Tolerance > 0 {
		a.Text += "; " + percent(r.Tolerance) + " allowed"
		a.Why = fullStop(capital(r.Reason))
	}
	return a
}

// percent prints a share.
func percent(share float64) string { return quantity.FormatNumber(100*share, 2) + "\u00a0%" }

// count prints a number of things: "1 row", "2 rows".
func count(n int, thing string) string {
	s := strconv.Itoa(n) + "\u00a0" + thing
	if n != 1 {
		s += "s"
	}
	return s
}

// agreedOf lists what a calculator was checked against.
func (w *web) agreedOf(calculator string) []agreed {
	var all []agreed
	for _, r := range w.agreed.Sets {
		if r.Calculator == calculator {
			all = append(all, newAgreed(setLink(r.Set), r))
		}
	}
	return all
}

// agreedOn lists which calculators were checked against a set, or why none was.
func (w *web) agreedOn(set string) []agreed {
	var all []agreed
	for _, r := range w.agreed.Sets {
		if r.Set != set {
			continue
		}
		to := link{}
		if c, ok := w.book.Calculators.Find(r.Calculator); ok {
			to = link{Path: place.Calculator(c.ID), Title: c.Title}
		}
		all = append(all, newAgreed(to, r))
	}
	if why := w.uncomputed(set); why != "" {
		all = append(all, agreed{Text: "No calculator computes them", Why: why})
	}
	return all
}

// uncomputed says why no calculator computes a set; "" if one does.
func (w *web) uncomputed(set string) string {
	for _, n := range w.agreed.Uncomputed {
		if n.Set == set {
			return fullStop(capital(n.Reason))
		}
	}
	return ""
}

// checkedBy names the calculators that were put to a set, each once.
func (w *web) checkedBy(set string) []string {
	var titles []string
	for _, a := range w.agreedOn(set) {
		if a.To.Title != "" && !slices.Contains(titles, a.To.Title) {
			titles = append(titles, a.To.Title)
		}
	}
	return titles
}

// agreements is agreed in a list on the leaf at.
type agreements struct {
	at
	List []agreed
}

// Agreements prepares what was checked for the template "agreed".
func (a at) Agreements(all []agreed) agreements { return agreements{a, all} }
