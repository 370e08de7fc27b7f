package texeval

import (
	"fmt"
	"slices"
	"strings"
)

// Parse reads TeX as a list of equations, comparisons or lone expressions.
// Functions are the names that stand for a function of one number; any other
// symbol before a bracket is a factor, or, alone on the left of a relation, the
// name of what depends on the bracket: C(t) = …
func Parse(tex string, functions ...string) ([]*Node, error) {
	tokens, err := lex(tex)
	if err != nil {
		return nil, err
	}
	p := &parser{tokens: flatten(tokens), functions: functions}
	var all []*Node
	for {
		for p.skipSeparator() {
		}
		if p.peek().kind == end {
			break
		}
		n, err := p.statement()
		if err != nil {
			return nil, err
		}
		all = append(all, n)
		if p.peek().kind != end && !p.skipSeparator() {
			return nil, fmt.Errorf("%q stands where an operation or the end is expected", p.peek().text)
		}
	}
	if len(all) == 0 {
		return nil, fmt.Errorf("there is no formula")
	}
	return all, nil
}

// flatten turns an aligned block into equations behind each other.
func flatten(tokens []token) []token {
	isAligned := func(i int) bool {
		return tokens[i].kind == command && (tokens[i].text == "begin" || tokens[i].text == "end") && environment(tokens, i+1) == "aligned"
	}
	if !slices.ContainsFunc(tokens, func(t token) bool { return t.text == "begin" }) {
		return tokens
	}
	var out []token
	inside := false
	for i := 0; i < len(tokens); i++ {
		t := tokens[i]
		switch {
		case t.kind != end && isAligned(i):
			inside = t.text == "begin"
			i += len("{aligned}")
			t = token{kind: mark, text: ";"}
		case inside && t.kind == mark && t.text == "&" && tokens[i+1].text == "=":
			continue
		case inside && (t.text == "&" || t.kind == command && t.text == `\`):
			t = token{kind: mark, text: ";"}
		}
		out = append(out, t)
	}
	return out
}

// environment returns the name in braces at i, letter by letter.
func environment(tokens []token, i int) string {
	name := ""
	if tokens[i].text != "{" {
		return ""
	}
	for i++; i < len(tokens) && tokens[i].kind == letter; i++ {
		name += tokens[i].text
	}
	if tokens[min(i, len(tokens)-1)].text != "}" {
		return ""
	}
	return name
}

type parser struct {
	tokens    []token
	at        int
	functions []string
	absolute  int // how many | are open
}

func (p *parser) peek() token { return p.tokens[p.at] }

func (p *parser) next() token {
	t := p.tokens[p.at]
	if t.kind != end {
		p.at++
	}
	return t
}

// accept takes the token if it is the mark or command.
func (p *parser) accept(k kind, text string) bool {
	if t := p.peek(); t.kind == k && t.text == text {
		p.at++
		return true
	}
	return false
}

func (p *parser) expect(k kind, text string) error {
	if p.accept(k, text) {
		return nil
	}
	if p.peek().kind == end {
		return fmt.Errorf("the formula ends where %q is expected", text)
	}
	return fmt.Errorf("%q stands where %q is expected", p.peek().text, text)
}

func (p *parser) skipSeparator() bool {
	return p.accept(mark, ",") || p.accept(mark, ";") || p.accept(command, "quad") || p.accept(command, "qquad")
}

// statement is a chain of comparisons, or an expression alone.
func (p *parser) statement() (*Node, error) {
	left, err := p.left()
	if err != nil {
		return nil, err
	}
	chain := &Node{op: opRelation, args: []*Node{left}}
	for {
		rel := p.relation()
		if rel == "" {
			break
		}
		right, err := p.sum()
		if err != nil {
			return nil, err
		}
		chain.rel, chain.args = append(chain.rel, rel), append(chain.args, right)
	}
	if len(chain.rel) == 0 {
		return left, nil
	}
	return chain, nil
}

// left is the first side of a statement. A symbol with a bracket alone before
// the relation is the symbol: what stands in the bracket only says on what it
// depends.
func (p *parser) left() (*Node, error) {
	start := p.at
	if t := p.peek(); t.kind == letter || t.kind == word {
		if n, err := p.symbol(); err == nil && !slices.Contains(p.functions, n.text) && p.accept(mark, "(") {
			for depth := 1; depth > 0 && p.peek().kind != end; {
				switch t := p.next(); t.text {
				case "(":
					depth++
				case ")":
					depth--
				}
			}
			if p.peek().kind == mark && p.peek().text == "=" {
				return n, nil
			}
		}
		p.at = start
	}
	return p.sum()
}

func (p *parser) relation() string {
	t := p.peek()
	rel := ""
	switch {
	case t.kind == mark && (t.text == "=" || t.text == "<" || t.text == ">"):
		rel = t.text
	case t.kind == command && (t.text == "le" || t.text == "leq"):
		rel = "≤"
	case t.kind == command && (t.text == "ge" || t.text == "geq"):
		rel = "≥"
	}
	if rel != "" {
		p.at++
	}
	return rel
}

// sum is terms with + and - between them. The unit behind it is the sum's.
func (p *parser) sum() (*Node, error) {
	n, err := p.signed()
	for err == nil {
		o := opAdd
		switch {
		case p.accept(mark, "+"):
		case p.accept(mark, "-"):
			o = opSub
		default:
			if t := p.tokens[max(p.at-1, 0)]; t.kind == unit {
				n.unit = t.text
			}
			return n, nil
		}
		var right *Node
		right, err = p.signed()
		n = &Node{op: o, args: []*Node{n, right}}
	}
	return nil, err
}

// signed is a term, with a minus before it or not.
func (p *parser) signed() (*Node, error) {
	if p.accept(mark, "-") {
		n, err := p.term()
		return &Node{op: opNeg, args: []*Node{n}}, err
	}
	p.accept(mark, "+")
	return p.term()
}

// term is a product or quotient, from left to right.
func (p *parser) term() (*Node, error) {
	n, err := p.power()
	for err == nil {
		o := opMul
		switch {
		case p.peek().kind == unit:
			p.at++
			continue
		case p.accept(command, "cdot") || p.accept(command, "times"):
		case p.accept(mark, "/"):
			o = opDiv
		case !p.begins():
			return n, nil
		}
		var right *Node
		right, err = p.power()
		n = &Node{op: o, args: []*Node{n, right}}
	}
	return nil, err
}

// begins reports whether a factor begins here.
func (p *parser) begins() bool {
	switch t := p.peek(); t.kind {
	case number, letter, word:
		return true
	case command:
		return slices.Contains(strings.Fields("frac tfrac dfrac sqrt ln log exp sin cos arctan left sum min max begin dot lfloor lceil"), t.text)
	case mark:
		return t.text == "(" || t.text == "[" || t.text == "{" || t.text == "|" && p.absolute == 0
	}
	return false
}

// power is a factor and what it is raised to.
func (p *parser) power() (*Node, error) {
	n, err := p.factor()
	if err != nil || !p.accept(mark, "^") {
		return n, err
	}
	exponent, err := p.argument()
	return &Node{op: opPow, args: []*Node{n, exponent}}, err
}

// argument is what a command takes: a group, or one token.
func (p *parser) argument() (*Node, error) {
	if p.accept(mark, "{") {
		n, err := p.sum()
		if err != nil {
			return nil, err
		}
		return n, p.expect(mark, "}")
	}
	t := p.peek()
	if t.kind == number && len(t.text) > 1 { // TeX takes one digit
		p.tokens = slices.Clone(p.tokens)
		p.tokens[p.at].text = t.text[1:]
		return &Node{op: opNumber, text: t.text[:1]}, nil
	}
	switch t.kind {
	case number:
		p.at++
		return &Node{op: opNumber, text: t.text}, nil
	case letter, word:
		return p.symbol()
	}
	return nil, fmt.Errorf("%q stands where an operand is expected", t.text)
}

// brackets are the opening brackets and what closes them.
var brackets = map[string]string{"(": ")", "[": "]", "{": "}", "|": "|", "lfloor": "rfloor", "lceil": "rceil"}

func (p *parser) factor() (*Node, error) {
	switch t := p.peek(); t.kind {
	case number:
		p.at++
		return &Node{op: opNumber, text: t.text}, nil
	case letter, word:
		return p.name()
	case mark:
		if t.text == "[" && p.tokens[p.at+1].kind == word { // a concentration: [CO_2]
			return p.symbol()
		}
		if brackets[t.text] != "" {
			return p.bracket()
		}
	case command:
		return p.command(t.text)
	case end:
		return nil, fmt.Errorf("the formula ends where an operand is expected")
	}
	return nil, fmt.Errorf("%q stands where an operand is expected", p.peek().text)
}

// name is a symbol, or a function with its bracket.
func (p *parser) name() (*Node, error) {
	n, err := p.symbol()
	if err != nil || !slices.Contains(p.functions, n.text) || !p.opens() {
		return n, err
	}
	arg, err := p.bracket()
	return &Node{op: opApply, args: []*Node{n, arg}}, err
}

// opens reports whether a round bracket opens here.
func (p *parser) opens() bool {
	return p.peek().text == "(" || p.peek().text == "left" && p.tokens[p.at+1].text == "("
}

// bracket is an expression in brackets of any kind.
func (p *parser) bracket() (*Node, error) {
	list, open, err := p.list()
	if err != nil {
		return nil, err
	}
	if len(list) != 1 {
		return nil, fmt.Errorf("a bracket holds %d expressions", len(list))
	}
	switch open {
	case "|":
		return &Node{op: opCall, text: "abs", args: list}, nil
	case "lfloor":
		return &Node{op: opCall, text: "floor", args: list}, nil
	case "lceil":
		return &Node{op: opCall, text: "ceil", args: list}, nil
	}
	return list[0], nil
}

// list is expressions in brackets, with commas between them.
func (p *parser) list() (list []*Node, open string, err error) {
	sized := p.accept(command, "left")
	open = p.next().text
	closing := brackets[open]
	if closing == "" {
		return nil, open, fmt.Errorf("%q opens no bracket", open)
	}
	outer := p.absolute
	p.absolute = 0
	if open == "|" {
		p.absolute = 1
	}
	for {
		n, err := p.sum()
		if err != nil {
			return nil, open, err
		}
		list = append(list, n)
		if !p.accept(mark, ",") {
			break
		}
	}
	p.absolute = outer
	if sized {
		if err := p.expect(command, "right"); err != nil {
			return nil, open, err
		}
	}
	if t := p.next(); t.text != closing {
		return nil, open, fmt.Errorf("%q stands where %q closes a bracket", t.text, closing)
	}
	return list, open, nil
}
