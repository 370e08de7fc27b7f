package texeval

import (
	"fmt"
	"strings"
)

// kind is what a token is.
type kind uint8

const (
	number  kind = iota // 4.54609
	letter              // x, or a Greek or other letter of a command: α
	word                // \mathrm{in}: its letters, which form one name
	command             // \frac, without the backslash
	mark                // one of + - / ^ _ ( ) [ ] { } | = < > , ; & ' *
	unit                // \ \mathrm{mg/L}: a unit behind a value
	end
)

type token struct {
	kind kind
	text string
	// apart says that space stands before it, so that it joins no name.
	apart bool
}

// letters are the commands that stand for one letter of a name.
var letters = map[string]string{
	"alpha": "α", "beta": "β", "gamma": "γ", "delta": "δ", "varepsilon": "ε", "epsilon": "ε", "eta": "η",
	"theta": "θ", "lambda": "λ", "mu": "μ", "nu": "ν", "rho": "ρ", "sigma": "σ", "tau": "τ", "pi": "π",
	"Delta": "Δ", "infty": "∞",
}

// spaces are the commands that only space. A quad separates equations.
var spaces = map[string]bool{",": true, ";": true, ":": true, "!": true}

// lex splits TeX into tokens.
func lex(tex string) ([]token, error) {
	var out []token
	apart := false
	add := func(k kind, text string) {
		out = append(out, token{k, text, apart})
		apart = false
	}
	for i := 0; i < len(tex); {
		c := tex[i]
		switch {
		case c == ' ' || c == '\n' || c == '\t' || c == '~':
			i++
		case c >= '0' && c <= '9' || c == '.':
			j := i
			for j < len(tex) && (tex[j] >= '0' && tex[j] <= '9' || tex[j] == '.') {
				j++
			}
			add(number, tex[i:j])
			i = j
		case c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z':
			add(letter, tex[i:i+1])
			i++
		case c == '\\':
			name, next := commandAt(tex, i+1)
			i = next
			switch {
			case spaces[name]:
				apart = true
			case name == " ":
				apart = true
				if text, after, ok := unitAt(tex, i); ok {
					add(unit, text)
					i = after
				}
			case name == "mathrm" || name == "text":
				text, after, ok := group(tex, i)
				if !ok || bare(text) == "" {
					return nil, fmt.Errorf(`\%s lacks its {} or what stands in them`, name)
				}
				add(word, bare(text))
				i = after
			case letters[name] != "":
				add(letter, letters[name])
			default:
				add(command, name)
			}
		case strings.IndexByte("+-/^_()[]{}|=<>,;&'*", c) >= 0:
			add(mark, tex[i:i+1])
			i++
		default:
			return nil, fmt.Errorf("%q has no meaning here", tex[i:i+1])
		}
	}
	return append(out, token{kind: end}), nil
}

// commandAt returns the name of a command, without its backslash.
func commandAt(tex string, i int) (name string, next int) {
	j := i
	for j < len(tex) && (tex[j] >= 'a' && tex[j] <= 'z' || tex[j] >= 'A' && tex[j] <= 'Z') {
		j++
	}
	if j == i && j < len(tex) {
		j++
	}
	return tex[i:j], j
}

// unitAt returns the unit that stands at i, if one does: an upright word, or the
// circle of a degree and one.
func unitAt(tex string, i int) (text string, next int, ok bool) {
	rest := strings.TrimLeft(tex[i:], " ")
	i = len(tex) - len(rest)
	degree := ""
	if after, found := strings.CutPrefix(rest, `^\circ`); found {
		degree, i = "°", len(tex)-len(after)
	}
	after, found := strings.CutPrefix(tex[i:], `\mathrm`)
	if !found {
		return "", 0, false
	}
	text, next, ok = group(tex, len(tex)-len(after))
	return degree + bare(text), next, ok
}

// group returns what stands in the braces at i.
func group(tex string, i int) (text string, next int, ok bool) {
	if i >= len(tex) || tex[i] != '{' {
		return "", 0, false
	}
	depth := 0
	for j := i; j < len(tex); j++ {
		switch tex[j] {
		case '{':
			depth++
		case '}':
			if depth--; depth == 0 {
				return tex[i+1 : j], j + 1, true
			}
		}
	}
	return "", 0, false
}

// bare is upright text without what only sets it.
func bare(text string) string {
	for name, greek := range letters {
		text = strings.ReplaceAll(text, `\`+name+" ", greek)
	}
	return strings.NewReplacer("{", "", "}", "", `\,`, "", `\ `, "", " ", "", `\cdot`, "·").Replace(text)
}
