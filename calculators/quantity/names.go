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
	}
	var b strings.Builder
	for code != "" {
		i := strings.IndexAny(code, "./()")
		switch {
		case i < 0:
			b.WriteString(atomSymbol(code))
			return b.String()
		case i > 0:
			b.WriteString(atomSymbol(code[:i]))
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
	case "[lb_av]":
		return "lb"
	case "[oz_av]":
		return "oz"
	case "[gal_us]":
		return "gal (US)"
	case "[gal_br]":
		return "gal (imp)"
	case "[psi]":
		return "psi"
	case "[ppm]":
		return "ppm"
	case "m[Hg]":
		return "mHg"
	case "mm[Hg]":
		return "mmHg"
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
	}
	if strings.HasPrefix(s, "u") && len(s) > 1 {
		return "µ" + s[1:]
	}
	return s
}

func superscript(c byte) string {
	switch c {
	case '1':
		return "¹"
	case '2':
		return "²"
	case '3':
		return "³"
	case '4':
		return "⁴"
	case '5':
		return "⁵"
	case '-':
		return "⁻"
	}
	return string(c)
}

func ambiguousGallon(name string) bool {
	s := strings.ToLower(strings.TrimSpace(name))
	for _, tail := range []string{"/h", "/min", "ph", "pm"} {
		s = strings.TrimSuffix(s, tail)
	}
	switch strings.TrimSuffix(strings.TrimSpace(s), ".") {
	case "gal", "gals", "gallon", "gallons", "g":
		return s != "g" || strings.HasSuffix(strings.ToLower(name), "ph") || strings.HasSuffix(strings.ToLower(name), "pm")
	}
	return false
}

// unitNamed returns the UCUM code of a unit's everyday name.
func unitNamed(name string, kind Kind) (string, bool) {
	s := strings.ToLower(strings.Join(strings.Fields(strings.ReplaceAll(name, "\u00a0", " ")), " "))
	if s == "m" || s == "cm" || s == "mm" || s == "g" || s == "kg" || s == "h" || s == "d" {
		return s, name == s
	}
	for _, code := range kind.Units() {
		if s == strings.ToLower(Symbol(code)) {
			return code, true
		}
	}
	if code, ok := commonName(s, kind); ok {
		return code, true
	}
	return rateNamed(s)
}

func commonName(s string, kind Kind) (string, bool) {
	switch s {
	case "l", "lt", "ltr", "litre", "litres", "liter", "liters":
		return "L", true
	case "ml", "millilitre", "millilitres", "milliliter", "milliliters":
		return "mL", true
	case "m³", "m^3", "cu m", "cubic metre", "cubic metres", "cubic meter", "cubic meters":
		return "m3", true
	case "m²", "m^2", "sq m", "square metre", "square metres", "square meter", "square meters":
		return "m2", true
	case "ft²", "sq ft", "square feet":
		return "[ft_i]2", true
	case "us gal", "us gallon", "us gallons", "gallon (us)", "gallons (us)", "gal us", "usg":
		return "[gal_us]", true
	case "imp gal", "imperial gallon", "imperial gallons", "gallon (imp)", "gallons (imp)", "uk gal", "uk gallon", "uk gallons", "gal (uk)", "gal imp", "imp. gal":
		return "[gal_br]", true
	case "metre", "metres", "meter", "meters":
		return "m", true
	case "centimetre", "centimetres", "centimeter", "centimeters":
		return "cm", true
	case "millimetre", "millimetres", "millimeter", "millimeters":
		return "mm", true
	case "ft", "foot", "feet", "'", "′":
		return "[ft_i]", true
	case "in", "inch", "inches", `"`, "″":
		return "[in_i]", true
	case "lb", "lbs", "pound", "pounds":
		return "[lb_av]", true
	case "oz", "ounce", "ounces":
		return "[oz_av]", true
	case "gram", "grams":
		return "g", true
	case "kilo", "kilos", "kilogram", "kilograms":
		return "kg", true
	case "c", "°c", "deg c", "degc", "celsius":
		return "Cel", true
	case "f", "°f", "deg f", "degf", "fahrenheit":
		return "[degF]", true
	case "percent", "per cent":
		return "%", true
	case "ph":
		return "[pH]", kind == PH
	case "ppm":
		// In fresh water the trade's "ppm" is mg/L.
		return "mg/L", kind == Concentration
	case "ppt":
		return "g/kg", kind == Salinity
	case "day", "days":
		return "d", true
	case "hour", "hours", "hr", "hrs":
		return "h", true
	case "minute", "minutes":
		return "min", true
	case "week", "weeks":
		return "wk", true
	case "watt", "watts":
		return "W", true
	}
	return "", false
}

// rateNamed reads "US gal/h", "litres per hour" and the like: a named unit per
// a named time.
func rateNamed(s string) (string, bool) {
	switch s {
	case "lph":
		return "L/h", true
	case "lpm":
		return "L/min", true
	}
	over, under, ok := strings.Cut(s, "/")
	if !ok {
		if over, under, ok = strings.Cut(s, " per "); !ok {
			return "", false
		}
	}
	over, under = strings.TrimSpace(over), strings.TrimSpace(under)
	top, ok := commonName(over, Volume)
	switch {
	case ok:
	case over == "m3" || over == "gal (us)" || over == "gal (imp)":
		top = over
		if over == "gal (us)" {
			top = "[gal_us]"
		} else if over == "gal (imp)" {
			top = "[gal_br]"
		}
	default:
		return "", false
	}
	switch under {
	case "h", "hr", "hour":
		return top + "/h", true
	case "min", "minute":
		return top + "/min", true
	case "d", "day":
		return top + "/d", true
	case "s", "second":
		return top + "/s", true
	}
	return "", false
}
