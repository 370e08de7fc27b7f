package texeval

import (
	"fmt"
	"math"
	"strings"
)

// Node is an expression. The zero Node is none.
type Node struct {
	op   op
	text string  // of a number its digits, of a symbol or function its name
	base string  // of a symbol with a subscript: what the subscript hangs on
	sub  *Node   // its subscript, where that is an expression
	args []*Node // operands; of cases: value and condition in turn
	rel  []string
	unit string // what stands behind it
}

type op uint8

const (
	opNumber op = iota
	opSymbol
	opAdd
	opSub
	opMul
	opDiv
	opPow
	opNeg
	opCall     // a function that everybody knows: text, args
	opApply    // a symbol before a bracket: args[0] the symbol, args[1] the bracket
	opSum      // text the index; args from, to, body
	opOver     // text "min" or "max", base the index; args body
	opCases    // value and condition in turn; a condition nil is "else"
	opRelation // args and rel between them
)

// Symbol returns the name of a node that is one symbol, "" of others. A symbol
// before a bracket, C(t), is one when it stands alone on its side.
func (n *Node) Symbol() string {
	switch n.op {
	case opSymbol:
		return n.text
	case opApply:
		return n.args[0].text
	}
	return ""
}

// Unit is the unit that stands behind the expression, as printed; "" for none.
func (n *Node) Unit() string { return n.unit }

// Sides are the expressions between the relations; of an expression alone,
// itself.
func (n *Node) Sides() []*Node {
	if n.op == opRelation {
		return n.args
	}
	return []*Node{n}
}

// Relations stand between the sides: =, ≤, ≥, < or >.
func (n *Node) Relations() []string { return n.rel }

// String is the expression in a form of its own, the same for the same formula
// however its TeX is spaced.
func (n *Node) String() string {
	if n == nil {
		return "else"
	}
	switch n.op {
	case opNumber, opSymbol:
		return n.text
	}
	parts := make([]string, len(n.args))
	for i, a := range n.args {
		parts[i] = a.String()
	}
	if n.op == opRelation {
		s := parts[0]
		for i, r := range n.rel {
			s += " " + r + " " + parts[i+1]
		}
		return s
	}
	return fmt.Sprintf("%d%s%s(%s)", n.op, n.text, n.base, strings.Join(parts, " "))
}

// Symbols adds the names of all symbols to a set.
func (n *Node) Symbols(into map[string]bool) {
	if n == nil {
		return
	}
	if n.op == opSymbol {
		into[n.text] = true
		if n.base != "" {
			into[n.base] = true
		}
	}
	n.sub.Symbols(into)
	for _, a := range n.args {
		a.Symbols(into)
	}
}

// Env is what the symbols of a formula stand for.
type Env struct {
	Values map[string]Interval
	Lists  map[string][]float64             // by the name without its index: "A"
	Funcs  map[string]func(float64) float64 // functions of one number
	// Rounded says that a number with decimals was rounded to them; a whole one
	// is exact.
	Rounded bool
}

// Eval evaluates an expression.
func (e *Env) Eval(n *Node) (Interval, error) {
	switch n.op {
	case opNumber:
		return e.number(n.text)
	case opSymbol:
		return e.symbol(n)
	case opApply:
		return e.apply(n)
	case opSum, opOver:
		return e.over(n)
	case opCases:
		return e.cases(n)
	case opRelation:
		return Interval{}, fmt.Errorf("a comparison has no value")
	}
	args := make([]Interval, len(n.args))
	for i, a := range n.args {
		v, err := e.Eval(a)
		if err != nil {
			return v, err
		}
		args[i] = v
	}
	switch n.op {
	case opAdd:
		return args[0].Plus(args[1]), nil
	case opSub:
		return args[0].Minus(args[1]), nil
	case opMul:
		return args[0].Times(args[1]), nil
	case opDiv:
		return args[0].Over(args[1]), nil
	case opPow:
		return args[0].Power(args[1]), nil
	case opNeg:
		return Point(0).Minus(args[0]), nil
	}
	return call(n.text, args)
}

func (e *Env) number(text string) (Interval, error) {
	v, off, err := Digits(text)
	if err != nil || !e.Rounded || !strings.Contains(text, ".") {
		off = 0
	}
	return Around(v, off), err
}

