package units

import (
	"encoding/json"
	"regexp"
	"strings"

	"mereleaf/calculators/quantity"
)

// System is a reader's system of measures.
type System string

// The systems.
const (
	Metric   System = "metric"
	Imperial System = "imperial"
	US       System = "us"
)

// Turn is one unit as it is written, and what stands for it in each system. The
// codes are UCUM.
type Turn struct {
	Code string
	// Names are the words for it besides its symbol.
	Names []string
	// Metric, Imperial and US are the units of the three systems. An empty one
	// means that the unit belongs to the system and stays.
	Metric, Imperial, US string
	// Least is the smallest value that is turned. Below it the unit stays,
	// because nobody weighs so little in the other.
	Least float64
}

// Turns returns all units that are turned.
func Turns() []Turn {
	return []Turn{
		{Code: "L", Names: []string{"litre", "litres"}, Imperial: "[gal_br]", US: "[gal_us]"},
		{Code: "m3", Names: []string{"m3", "cubic metre", "cubic metres"}, Imperial: "[gal_br]", US: "[gal_us]"},
		{Code: "[gal_us]", Names: []string{"gal US", "US gal", "US gallon", "US gallons"}, Metric: "L", Imperial: "[gal_br]"},
		{Code: "[gal_br]", Names: []string{"gal imperial", "gal imp", "imperial gallon", "imperial gallons"}, Metric: "L", US: "[gal_us]"},
		{Code: "[ft_i]3", Names: []string{"cubic foot", "cubic feet"}, Metric: "L"},

		{Code: "L/h", Names: []string{"litres an hour", "litres per hour"}, Imperial: "[gal_br]/h", US: "[gal_us]/h"},
		{Code: "m3/h", Imperial: "[gal_br]/h", US: "[gal_us]/h"},
		{Code: "L/min", Names: []string{"litres a minute", "litres per minute"}, Imperial: "[gal_br]/min", US: "[gal_us]/min"},
		{Code: "L/d", Names: []string{"litres a day"}, Imperial: "[gal_br]/d", US: "[gal_us]/d"},
		{Code: "L/s", Imperial: "[gal_br]/min", US: "[gal_us]/min"},
		{Code: "[gal_us]/h", Metric: "L/h", Imperial: "[gal_br]/h"},
		{Code: "[gal_br]/h", Metric: "L/h", US: "[gal_us]/h"},
		{Code: "[gal_us]/min", Metric: "L/min", Imperial: "[gal_br]/min"},
		{Code: "[gal_br]/min", Metric: "L/min", US: "[gal_us]/min"},
		{Code: "[gal_us]/d", Metric: "L/d", Imperial: "[gal_br]/d"},
		{Code: "[gal_br]/d", Metric: "L/d", US: "[gal_us]/d"},

		{Code: "mm", Names: []string{"millimetre", "millimetres"}, Imperial: "[in_i]", US: "[in_i]"},
		{Code: "cm", Names: []string{"centimetre", "centimetres"}, Imperial: "[in_i]", US: "[in_i]"},
		{Code: "m", Names: []string{"metre", "metres"}, Imperial: "[ft_i]", US: "[ft_i]"},
		{Code: "km", Imperial: "[mi_i]", US: "[mi_i]"},
		{Code: "[in_i]", Names: []string{"inch", "inches"}, Metric: "mm"},
		{Code: "[ft_i]", Names: []string{"foot", "feet"}, Metric: "m"},

		{Code: "cm2", Imperial: "[in_i]2", US: "[in_i]2"},
		{Code: "mm2", Imperial: "[in_i]2", US: "[in_i]2"},
		{Code: "m2", Names: []string{"m2", "square metre", "square metres"}, Imperial: "[ft_i]2", US: "[ft_i]2"},
		{Code: "[ft_i]2", Names: []string{"square foot", "square feet"}, Metric: "m2"},

		{Code: "g", Names: []string{"gram", "grams"}, Imperial: "[oz_av]", US: "[oz_av]", Least: leastGrams},
		{Code: "kg", Names: []string{"kilogram", "kilograms", "kilo", "kilos"}, Imperial: "[lb_av]", US: "[lb_av]"},
		{Code: "t", Names: []string{"tonne", "tonnes"}, Imperial: "[lb_av]", US: "[lb_av]"},
		{Code: "[lb_av]", Names: []string{"pound", "pounds"}, Metric: "kg"},
		{Code: "[oz_av]", Names: []string{"ounce", "ounces"}, Metric: "g"},
		{Code: "g/d", Imperial: "[oz_av]/d", US: "[oz_av]/d", Least: leastGrams},
		{Code: "g/h", Imperial: "[oz_av]/h", US: "[oz_av]/h", Least: leastGrams},
		{Code: "kg/d", Imperial: "[lb_av]/d", US: "[lb_av]/d"},
		{Code: "kg/m3", Imperial: "[lb_av]/[ft_i]3", US: "[lb_av]/[ft_i]3"},
		{Code: "m2/m3", Imperial: "[ft_i]2/[ft_i]3", US: "[ft_i]2/[ft_i]3"},

		{Code: "m/s", Imperial: "[ft_i]/s", US: "[ft_i]/s"},
		{Code: "mm/s", Imperial: "[in_i]/s", US: "[in_i]/s"},
		{Code: "mm/d", Imperial: "[in_i]/d", US: "[in_i]/d"},
		{Code: "m/d", Imperial: "[ft_i]/d", US: "[ft_i]/d"},
		{Code: "km/h", Imperial: "[mi_i]/h", US: "[mi_i]/h"},
		{Code: "[mi_i]/h", Names: []string{"mph"}, Metric: "km/h"},
		{Code: "m3/m2/d", Names: []string{"m³/m² a day"}, Imperial: "[gal_br]/[ft_i]2/d", US: "[gal_us]/[ft_i]2/d"},

		{Code: "N", Imperial: "[lbf_av]", US: "[lbf_av]"},
		{Code: "N.m", Imperial: "[lbf_av].[ft_i]", US: "[lbf_av].[ft_i]"},
		{Code: "kPa", Imperial: "[psi]", US: "[psi]"},
		{Code: "[psi]", Metric: "kPa"},

		{Code: "Cel", US: "[degF]"},
		{Code: "[degF]", Metric: "Cel", Imperial: "Cel"},
	}
}

