package quantity

import "strings"

// UnitNamed reads a unit as people write it, "US gal/h", "feet", "mg/L a day",
// or as a UCUM code. What a name means for one kind only (ppt) it does not know;
// gallons must say which. Degrees of a scale per something are a difference: "1
// °C a day" is 1 K/d.
func UnitNamed(name string) (Unit, bool) {
	s := tidy(name)
	if u, err := ParseUnit(s); err == nil {
		return u, true
	}
	u, err := ParseUnit(codeNamed(s))
	return u, err == nil
}

// unitNamed returns the UCUM code of a unit's everyday name, such as "US
// gal/h", "feet" or "°F". A code passes through unchanged, known or not.
func unitNamed(name string, kind Kind) string {
	s := tidy(name)
	for _, code := range kind.Units() {
		if SameLetters(s, code) || SameLetters(s, tidy(Symbol(code))) {
			return code
		}
	}
	if code, ok := namedByKind(lower(s), kind); ok {
		return code
	}
	if code, ok := typedUnit(lower(s), kind); ok {
		return code
	}
	return codeNamed(s)
}

// codeNamed puts codes for the parts of a tidy name that it knows.
func codeNamed(s string) string {
	if code, ok := gallonRate(lower(s)); ok {
		return code
	}
	parts := strings.Split(s, "/")
	for i, part := range parts {
		parts[i] = partNamed(strings.TrimSpace(part))
	}
	if len(parts) > 1 {
		switch parts[0] {
		case "Cel":
			parts[0] = "K"
		case "[degF]":
			parts[0] = "[degR]"
		}
	}
	return strings.Join(parts, "/")
}

// partNamed returns the code of one factor, or of several with a point between.
func partNamed(part string) string {
	if code, ok := commonName(lower(part)); ok {
		return code
	}
	if first, rest, ok := strings.Cut(part, "·"); ok {
		return partNamed(first) + "." + partNamed(rest)
	}
	name := strings.TrimRight(part, "-0123456789")
	if code, ok := commonName(lower(name)); ok && name != part {
		return code + part[len(name):]
	}
	return part
}

// tidy brings the many ways to type one name into one: plain spaces and
// quotes, digits for raised digits, a slash for "per", no abbreviation points.
func tidy(name string) string {
	if isTidy(name) {
		return name
	}
	s := strings.Map(plainRune, name)
	s = strings.ReplaceAll(strings.ReplaceAll(s, "per cent", "%"), "percent", "%")
	words := strings.Fields(s)
	for i, w := range words {
		switch w = strings.TrimSuffix(w, "."); lower(w) {
		case "per":
			w = "/"
		case "a", "an", "each":
			if _, ok := timeName(lower(strings.Join(words[i+1:min(i+2, len(words))], ""))); ok && i > 0 {
				w = "/"
			}
		case "degree", "degrees", "deg":
			if i+1 < len(words) {
				w = "°"
			}
		}
		words[i] = w
	}
	s = strings.Join(words, " ")
	s = strings.ReplaceAll(strings.ReplaceAll(s, " /", "/"), "/ ", "/")
	return strings.ReplaceAll(s, "° ", "°")
}

// isTidy reports most names, which are one word of letters with one way to type it.
func isTidy(name string) bool {
	for i := range len(name) {
		c := name[i]
		if !isLetter(c) && !isDigit(c) && c != '/' && !strings.HasPrefix(name[i:], "°") && !(i > 0 && strings.HasPrefix(name[i-1:], "°")) {
			return false
		}
	}
	return name != "per" && !strings.Contains(name, "percent")
}

func plainRune(r rune) rune {
	switch r {
	case '\u00a0', '\u202f':
		return ' '
	case '²':
		return '2'
	case '³':
		return '3'
	case '¹':
		return '1'
	case '⁴':
		return '4'
	case '⁵':
		return '5'
	case '⁻':
		return '-'
	case '^':
		return -1
	case '’', '′':
		return '\''
	case '”', '″':
		return '"'
	case 'º':
		return '°'
	case 'µ', 'μ':
		return 'u'
	}
	return r
}

// namedByKind reads names that mean something only for one kind.
func namedByKind(s string, kind Kind) (code string, ok bool) {
	switch s {
	case "ph":
		return "[pH]", kind == PH
	case "ppm": // in fresh water the trade's ppm is mg/L
		return "mg/L", kind == Concentration
	case "ppt", "‰":
		if kind == Concentration {
			return "g/L", true
		}
		return "g/kg", kind == Salinity
	}
	return "", false
}

// gallonRate reads "US gph" and "gpm (imp)".
func gallonRate(s string) (code string, ok bool) {
	which, rest, twice := gallonWords(s)
	switch {
	case which == "" || twice:
		return "", false
	case rest == "gph":
		return which + "/h", true
	case rest == "gpm":
		return which + "/min", true
	case rest == "gpd":
		return which + "/d", true
	}
	return "", false
}

