package website

import (
	"slices"
	"strconv"
	"strings"

	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/paths"
	"mereleaf/cmd/mereleaf/internal/verify/crosscheck"
)

// agreed is what came of putting a calculator to a figure set, as a page shows
// it: by the calculator on the set's leaf, by the set on the calculator's.
type agreed struct {
	To   link   // the other leaf; zero for rows that no calculator is put to
	Text string // "54 figures in 54 rows, at most 0.021 % off"
	Why  string // reasons of wider tolerances, or of leaving rows out
}

func newAgreed(to link, r crosscheck.SetReport) agreed {
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
		a.Text += "; " + count(r.Excepted, "row") + " excepted"
	}
	if r.Tolerance > 0 {
		a.Text += "; " + percent(r.Tolerance) + " allowed"
		a.Why = fullStop(capital(r.Reason))
	}
	for _, x := range r.Exceptions {
		a.Why += " " + percent(x.Tolerance) + " allowed in " + count(x.Rows, "row") + ": " + fullStop(x.Reason)
	}
	a.Why = strings.TrimSpace(a.Why)
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
			to = link{Path: paths.Calculator(c.ID), Title: c.Title}
		}
		all = append(all, newAgreed(to, r))
	}
	if why := w.uncomputed(set); why != "" {
		all = append(all, agreed{Text: "No calculator computes them", Why: capital(why)})
	}
	return all
}

// uncomputed says why no calculator computes a set; "" if one does.
func (w *web) uncomputed(set string) string {
	for _, n := range w.agreed.Uncomputed {
		if n.Set == set {
			return fullStop(n.Reason)
		}
	}
	return ""
}

// checkedBy sums up, for the list of sets, what agreedOn tells of one: a line for
// each calculator, and one for each reason to leave rows out.
func (w *web) checkedBy(set string) []string {
	var ids []string
	sums := map[string]crosscheck.SetReport{}
	var out []string
	for _, r := range w.agreed.Sets {
		switch {
		case r.Set != set:
		case r.Calculator == "":
			out = append(out, count(r.Rows, "row")+" left out: "+fullStop(r.Reason))
		default:
			if !slices.Contains(ids, r.Calculator) {
				ids = append(ids, r.Calculator)
			}
			sum := sums[r.Calculator]
			sum.Figures += r.Figures
			sum.Excepted += r.Excepted
			sum.Largest = max(sum.Largest, r.Largest)
			sums[r.Calculator] = sum
		}
	}
	var lines []string
	for _, id := range ids {
		lines = append(lines, w.checksIn(id, sums[id]))
	}
	return append(lines, out...)
}

// checksIn is the line of one calculator: "Checks: Ice on the pond in 32 figures,
// at most 0.075 % off."
func (w *web) checksIn(id string, sum crosscheck.SetReport) string {
	title := id
	if c, ok := w.book.Calculators.Find(id); ok {
		title = c.Title
	}
	line := "Checks: " + title + " in " + count(sum.Figures, "figure")
	if sum.Exact() {
		line += ", none off"
	} else {
		line += ", at most " + percent(sum.Largest) + " off"
	}
	if sum.Excepted > 0 {
		line += "; " + count(sum.Excepted, "row") + " excepted"
	}
	return line + "."
}

// agreements is agreed in a list on the leaf at.
type agreements struct {
	at
	List []agreed
}

// Agreements prepares what was checked for the template "agreed".
func (a at) Agreements(all []agreed) agreements { return agreements{a, all} }
