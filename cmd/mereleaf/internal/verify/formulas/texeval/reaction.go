package texeval

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
)

// Balance compares the atoms and the charge on both sides of a reaction, which is
// written a \mathrm{A_2^{2-}} + … \to …
func Balance(tex string) error {
	left, right, found := strings.Cut(tex, `\to`)
	if !found {
		return fmt.Errorf(`a reaction needs a \to`)
	}
	a, err := side(left)
	if err != nil {
		return err
	}
	b, err := side(right)
	if err != nil {
		return err
	}
	for _, what := range slices.Sorted(maps.Keys(a)) {
		if a[what] != b[what] {
			return fmt.Errorf("%d %s on the left and %d on the right", a[what], what, b[what])
		}
		delete(b, what)
	}
	for _, what := range slices.Sorted(maps.Keys(b)) {
		if b[what] != 0 {
			return fmt.Errorf("no %s on the left and %d on the right", what, b[what])
		}
	}
	return nil
}

// side counts the atoms of one side, and its charge as "charge".
func side(tex string) (map[string]int, error) {
	count := map[string]int{}
	for len(strings.TrimSpace(tex)) > 0 {
		before, after, found := strings.Cut(tex, `\mathrm`)
		if !found {
			return nil, fmt.Errorf("%q names no substance", strings.TrimSpace(tex))
		}
		times := 1
		if n := strings.Trim(strings.NewReplacer(`\,`, "", "+", "").Replace(before), " "); n != "" {
			var err error
			if times, err = strconv.Atoi(n); err != nil {
				return nil, fmt.Errorf("%q counts no substance", n)
			}
		}
		formula, next, ok := group(after, 0)
		if !ok {
			return nil, fmt.Errorf(`\mathrm lacks its {}`)
		}
		if err := substance(formula, times, count); err != nil {
			return nil, err
		}
		tex = after[next:]
	}
	return count, nil
}

// substance adds the atoms and the charge of a formula such as S_2O_3^{2-}.
func substance(formula string, times int, count map[string]int) error {
	for i := 0; i < len(formula); {
		c := formula[i]
		switch {
		case c >= 'A' && c <= 'Z':
			j := i + 1
			for j < len(formula) && formula[j] >= 'a' && formula[j] <= 'z' {
				j++
			}
			atom := formula[i:j]
			n := 1
			if j < len(formula) && formula[j] == '_' {
				text, next := script(formula, j+1)
				var err error
				if n, err = strconv.Atoi(text); err != nil {
					return fmt.Errorf("%q counts no atoms", text)
				}
				j = next
			}
			count[atom] += times * n
			i = j
		case c == '^':
			text, next := script(formula, i+1)
			charge, err := charge(text)
			if err != nil {
				return err
			}
			count["charge"] += times * charge
			i = next
		default:
			return fmt.Errorf("%q is no part of a formula", formula[i:i+1])
		}
	}
	return nil
}

// script returns what hangs at i: a group or one letter.
func script(s string, i int) (text string, next int) {
	if text, next, ok := group(s, i); ok {
		return text, next
	}
	return s[i:min(i+1, len(s))], min(i+1, len(s))
}

// charge reads "2-", "+".
func charge(text string) (int, error) {
	sign := 1
	number, found := strings.CutSuffix(text, "+")
	if !found {
		if number, found = strings.CutSuffix(text, "-"); !found {
			return 0, fmt.Errorf("%q is no charge", text)
		}
		sign = -1
	}
	if number == "" {
		return sign, nil
	}
	n, err := strconv.Atoi(number)
	if err != nil {
		return 0, fmt.Errorf("%q is no charge", text)
	}
	return sign * n, nil
}
