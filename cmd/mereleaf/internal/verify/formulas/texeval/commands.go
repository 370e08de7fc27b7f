package texeval

import (
	"fmt"
)

// command reads a command and what it takes.
func (p *parser) command(name string) (*Node, error) {
	switch name {
	case "frac", "tfrac", "dfrac":
		p.at++
		above, err := p.argument()
		if err != nil {
			return nil, err
		}
		below, err := p.argument()
		return &Node{op: opDiv, args: []*Node{above, below}}, err
	case "sqrt":
		p.at++
		n, err := p.argument()
		return &Node{op: opCall, text: "sqrt", args: []*Node{n}}, err
	case "ln", "exp", "sin", "cos", "arctan", "log":
		p.at++
		return p.function(name)
	case "left", "lfloor", "lceil":
		return p.bracket()
	case "sum":
		return p.series()
	case "min", "max":
		p.at++
		return p.extreme(name)
	case "begin":
		return p.cases()
	case "dot":
		return p.symbol()
	}
	return nil, fmt.Errorf(`the command \%s is unknown`, name)
}

// function is a function that everybody knows, of the factor behind it.
func (p *parser) function(name string) (*Node, error) {
	if name == "log" {
		base, err := p.subscript()
		if err != nil || base != "10" {
			return nil, fmt.Errorf(`\log needs its base, \log_{10}`)
		}
	}
	n, err := p.power()
	return &Node{op: opCall, text: name, args: []*Node{n}}, err
}

// series is a sum over an index; without bounds it is the name of one, "ΣK".
func (p *parser) series() (*Node, error) {
	if p.tokens[p.at+1].text != "_" {
		return p.symbol()
	}
	p.at += 2
	if err := p.expect(mark, "{"); err != nil {
		return nil, err
	}
	index := p.next().text
	if err := p.expect(mark, "="); err != nil {
		return nil, err
	}
	from, err := p.sum()
	if err != nil {
		return nil, err
	}
	if err := p.expect(mark, "}"); err != nil {
		return nil, err
	}
	if err := p.expect(mark, "^"); err != nil {
		return nil, err
	}
	to, err := p.argument()
	if err != nil {
		return nil, err
	}
	body, err := p.term()
	return &Node{op: opSum, text: index, args: []*Node{from, to, body}}, err
}

// extreme is the least or most of a list in brackets, or over an index.
func (p *parser) extreme(name string) (*Node, error) {
	if p.peek().text == "_" {
		index, err := p.subscript()
		if err != nil {
			return nil, err
		}
		body, err := p.term()
		return &Node{op: opOver, text: name, base: index, args: []*Node{body}}, err
	}
	list, _, err := p.list()
	return &Node{op: opCall, text: name, args: list}, err
}

// cases is values with their conditions.
func (p *parser) cases() (*Node, error) {
	p.at++
	if environment(p.tokens, p.at) != "cases" {
		return nil, fmt.Errorf("only cases and aligned are known of the blocks")
	}
	p.at += len("{cases}")
	n := &Node{op: opCases}
	for {
		value, err := p.sum()
		if err != nil {
			return nil, err
		}
		if err := p.expect(mark, "&"); err != nil {
			return nil, err
		}
		condition, err := p.statement()
		if err != nil {
			return nil, err
		}
		if condition.Symbol() == "else" {
			condition = nil
		} else if condition.op != opRelation {
			return nil, fmt.Errorf("a case needs a comparison, or else")
		}
		n.args = append(n.args, value, condition)
		if p.accept(command, `\`) && p.peek().text != "end" {
			continue
		}
		if err := p.expect(command, "end"); err != nil {
			return nil, err
		}
		if environment(p.tokens, p.at) != "cases" {
			return nil, fmt.Errorf("the cases have no end")
		}
		p.at += len("{cases}")
		return n, nil
	}
}

// symbol reads a name: what stands before it, its letter or word, and what hangs
// on it.
func (p *parser) symbol() (*Node, error) {
	n := &Node{op: opSymbol}
	t := p.next()
	switch {
	case t.kind == command && t.text == "dot":
		p.accept(mark, "{")
		inner, err := p.symbol()
		if err != nil {
			return nil, err
		}
		p.accept(mark, "}")
		inner.text = "d" + inner.text + "/dt"
		return inner, nil
	case t.kind == command && t.text == "sum":
		inner, err := p.symbol()
		if err != nil {
			return nil, err
		}
		inner.text = "Σ" + inner.text
		return inner, nil
	case t.text == "[":
		n.text = "[" + p.next().text + "]"
		return n, p.expect(mark, "]")
	case t.kind != letter && t.kind != word:
		return nil, fmt.Errorf("%q stands where a symbol is expected", t.text)
	}
	n.text = t.text
	if after := p.peek(); (t.text == "Δ" || t.kind == word && t.text == "p") && (after.kind == letter || after.kind == word) && !after.apart {
		n.text += p.next().text
	}
	return n, p.hang(n)
}

// hang reads subscripts, stars and primes.
func (p *parser) hang(n *Node) error {
	for {
		switch {
		case p.peek().kind == mark && p.peek().text == "_":
			start := p.at + 1
			text, err := p.subscript()
			if err != nil {
				return err
			}
			n.base = n.text
			n.text += "_" + text
			n.sub = p.index(start)
		case p.peek().text == "^" && p.tokens[p.at+1].text == "*":
			p.at += 2
			n.text += "*"
		case p.accept(mark, "'"):
			n.text += "'"
		default:
			return nil
		}
	}
}

// subscript reads what hangs below, as text.
func (p *parser) subscript() (string, error) {
	if err := p.expect(mark, "_"); err != nil {
		return "", err
	}
	if !p.accept(mark, "{") {
		t := p.next()
		if t.kind != letter && t.kind != word && t.kind != number {
			return "", fmt.Errorf("%q hangs below a symbol", t.text)
		}
		return t.text, nil
	}
	text := ""
	for depth := 1; ; {
		t := p.next()
		switch {
		case t.kind == end:
			return "", fmt.Errorf("a subscript has no end")
		case t.text == "{":
			depth++
		case t.text == "}":
			if depth--; depth == 0 {
				return text, nil
			}
		default:
			text += t.text
		}
	}
}

// index reads the subscript that begins at a token as an expression, and returns
// nil where it is none.
func (p *parser) index(start int) *Node {
	inner := &parser{tokens: append(append([]token{}, p.tokens[start:p.at]...), token{kind: end})}
	n, err := inner.argument()
	if err != nil || inner.peek().kind != end {
		return nil
	}
	return n
}
