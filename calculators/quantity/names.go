package quantity

import "strings"

// Symbol returns the printed form of a UCUM code: "m²/m³" for "m2/m3", "gal
// (US)" for "[gal_us]". The unit 1 and the pH scale print as nothing.
func Symbol(code string) string {
	switch code {
	case "1", "[pH]":
		return ""
	case "Cel":
		return "°C"
	case "[degF]":
		return "°F"
	case "kW.h":
		return "kWh"
	case "[mi_i]/h":
		return "mph"
	case "wk", "mo", "a":
		return atomName(code) + "s"
	}
	var b strings.Builder
	for code != "" {
		i := operator(code)
		b.WriteString(atomSymbol(code[:i]))
		if i == len(code) {
			break
		}
		if code[i] == '.' {
			b.WriteString("·")
		} else {
			b.WriteByte(code[i])
		}
		code = code[i+1:]
	}
	return b.String()
}

// operator returns where the first operator or bracket of a code stands that is
// not inside a name, or the code's length.
func operator(code string) int {
	inside := false
	for i := range len(code) {
		switch code[i] {
		case '[', '{':
			inside = true
		case ']', '}':
			inside = false
		case '.', '/', '(', ')':
			if !inside {
				return i
			}
		}
	}
	return len(code)
}

func atomSymbol(s string) string {
	power := ""
	for len(s) > 1 && (isDigit(s[len(s)-1]) || s[len(s)-1] == '-') {
		power = superscript(s[len(s)-1]) + power
		s = s[:len(s)-1]
	}
	return atomName(s) + power
}

func atomName(s string) string {
	switch s {
	case "[in_i]":
		return "in"
	case "[ft_i]":
		return "ft"
	case "[yd_i]":
		return "yd"
	case "[mi_i]":
		return "mi"
	case "[lb_av]":
		return "lb"
	case "[oz_av]":
		return "oz"
	case "[lbf_av]":
		return "lbf"
	case "[psi]":
		return "psi"
	case "[ppm]":
		return "ppm"
	case "[ppb]":
		return "ppb"
	case "[ppth]":
		return "ppt"
	case "m[Hg]":
		return "mHg"
	case "mm[Hg]":
		return "mmHg"
	case "[in_i'Hg]":
		return "inHg"
	case "[kn_i]":
		return "knots"
	case "[stone_av]":
		return "stone"
	case "[degR]":
		return "°R"
	case "[Btu_IT]":
		return "Btu"
	case "[pH]":
		return "pH"
	case "Cel":
		return "°C"
	case "[degF]":
		return "°F"
	case "{currency}":
		return "money"
	case "{NTU}":
		return "NTU"
	case "deg":
		return "°"
	case "wk":
		return "week"
	case "mo":
		return "month"
	case "a":
		return "year"
	}
	if strings.HasPrefix(s, "{") {
		return strings.Trim(s, "{}")
	}
	if name, ok := strings.CutSuffix(s, "_us]"); ok {
		return liquid(name) + " (US)"
	}
	if name, ok := strings.CutSuffix(s, "_br]"); ok {
		return liquid(name) + " (imp)"
	}
	if strings.HasPrefix(s, "u") && len(s) > 1 {
		return "µ" + s[1:]
	}
	return s
}

// liquid prints the code of a measure of liquids without its country: "[gal".
func liquid(code string) string {
	switch code {
	case "[foz":
		return "fl oz"
	case "[tbs":
		return "tbsp"
	}
	return code[1:]
}

func superscript(c byte) string {
	if c == '-' {
		return "⁻"
	}
	return string([]rune("⁰¹²³⁴⁵⁶⁷⁸⁹")[c-'0'])
}
