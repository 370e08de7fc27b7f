package figures

import (
	"strings"

	"mereleaf/calculators/quantity"
)

// ReadUnit reads a unit as printed ("m²/m³", "°C", "US gal/min") or as a UCUM
// code.
func ReadUnit(printed string) (quantity.Unit, bool) {
	u, err := quantity.ParseUnit(unitCode(printed))
	return u, err == nil
}

// unitCode turns a printed unit into a UCUM code as far as its parts are known.
func unitCode(printed string) string {
	s := strings.Join(strings.FieldsFunc(printed, func(r rune) bool { return strings.ContainsRune(blanks, r) }), " ")
	if _, err := quantity.ParseUnit(s); err == nil && s != "" {
		return s
	}
	s = strings.ReplaceAll(s, " per ", "/")
	var b strings.Builder
	for s != "" {
		end := partEnd(s)
		b.WriteString(partCode(strings.TrimSpace(s[:end])))
		s = s[end:]
		switch {
		case strings.HasPrefix(s, "/"):
			b.WriteByte('/')
			s = s[1:]
		case s != "":
			b.WriteByte('.')
			s = strings.TrimPrefix(s, "·")
		}
	}
	return b.String()
}

func partEnd(s string) int {
	end := len(s)
	for _, sign := range []string{"/", "·"} {
		if i := strings.Index(s, sign); i >= 0 {
			end = min(end, i)
		}
	}
	return end
}

// partCode translates one unit with its exponent.
func partCode(s string) string {
	s = superscripts(s)
	name := strings.TrimRight(s, "-0123456789")
	power := s[len(name):]
	if code := namedUnit(name); code != "" {
		return code + power
	}
	for _, micro := range []string{"µ", "μ"} {
		if rest, ok := strings.CutPrefix(s, micro); ok {
			return "u" + rest
		}
	}
	return s
}

func superscripts(s string) string {
	if !strings.ContainsAny(s, "¹²³⁴⁵⁻") {
		return s
	}
	return strings.NewReplacer("¹", "1", "²", "2", "³", "3", "⁴", "4", "⁵", "5", "⁻", "-").Replace(s)
}

// namedUnit returns the UCUM code of a unit that print names otherwise; "" if
// it is not one of those. A gallon must say which it is.
func namedUnit(name string) string {
	switch strings.ToLower(name) {
	case "°c", "degc", "deg c", "celsius":
		return "Cel"
	case "°f", "degf", "deg f", "fahrenheit":
		return "[degF]"
	case "°r":
		return "[degR]"
	case "°", "degrees":
		return "deg"
	case "ph":
		return "[pH]"
	case "in", "inch", "inches", `"`, "″":
		return "[in_i]"
	case "ft", "foot", "feet", "'", "′":
		return "[ft_i]"
	case "yd":
		return "[yd_i]"
	case "mile", "miles":
		return "[mi_i]"
	case "gal (us)", "us gal", "us gallon", "us gallons":
		return "[gal_us]"
	case "gal (imp)", "imp gal", "imperial gallon", "imperial gallons":
		return "[gal_br]"
	case "lb", "pound", "pounds":
		return "[lb_av]"
	case "oz", "ounce", "ounces":
		return "[oz_av]"
	case "psi":
		return "[psi]"
	case "btu":
		return "[Btu_IT]"
	case "ppm":
		return "[ppm]"
	case "ntu":
		return "{NTU}"
	case "litre", "litres":
		return "L"
	}
	return timeOrMass(name)
}

func timeOrMass(name string) string {
	switch strings.ToLower(name) {
	case "mmhg":
		return "mm[Hg]"
	case "kwh":
		return "kW.h"
	case "percent", "per cent":
		return "%"
	case "year", "years", "yr":
		return "a"
	case "month", "months":
		return "mo"
	case "week", "weeks":
		return "wk"
	case "day", "days":
		return "d"
	case "hour", "hours":
		return "h"
	case "minute", "minutes":
		return "min"
	case "second", "seconds":
		return "s"
	case "metre", "metres":
		return "m"
	case "gram", "grams":
		return "g"
	}
	return ""
}

// Convert turns a value from one unit into another; false if they are of other
// dimensions. Between degrees of a scale and kelvin it is a difference, because no
// set and no calculator states absolute kelvin.
func Convert(v float64, from, to quantity.Unit) (float64, bool) {
	if !from.SameDimension(to) {
		return 0, false
	}
	if (from.Offset != 0) != (to.Offset != 0) {
		return v * from.Factor / to.Factor, true
	}
	return from.Convert(v, to), true
}
