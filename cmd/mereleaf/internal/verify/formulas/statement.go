package formulas

import (
	"fmt"
	"strings"

	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/verify/formulas/texeval"
)

// printedUnit is a unit as TeX prints it.
func printedUnit(code string) string {
	return strings.NewReplacer("\u00a0", "", " ", "", "µ", "μ").Replace(quantity.Symbol(code))
}

// statement evaluates one statement of the TeX where the function was called, and
// says what differs.
func (o outcome) statement(n *texeval.Node, result string, slack float64) string {
	sides := n.Sides()
	if o.truth != nil {
		holds, err := o.env.Holds(n, 0)
		if err != nil {
			return "cannot be evaluated: " + err.Error()
		}
		if holds != *o.truth {
			return fmt.Sprintf("holds: %t, and by its function: %t", holds, *o.truth)
		}
		return ""
	}
	values := make([]texeval.Interval, len(sides))
	for i, side := range sides {
		v, err := o.env.Eval(side)
		if err != nil {
			return "cannot be evaluated: " + err.Error()
		}
		if !v.Valid() {
			return "prints what has no value"
		}
		values[i] = v
	}
	if len(sides) == 1 {
		return differ(values[0], o.env.Values[result], result, slack)
	}
	return o.chain(n, values, slack)
}

// define gives a value to the symbols that only the TeX explains: "…, with
// h = 10^{-pH}".
func (o outcome) define(statements []*texeval.Node) {
	for range statements { // each may need one that stands behind it
		for _, n := range statements {
			sides := n.Sides()
			name := sides[0].Symbol()
			_, known := o.env.Values[name]
			_, list := o.env.Lists[base(name)]
			if known || list || name == "" || len(sides) != 2 || n.Relations()[0] != "=" {
				continue
			}
			if v, err := o.env.Eval(sides[1]); err == nil {
				o.env.Values[name] = v
			}
		}
	}
}

// chain compares the sides of a chain of relations. Where a result that is a
// range stands in it, what lies below is its low end and what lies above its
// high one.
func (o outcome) chain(n *texeval.Node, values []texeval.Interval, slack float64) string {
	sides, relations := n.Sides(), n.Relations()
	at := -1 // where the range stands
	for i, side := range sides {
		if _, ok := o.ranges[side.Symbol()]; ok && at < 0 {
			at = i
		}
	}
	for i, rel := range relations {
		name := sides[i].Symbol()
		if name == "" {
			name = "one side"
		}
		switch {
		case rel == "=":
			if fault := differ(values[i+1], values[i], name, slack); fault != "" {
				return fault
			}
		case at >= 0 && (rel == "≤" || rel == "≥"):
			other := values[i+1]
			if i < at {
				other = values[i]
			}
			symbol := sides[at].Symbol()
			end, which := o.ranges[symbol].High, ", high,"
			if (i < at) == (rel == "≤") {
				end, which = o.ranges[symbol].Low, ", low,"
			}
			if fault := differ(other, texeval.Point(end), symbol+which, slack); fault != "" {
				return fault
			}
		default:
			if !values[i].Holds(rel, values[i+1], slack) {
				return fmt.Sprintf("prints %s %s %s, which is not so", number(values[i]), rel, number(values[i+1]))
			}
		}
	}
	return ""
}

// differ says that the TeX gives another value than the function.
func differ(printed, computed texeval.Interval, name string, slack float64) string {
	if printed.Meets(computed, slack) {
		return ""
	}
	return fmt.Sprintf("gives %s where its function gives %s for %s", number(printed), number(computed), name)
}

func number(v texeval.Interval) string {
	if v.Low == v.High {
		return fmt.Sprintf("%.8g", v.Low)
	}
	return fmt.Sprintf("%.8g to %.8g", v.Low, v.High)
}