// gallonWords splits "US gal" or "gallons (imp)" into the code of the gallon,
// "" if none is said, and the other words. twice reports that both are said.
func gallonWords(s string) (which, rest string, twice bool) {
	var others []string
	for _, word := range strings.FieldsFunc(s, func(r rune) bool { return strings.ContainsRune(" ()", r) }) {
		code := ""
		switch word {
		case "us", "u.s", "usa":
			code = "[gal_us]"
		case "imp", "imperial", "uk", "u.k", "british":
			code = "[gal_br]"
		default:
			others = append(others, word)
			continue
		}
		twice = twice || which != "" && which != code
		which = code
	}
	return which, strings.Join(others, " "), twice
}

// AmbiguousGallon reports whether a name says gallons but not which.
func AmbiguousGallon(name string) bool {
	over, _, _ := strings.Cut(lower(tidy(name)), "/")
	which, rest, twice := gallonWords(over)
	switch rest {
	case "gal", "gals", "gallon", "gallons", "gph", "gpm", "gpd":
		return which == "" || twice
	}
	return false
}

// commonName reads one name, in lower case, that means the same for all kinds.
func commonName(s string) (code string, ok bool) {
	if which, rest, twice := gallonWords(s); which != "" && !twice {
		switch rest {
		case "gal", "gals", "gallon", "gallons":
			return which, true
		}
	}
	if code, ok := lengthName(s); ok {
		return code, true
	}
	if code, ok := timeName(s); ok {
		return code, true
	}
	switch s {
	case "l", "lt", "ltr", "litre", "litres", "liter", "liters":
		return "L", true
	case "ml", "millilitre", "millilitres", "milliliter", "milliliters":
		return "mL", true
	case "gram", "grams":
		return "g", true
	case "kilo", "kilos", "kilogram", "kilograms", "kgs":
		return "kg", true
	case "tonne", "tonnes":
		return "t", true
	case "lb", "lbs", "pound", "pounds":
		return "[lb_av]", true
	case "oz", "ounce", "ounces":
		return "[oz_av]", true
	case "c", "°c", "cel", "celsius":
		return "Cel", true
	case "f", "°f", "fahrenheit":
		return "[degF]", true
	case "watt", "watts":
		return "W", true
	case "kwh", "kilowatt-hour", "kilowatt-hours":
		return "kW.h", true
	case "volt", "volts":
		return "V", true
	case "mg", "milligram", "milligrams":
		return "mg", true
	}
	return rareName(s)
}

// rareName reads the names of units that are met in figures.
func rareName(s string) (code string, ok bool) {
	switch s {
	case "lph":
		return "L/h", true
	case "lpm":
		return "L/min", true
	case "mph":
		return "[mi_i]/h", true
	case "mile", "miles":
		return "[mi_i]", true
	case "°r":
		return "[degR]", true
	case "°", "degree", "degrees":
		return "deg", true
	case "°dh", "dkh", "°dkh", "°dgh":
		return "{°dH}", true
	case "°fh":
		return "{°fH}", true
	case "ph":
		return "[pH]", true
	case "ppm":
		return "[ppm]", true
	case "psi":
		return "[psi]", true
	case "lbf":
		return "[lbf_av]", true
	case "btu":
		return "[Btu_IT]", true
	case "mmhg":
		return "mm[Hg]", true
	case "inhg":
		return "[in_i'Hg]", true
	case "ntu":
		return "{NTU}", true
	}
	return "", false
}

func lengthName(s string) (code string, ok bool) {
	switch s {
	case "metre", "metres", "meter", "meters":
		return "m", true
	case "centimetre", "centimetres", "centimeter", "centimeters":
		return "cm", true
	case "millimetre", "millimetres", "millimeter", "millimeters":
		return "mm", true
	case "ft", "foot", "feet", "'":
		return "[ft_i]", true
	case "in", "inch", "inches", `"`:
		return "[in_i]", true
	case "yd", "yard", "yards":
		return "[yd_i]", true
	case "cu m", "cubic metre", "cubic metres", "cubic meter", "cubic meters":
		return "m3", true
	case "cu ft", "cubic foot", "cubic feet", "ft3":
		return "[ft_i]3", true
	case "sq m", "square metre", "square metres", "square meter", "square meters":
		return "m2", true
	case "sq ft", "square foot", "square feet", "ft2":
		return "[ft_i]2", true
	}
	return "", false
}

func timeName(s string) (code string, ok bool) {
	switch s {
	case "s", "sec", "second", "seconds":
		return "s", true
	case "minute", "minutes", "mins":
		return "min", true
	case "h", "hr", "hrs", "hour", "hours":
		return "h", true
	case "day", "days":
		return "d", true
	case "week", "weeks":
		return "wk", true
	case "month", "months":
		return "mo", true
	case "year", "years", "yr":
		return "a", true
	}
	return "", false
}