// leastGrams: under this a scale that is good enough reads grams.
const leastGrams = 3

// Regions are the regions, ISO 3166, whose readers are first taken to use a
// system other than metric: the three that have not gone metric. Readers in the
// United Kingdom begin with metric, by which pumps, ponds, kits and food are
// sold there; gallons and feet are one tap away.
func Regions() map[string]System {
	return map[string]System{"US": US, "LR": US, "MM": US}
}

// Stay is a unit, a place or a text that no system changes, and why. One of the
// three is not empty.
type Stay struct {
	Unit   string // as printed
	Place  string // selector
	Phrase string // words by which a text is known
	Reason string
}

// Stays returns what stays as it is written, for every reader.
func Stays() []Stay {
	return []Stay{
		{Unit: "mg/L", Reason: "test kits, limits and labels use it everywhere"},
		{Unit: "g/L", Reason: "salt meters and recipes use it; 1 g/L is a tenth of a percent"},
		{Unit: "µg/L", Reason: "limits of metals are printed in it everywhere"},
		{Unit: "g/kg", Reason: "is a pure share"},
		{Unit: "L/m³", Reason: "is a pure share"},
		{Unit: "mL", Reason: "kits and syringes are marked in it everywhere"},
		{Unit: "mg", Reason: "no kitchen measures in anything else so small"},
		{Unit: "g/m²/d", Reason: "rates of films are printed in it everywhere"},
		{Unit: "mg/L/d", Reason: "a rate of what kits measure in mg/L"},
		{Unit: "mg/kg/h", Reason: "a rate of what kits measure in mg/L"},
		{Unit: "%/d", Reason: "is a pure share"},
		{Unit: "°dH", Reason: "kits count drops of it"},
		{Unit: "mmol/L", Reason: "chemistry is reckoned in it everywhere"},
		{Unit: "µS/cm", Reason: "meters show it everywhere"},
		{Unit: "mJ/cm²", Reason: "lamps are sold by it everywhere"},
		{Unit: "nm", Reason: "light is measured in it everywhere"},
		{Unit: "µm", Reason: "screens and pores are sold by it everywhere"},
		{Unit: "K", Reason: "is a step of temperature in a formula"},
		{Unit: "m/s²", Reason: "the acceleration of falling, in a formula"},
		{Unit: "W", Reason: "electricity is measured in it everywhere"},
		{Unit: "kWh", Reason: "electricity is sold by it everywhere"},
		{Unit: "mA", Reason: "electricity is measured in it everywhere"},

		{Phrase: "It does not say which gallon", Reason: "tells the two gallons apart"},
		{Phrase: "The loss is in feet for each 100 feet", Reason: "compares the units themselves"},
		{Phrase: "One kilogram in a cubic metre is", Reason: "compares the units themselves"},
		{Phrase: "Litres, imperial gallons and US gallons", Reason: "compares the units themselves"},
		{Phrase: "What one of each is in litres", Reason: "compares the units themselves"},
		{Phrase: "US gallons by litres", Reason: "compares the units themselves"},
		{Phrase: "Or type it along", Reason: "shows what a reader may type"},
		{Phrase: "One kPa is about", Reason: "compares the units themselves"},
		{Phrase: "For any pond it is", Reason: "says it for both gallons already"},
		{Phrase: "In inches that is", Reason: "says it in both already"},

		{Place: "code, pre, math, .tex, .formula", Reason: "a formula and its code hold in their own units only"},
		{Place: ".working", Reason: "a sum that is worked out step by step must come out"},
		{Place: ".notes, .agreed, .origins, .cite, .source", Reason: "says what is printed in the source"},
		{Place: ".sources, .set, .leaves i + small, h1:has(> code) + .first", Reason: "a source and a set of figures stand as they were printed"},
		{Place: ".kept .value, .offer, .readings, data", Reason: "the reader's own numbers stay as they were typed"},
		{Place: "select.unit, .unit", Reason: "names the unit that the reader chooses"},
		{Place: "[data-calculator=units], .fixed", Reason: "compares the units themselves"},
		{Place: "script, style, textarea, .measures", Reason: "is no text of the leaf"},
	}
}

