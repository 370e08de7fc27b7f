package quantity

import (
	"strings"

	"mereleaf/calculators/chemistry"
)

// Exact factors, NIST SP 811 (2008), Appendix B.8, except where a comment says
// otherwise.
const (
	inch        = 0.0254
	foot        = 12 * inch
	yard        = 3 * foot
	mile        = 5280 * foot
	pound       = 0.45359237
	ounce       = pound / 16
	gallonUS    = 231 * inch * inch * inch
	gallonImp   = 4.54609e-3
	litre       = 1e-3
	minute      = 60.0
	hour        = 3600.0
	day         = 86400.0
	week        = 7 * day
	year        = 365.25 * day // UCUM "a" is the Julian year
	month       = year / 12    // UCUM "mo" is the mean Julian month
	gravity     = 9.80665
	poundForce  = pound * gravity
	mercury     = 133322.4 // conventional metre of mercury, UCUM "m[Hg]"
	btuIT       = 1055.05585262
	atmosphere  = 101325
	nautical    = 1852 // metres of a nautical mile
	grain       = pound / 7000
	fahrenheit  = 5.0 / 9.0
	zeroCelsius = 273.15
)

func scaled(factor float64, d Dimension) (Unit, bool) {
	return Unit{Dim: d, Factor: factor}, true
}

// atom returns one unit without exponent, metric prefix included.
func atom(name string) (Unit, bool) {
	if u, ok := plainAtom(name); ok {
		return u, true
	}
	if strings.HasPrefix(name, "{") && strings.HasSuffix(name, "}") {
		return annotation(name)
	}
	for i := 1; i <= 2 && i < len(name); i++ {
		p, ok := prefix(name[:i])
		if !ok {
			continue
		}
		if u, ok := metricAtom(name[i:]); ok {
			u.Factor *= p
			return u, true
		}
	}
	return Unit{}, false
}

// annotation reads a UCUM annotation in braces. Most only say what is counted
// and are 1; these few stand for quantities of their own, which must not mix.
func annotation(name string) (Unit, bool) {
	switch name {
	case "{currency}":
		return scaled(1, Dimension{Money: 1})
	case "{meq}": // of calcium carbonate
		return scaled(1e-6*chemistry.CalciumCarbonate/2, Dimension{Mass: 1})
	case "{NTU}":
		return scaled(1, Dimension{Turbidity: 1})
	}
	if calcium, ok := degree(name); ok {
		return scaled(calcium, Dimension{Length: -3, Mass: 1})
	}
	return scaled(1, Dimension{})
}

// degree returns what one degree of hardness is in kg of calcium carbonate per
// cubic metre: the German one is 10 mg/L of CaO, the French one 10 mg/L of CaCO3, and
// the English one a grain of that to the imperial gallon.
func degree(name string) (calcium float64, ok bool) {
	switch name {
	case "{°dH}":
		return 1e-3 * chemistry.GermanDegree, true
	case "{°fH}":
		return 10e-3, true
	case "{°e}":
		return grain / gallonImp, true
	case "{gpg}":
		return grain / gallonUS, true
	}
	return 0, false
}

func prefix(s string) (float64, bool) {
	switch s {
	case "n":
		return 1e-9, true
	case "u":
		return 1e-6, true
	case "m":
		return 1e-3, true
	case "c":
		return 1e-2, true
	case "d":
		return 1e-1, true
	case "h":
		return 1e2, true
	case "k":
		return 1e3, true
	case "M":
		return 1e6, true
	}
	return 0, false
}

// metricAtom lists the units that take a metric prefix.
func metricAtom(name string) (Unit, bool) {
	switch name {
	case "m":
		return scaled(1, Dimension{Length: 1})
	case "g":
		return scaled(1e-3, Dimension{Mass: 1})
	case "s":
		return scaled(1, Dimension{Time: 1})
	case "K":
		return scaled(1, Dimension{Temperature: 1})
	case "A":
		return scaled(1, Dimension{Current: 1})
	case "V":
		return scaled(1, Dimension{Length: 2, Mass: 1, Time: -3, Current: -1})
	case "S":
		return scaled(1, Dimension{Length: -2, Mass: -1, Time: 3, Current: 2})
	case "mol":
		return scaled(1, Dimension{Amount: 1})
	case "eq":
		return scaled(1, Dimension{Amount: 1})
	case "L", "l":
		return scaled(litre, Dimension{Length: 3})
	case "N":
		return scaled(1, Dimension{Length: 1, Mass: 1, Time: -2})
	case "Pa":
		return scaled(1, Dimension{Length: -1, Mass: 1, Time: -2})
	case "bar":
		return scaled(1e5, Dimension{Length: -1, Mass: 1, Time: -2})
	case "m[Hg]":
		return scaled(mercury, Dimension{Length: -1, Mass: 1, Time: -2})
	case "J":
		return scaled(1, Dimension{Length: 2, Mass: 1, Time: -2})
	case "W":
		return scaled(1, Dimension{Length: 2, Mass: 1, Time: -3})
	case "t":
		return scaled(1000, Dimension{Mass: 1})
	case "P":
		return scaled(0.1, Dimension{Length: -1, Mass: 1, Time: -1})
	case "St":
		return scaled(1e-4, Dimension{Length: 2, Time: -1})
	case "B":
		// The bel counts powers of ten, so it converts to nothing but itself.
		return scaled(1, Dimension{Level: 1})
	}
	return Unit{}, false
}

