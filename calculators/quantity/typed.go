package quantity

import "strings"

// typedUnit reads the names that people type into a field and that a text has for
// other things too: a cup, a stone, a knot. Scan does not know them, so that
// nobody's "two cups" in prose becomes a measure. What is sold by two measures of one
// name, such as a pint, must say which.
func typedUnit(s string, kind Kind) (code string, ok bool) {
	if kind == Hardness {
		if code, ok := hardnessName(s); ok {
			return code, true
		}
	}
	which, rest, twice := gallonWords(s)
	if code, ok := kitchenName(rest); ok && which != "[gal_br]" && !twice {
		return code, true
	}
	if us, british, _ := pubMeasure(rest); us != "" && which != "" && !twice {
		if which == "[gal_br]" {
			return british, true
		}
		return us, true
	}
	switch s {
	case "km/hr", "kmh", "kph", "kmph":
		return "km/h", true
	case "mi", "mi/h":
		return strings.Replace(s, "mi", "[mi_i]", 1), true
	case "kn", "kt", "kts", "knot", "knots":
		return "[kn_i]", true
	case "lit", "lits":
		return "L", true
	case "kpa":
		return "kPa", true
	case "hpa", "mbar", "mb", "millibar", "millibars":
		return "hPa", true
	case "bars":
		return "bar", true
	case "atmosphere", "atmospheres":
		return "atm", true
	case "in hg", "in.hg", "inch hg", "inches hg", `"hg`, "inch of mercury", "inches of mercury":
		return "[in_i'Hg]", true
	case "mm hg", "mm of mercury":
		return "mm[Hg]", true
	case "kw":
		return "kW", true
	case "st", "stone", "stones":
		return "[stone_av]", true
	case "cc", "ccm":
		return "cm3", true
	case "cubic yard", "cubic yards", "cu yd", "yd3":
		return "[yd_i]3", true
	case "cfm":
		return "[ft_i]3/min", true
	}
	return "", false
}

// kitchenName reads spoons and cups. There is one by statute only in the United
// States (NIST SP 811, Appendix B.8); other countries' cups hold 5 to 20 % more.
func kitchenName(s string) (code string, ok bool) {
	switch s {
	case "cup", "cups":
		return "[cup_us]", true
	case "tbsp", "tbsps", "tablespoon", "tablespoons":
		return "[tbs_us]", true
	case "tsp", "tsps", "teaspoon", "teaspoons":
		return "[tsp_us]", true
	}
	return "", false
}

// pubMeasure reads what there is two of by one name, and that name.
func pubMeasure(s string) (us, british, name string) {
	switch s {
	case "fl oz", "floz", "fl.oz", "fl. oz", "fluid ounce", "fluid ounces":
		return "[foz_us]", "[foz_br]", "fluid ounce"
	case "pt", "pts", "pint", "pints":
		return "[pt_us]", "[pt_br]", "pint"
	case "qt", "qts", "quart", "quarts":
		return "[qt_us]", "[qt_br]", "quart"
	}
	return "", "", ""
}

// hardnessName reads what hardness and alkalinity are counted in. A degree
// Fahrenheit is French here.
func hardnessName(s string) (code string, ok bool) {
	switch s {
	case "ppm", "mg/l caco3", "ppm caco3", "mg/l as caco3", "ppm as caco3":
		return "mg/L", true
	case "dh", "°dh", "dkh", "°dkh", "dgh", "°dgh", "kh", "gh", "°kh", "°gh":
		return "{°dH}", true
	case "fh", "°fh", "°f", "f":
		return "{°fH}", true
	case "°e", "°clark", "clark":
		return "{°e}", true
	case "gpg":
		return "{gpg}", true
	case "meq/l", "mval/l":
		return "{meq}/L", true
	}
	return "", false
}

// ambiguous returns the name of a measure, "gallon" or "pint", of which the text
// does not say whether it is the one of the United States; "" for any other text.
func ambiguous(name string) string {
	if AmbiguousGallon(name) {
		return "gallon"
	}
	which, rest, twice := gallonWords(lower(tidy(name)))
	if _, _, measure := pubMeasure(rest); which == "" || twice {
		return measure
	}
	return ""
}