// unit is what the script knows of one unit.
type unit struct {
	Code   string   `json:"c"`
	Names  []string `json:"n"`
	Symbol string   `json:"s"`
	Dim    string   `json:"d"`
	Factor float64  `json:"f"` // of the value, for the coherent SI unit
	Offset float64  `json:"o,omitempty"`
	Metric string   `json:"metric,omitempty"`
	Imp    string   `json:"imperial,omitempty"`
	US     string   `json:"us,omitempty"`
	Least  float64  `json:"least,omitempty"`
}

// table is what the script that turns units knows.
type table struct {
	Units       []unit      `json:"units"`
	Stay        string      `json:"stay"`    // selector
	Phrases     string      `json:"phrases"` // regular expression
	Differences differences `json:"differences"`
}

// Defines returns the tables for the scripts of the theme, as JSON by the name
// that a script has for each.
func Defines() map[string]string {
	t := table{Differences: temperatures()}
	for _, turn := range append(Turns(), targets()...) {
		t.Units = append(t.Units, entry(turn))
	}
	var places, phrases []string
	for _, s := range Stays() {
		switch {
		case s.Place != "":
			places = append(places, s.Place)
		case s.Phrase != "":
			phrases = append(phrases, regexp.QuoteMeta(s.Phrase))
		}
	}
	t.Stay, t.Phrases = strings.Join(places, ", "), strings.ReplaceAll(strings.Join(phrases, "|"), " ", "[ \u00a0]")
	return map[string]string{"UNITS": written(t), "REGIONS": written(Regions())}
}

// targets are the units that only stand for others.
func targets() []Turn {
	have := map[string]bool{"": true}
	for _, t := range Turns() {
		have[t.Code] = true
	}
	var more []Turn
	for _, t := range Turns() {
		for _, code := range []string{t.Metric, t.Imperial, t.US} {
			if !have[code] {
				have[code] = true
				more = append(more, Turn{Code: code})
			}
		}
	}
	return more
}

func written(table any) string {
	text, err := json.Marshal(table)
	if err != nil {
		panic(err.Error()) // texts and numbers can always be written
	}
	return string(text)
}

func entry(t Turn) unit {
	u := quantity.MustUnit(t.Code)
	symbol := Symbol(t.Code)
	return unit{
		Code: t.Code, Names: append([]string{symbol}, t.Names...), Symbol: symbol, Dim: dimension(u),
		Factor: u.Factor, Offset: u.Offset, Metric: t.Metric, Imp: t.Imperial, US: t.US, Least: t.Least,
	}
}

// Symbol is the printed form of a unit. Miles an hour have one of their own.
func Symbol(code string) string {
	if code == "[mi_i]/h" {
		return "mph"
	}
	return quantity.Symbol(code)
}

// dimension is the same for units of one dimension only.
func dimension(u quantity.Unit) string {
	d := u.Dim
	text := ""
	for _, e := range []int8{d.Length, d.Mass, d.Time, d.Temperature} {
		text += string(rune('k' + e))
	}
	return text
}