func (e *Env) symbol(n *Node) (Interval, error) {
	if v, ok := e.Values[n.text]; ok {
		return v, nil
	}
	if list, ok := e.Lists[n.base]; ok && n.sub != nil {
		index, err := e.Eval(n.sub)
		if err != nil {
			return index, err
		}
		i := int(math.Round(index.Low))
		if i < 0 || i >= len(list) {
			return Point(math.NaN()), fmt.Errorf("%s has no item %d", n.base, i)
		}
		return Point(list[i]), nil
	}
	switch n.text {
	case "π":
		return Point(math.Pi), nil
	case "e":
		return Point(math.E), nil
	case "∞":
		return Point(math.Inf(1)), nil
	}
	return Interval{}, fmt.Errorf("nothing says what %s stands for", n.text)
}

// apply calls a function, or multiplies where there is none of the name.
func (e *Env) apply(n *Node) (Interval, error) {
	arg, err := e.Eval(n.args[1])
	if err != nil {
		return arg, err
	}
	if f, ok := e.Funcs[n.args[0].text]; ok {
		return hull(f(arg.Low), f(arg.High)), nil
	}
	factor, err := e.symbol(n.args[0])
	return factor.Times(arg), err
}

// over sums, or takes the least or most, over an index. Without bounds it runs
// as far as the lists go: over what the body finds in them.
func (e *Env) over(n *Node) (Interval, error) {
	index, from, to := n.text, 0, 0
	body := n.args[len(n.args)-1]
	if n.op == opOver {
		index = n.base
		for _, list := range e.Lists {
			to = max(to, len(list)-1)
		}
	} else {
		for i, at := range []*int{&from, &to} {
			v, err := e.Eval(n.args[i])
			if err != nil {
				return v, err
			}
			*at = int(math.Round(v.Low))
		}
	}
	if to-from > 1000 {
		return Interval{}, fmt.Errorf("a sum of %d terms is too long", to-from)
	}
	inner := *e
	inner.Values = map[string]Interval{}
	for name, v := range e.Values {
		inner.Values[name] = v
	}
	sum, found := Point(0), []Interval{}
	for i := from; i <= to; i++ {
		inner.Values[index] = Point(float64(i))
		v, err := inner.Eval(body)
		if err != nil {
			return v, err
		}
		sum, found = sum.Plus(v), append(found, v)
	}
	if n.op == opSum {
		return sum, nil
	}
	return call(n.text, found)
}

// cases takes the first value whose condition holds.
func (e *Env) cases(n *Node) (Interval, error) {
	for i := 0; i+1 < len(n.args); i += 2 {
		if n.args[i+1] != nil {
			holds, err := e.Holds(n.args[i+1], 0)
			if err != nil {
				return Interval{}, err
			}
			if !holds {
				continue
			}
		}
		return e.Eval(n.args[i])
	}
	return Point(math.NaN()), nil
}

// Holds reports whether a chain of comparisons may be true, give or take a
// relative slack.
func (e *Env) Holds(n *Node, slack float64) (bool, error) {
	if n.op != opRelation {
		return false, fmt.Errorf("%s compares nothing", n)
	}
	for i, rel := range n.rel {
		a, err := e.Eval(n.args[i])
		if err != nil {
			return false, err
		}
		b, err := e.Eval(n.args[i+1])
		if err != nil {
			return false, err
		}
		if !a.Holds(rel, b, slack) {
			return false, nil
		}
	}
	return true, nil
}

// call applies a function that everybody knows.
func call(name string, args []Interval) (Interval, error) {
	if len(args) == 0 {
		return Interval{}, fmt.Errorf("%s of nothing", name)
	}
	a := args[0]
	switch name {
	case "ln":
		return a.rising(math.Log), nil
	case "log":
		return a.rising(math.Log10), nil
	case "exp":
		return a.rising(math.Exp), nil
	case "sqrt":
		return a.Power(Point(0.5)), nil
	case "arctan":
		return a.rising(math.Atan), nil
	case "sin":
		return a.rising(math.Sin), nil
	case "cos":
		return a.rising(math.Cos), nil
	case "abs":
		return a.magnitude(), nil
	case "floor":
		return a.rising(func(v float64) float64 { return math.Floor(v + 1e-9) }), nil
	case "ceil":
		return a.rising(func(v float64) float64 { return math.Ceil(v - 1e-9) }), nil
	case "min", "max":
		for _, b := range args[1:] {
			if name == "min" {
				a = Interval{math.Min(a.Low, b.Low), math.Min(a.High, b.High)}
			} else {
				a = Interval{math.Max(a.Low, b.Low), math.Max(a.High, b.High)}
			}
		}
		return a, nil
	}
	return Interval{}, fmt.Errorf("the function %s is unknown", name)
}