// plainAtom lists the units that take no prefix, and the bare metric ones.
func plainAtom(name string) (Unit, bool) {
	switch name {
	case "1":
		return scaled(1, Dimension{})
	case "%":
		return scaled(1e-2, Dimension{})
	case "[ppm]", "[ppth]", "[ppb]":
		return partsPer(name)
	case "[pH]":
		// UCUM would read pH as picohenry; here it is the pH scale.
		return scaled(1, Dimension{Acidity: 1})
	case "deg":
		return scaled(3.14159265358979323846/180, Dimension{})
	case "Cel":
		return Unit{Dim: Dimension{Temperature: 1}, Factor: 1, Offset: zeroCelsius}, true
	case "[degF]":
		return Unit{Dim: Dimension{Temperature: 1}, Factor: fahrenheit, Offset: zeroCelsius - 32*fahrenheit}, true
	case "[degR]":
		return scaled(fahrenheit, Dimension{Temperature: 1})
	case "min":
		return scaled(minute, Dimension{Time: 1})
	case "h":
		return scaled(hour, Dimension{Time: 1})
	case "d":
		return scaled(day, Dimension{Time: 1})
	case "wk":
		return scaled(week, Dimension{Time: 1})
	case "mo":
		return scaled(month, Dimension{Time: 1})
	case "a":
		return scaled(year, Dimension{Time: 1})
	}
	if u, ok := customaryAtom(name); ok {
		return u, true
	}
	return metricAtom(name)
}

func partsPer(name string) (Unit, bool) {
	switch name {
	case "[ppth]":
		return scaled(1e-3, Dimension{})
	case "[ppm]":
		return scaled(1e-6, Dimension{})
	}
	return scaled(1e-9, Dimension{})
}

func customaryAtom(name string) (Unit, bool) {
	switch name {
	case "[in_i]":
		return scaled(inch, Dimension{Length: 1})
	case "[ft_i]":
		return scaled(foot, Dimension{Length: 1})
	case "[yd_i]":
		return scaled(yard, Dimension{Length: 1})
	case "[mi_i]":
		return scaled(mile, Dimension{Length: 1})
	case "[lb_av]":
		return scaled(pound, Dimension{Mass: 1})
	case "[oz_av]":
		return scaled(ounce, Dimension{Mass: 1})
	case "[gal_us]":
		return scaled(gallonUS, Dimension{Length: 3})
	case "[gal_br]":
		return scaled(gallonImp, Dimension{Length: 3})
	case "[stone_av]":
		return scaled(14*pound, Dimension{Mass: 1})
	case "[kn_i]":
		return scaled(nautical/hour, Dimension{Length: 1, Time: -1})
	case "atm":
		return scaled(atmosphere, Dimension{Length: -1, Mass: 1, Time: -2})
	case "[in_i'Hg]":
		return scaled(inch*mercury, Dimension{Length: -1, Mass: 1, Time: -2})
	case "[lbf_av]":
		return scaled(poundForce, Dimension{Length: 1, Mass: 1, Time: -2})
	case "gf":
		return scaled(1e-3*gravity, Dimension{Length: 1, Mass: 1, Time: -2})
	case "kgf":
		return scaled(gravity, Dimension{Length: 1, Mass: 1, Time: -2})
	case "[psi]":
		return scaled(poundForce/(inch*inch), Dimension{Length: -1, Mass: 1, Time: -2})
	case "[Btu_IT]":
		return scaled(btuIT, Dimension{Length: 2, Mass: 1, Time: -2})
	}
	if parts := gallonParts(name); parts > 0 {
		if strings.HasSuffix(name, "_br]") {
			return scaled(gallonImp/parts, Dimension{Length: 3})
		}
		return scaled(gallonUS/parts, Dimension{Length: 3})
	}
	return Unit{}, false
}

// gallonParts is how many of a measure of liquids make the gallon; 0 for others.
func gallonParts(name string) float64 {
	switch name {
	case "[qt_us]", "[qt_br]":
		return 4
	case "[pt_us]", "[pt_br]":
		return 8
	case "[foz_us]":
		return 128
	case "[foz_br]":
		return 160
	case "[cup_us]":
		return 16
	case "[tbs_us]":
		return 256
	case "[tsp_us]":
		return 768
	}
	return 0
}
