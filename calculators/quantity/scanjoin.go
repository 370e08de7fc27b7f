package quantity

import "strings"

// joint is what stands between two numbers that share a unit.
type joint uint8

const (
	none joint = iota
	to         // "to", "–", "or"
	and
	comma
	times // "×", "by"
)

// mostNumbers bounds how many numbers one quantity has.
const mostNumbers = 6

// members reads the number at i and those that are joined to it.
func (g Grammar) members(text string, i int) []member {
	var all []member
	how := none
	for {
		n, end, words, ok := g.number(text, i)
		if !ok {
			return all
		}
		m := member{n: n, start: i, end: end, words: words, joint: how, unit: g.unitBehind(text, end)}
		all = append(all, m)
		if words && n.Step == 0 { // half and quarter stand alone
			return all
		}
		how, i = jointAt(text, max(end, m.unit.end))
		if how == none || len(all) == mostNumbers {
			return all
		}
	}
}

// jointAt reads what joins the number or unit that ends at i to the next.
func jointAt(text string, i int) (how joint, next int) {
	for _, j := range []struct {
		sign string
		how  joint
	}{{" to ", to}, {" – ", to}, {"–", to}, {" - ", to}, {" or ", to}, {" and ", and}, {", ", comma}, {" × ", times}, {"×", times}, {" x ", times}, {" by ", times}} {
		if end := i + len(j.sign); end < len(text) && samePlain(text[i:], j.sign) > 0 {
			return j.how, i + samePlain(text[i:], j.sign)
		}
	}
	if strings.HasPrefix(text[i:], "-") && nextDigit(text, i+1) {
		return to, i + 1
	}
	return none, i
}

// samePlain returns how long the sign is that s begins with, whatever blanks it
// has; 0 if it does not.
func samePlain(s, sign string) int {
	n := 0
	for i := 0; i < len(sign); i++ {
		if sign[i] == ' ' {
			size := blankSize(s[n:])
			if size == 0 {
				return 0
			}
			n += size
			continue
		}
		if n >= len(s) || s[n] != sign[i] {
			return 0
		}
		n++
	}
	return n
}

// together returns the numbers, from the first on, that make one quantity. In
// "pH 8.2 and 21 °C" and "140 × 6 mm" only the first does.
func together(all []member, between, labelled bool) []member {
	for n := len(all); n > 1; n-- {
		if one(all[:n], between, labelled) {
			return all[:n]
		}
	}
	return all[:1]
}

// one reports whether the numbers make one quantity: joined alike, with a unit
// behind the last, and behind the others the same or none.
func one(all []member, between, labelled bool) bool {
	last := all[len(all)-1]
	how := last.joint
	product := how == times
	for i, m := range all {
		if m.unit.end > 0 && (m.unit.fault != nil || m.unit.unit != last.unit.unit) {
			return false
		}
		if i > 0 && (m.joint == times) != product {
			return false
		}
		if i > 0 && m.joint == comma && (i == len(all)-1 || how != and && how != to) {
			return false // "30, 5 mg/L"
		}
		if i > 0 && i < len(all)-1 && !product && m.joint != comma {
			return false
		}
	}
	switch {
	case product && len(all) == 2 && all[0].n.Value > 10*last.n.Value:
		return false // so many of that size
	case labelled:
		return last.unit.end == 0 && len(all) == 2 && how == to
	case how == and && !between:
		return all[0].unit.end == 0 && (last.unit.end > 0 || len(all) > 2)
	}
	return true
}

func form(all []member, between bool) Form {
	last := all[len(all)-1]
	switch {
	case len(all) == 1:
		return Single
	case last.joint == times:
		return Product
	case len(all) == 2 && (last.joint == to || between):
		return Range
	}
	return List
}
