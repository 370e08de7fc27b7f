package units

import (
	"encoding/json"
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
	// Of is what is measured, where people have a unit of their own for that: "air",
	// "wind"; "" for all else.
	Of string
	// Metric, Imperial and US are the units of the three systems. An empty one
	// means that the unit belongs to the system and stays.
	Metric, Imperial, US string
}

// Turns returns all units that are turned.
func Turns() []Turn {
	return []Turn{
		{Code: "L", Imperial: "[gal_br]", US: "[gal_us]"},
		{Code: "m3", Imperial: "[gal_br]", US: "[gal_us]"},
		{Code: "[gal_us]", Metric: "L", Imperial: "[gal_br]"},
		{Code: "[gal_br]", Metric: "L", US: "[gal_us]"},
		{Code: "[ft_i]3", Metric: "L"},

		{Code: "L/h", Imperial: "[gal_br]/h", US: "[gal_us]/h"},
		{Code: "m3/h", Imperial: "[gal_br]/h", US: "[gal_us]/h"},
		{Code: "L/min", Imperial: "[gal_br]/min", US: "[gal_us]/min"},
		{Code: "L/d", Imperial: "[gal_br]/d", US: "[gal_us]/d"},
		{Code: "m3/d", Imperial: "[gal_br]/d", US: "[gal_us]/d"},
		{Code: "L/s", Imperial: "[gal_br]/min", US: "[gal_us]/min"},
		{Code: "[gal_us]/h", Metric: "L/h", Imperial: "[gal_br]/h"},
		{Code: "[gal_br]/h", Metric: "L/h", US: "[gal_us]/h"},
		{Code: "[gal_us]/min", Metric: "L/min", Imperial: "[gal_br]/min"},
		{Code: "[gal_br]/min", Metric: "L/min", US: "[gal_us]/min"},
		{Code: "[gal_us]/d", Metric: "L/d", Imperial: "[gal_br]/d"},
		{Code: "[gal_br]/d", Metric: "L/d", US: "[gal_us]/d"},

		{Code: "mm", Imperial: "[in_i]", US: "[in_i]"},
		{Code: "cm", Imperial: "[in_i]", US: "[in_i]"},
		{Code: "m", Imperial: "[ft_i]", US: "[ft_i]"},
		{Code: "km", Imperial: "[mi_i]", US: "[mi_i]"},
		{Code: "[in_i]", Metric: "mm"},
		{Code: "[ft_i]", Metric: "m"},

		{Code: "cm2", Imperial: "[in_i]2", US: "[in_i]2"},
		{Code: "mm2", Imperial: "[in_i]2", US: "[in_i]2"},
		{Code: "m2", Imperial: "[ft_i]2", US: "[ft_i]2"},
		{Code: "[ft_i]2", Metric: "m2"},

		{Code: "g", Imperial: "[oz_av]", US: "[oz_av]"},
		{Code: "kg", Imperial: "[lb_av]", US: "[lb_av]"},
		{Code: "t", Imperial: "[lb_av]", US: "[lb_av]"},
		{Code: "[lb_av]", Metric: "kg"},
		{Code: "[oz_av]", Metric: "g"},
		{Code: "g/d", Imperial: "[oz_av]/d", US: "[oz_av]/d"},
		{Code: "g/h", Imperial: "[oz_av]/h", US: "[oz_av]/h"},
		{Code: "kg/d", Imperial: "[lb_av]/d", US: "[lb_av]/d"},
		{Code: "kg/m3", Imperial: "[lb_av]/[ft_i]3", US: "[lb_av]/[ft_i]3"},
		{Code: "m2/m3", Imperial: "[ft_i]2/[ft_i]3", US: "[ft_i]2/[ft_i]3"},

		{Code: "m/s", Imperial: "[ft_i]/s", US: "[ft_i]/s"},
		{Code: "mm/s", Imperial: "[in_i]/s", US: "[in_i]/s"},
		{Code: "mm/d", Imperial: "[in_i]/d", US: "[in_i]/d"},
		{Code: "m/d", Imperial: "[ft_i]/d", US: "[ft_i]/d"},
		{Code: "km/h", Imperial: "[mi_i]/h", US: "[mi_i]/h"},
		{Code: "[mi_i]/h", Metric: "km/h"},
		{Code: "m3/m2/d", Imperial: "[gal_br]/[ft_i]2/d", US: "[gal_us]/[ft_i]2/d"},

		{Code: "N", Imperial: "[lbf_av]", US: "[lbf_av]"},
		{Code: "N.m", Imperial: "[lbf_av].[ft_i]", US: "[lbf_av].[ft_i]"},
		{Code: "kPa", Imperial: "[psi]", US: "[psi]"},
		{Code: "[psi]", Metric: "kPa"},

		// Air is sold by the cubic foot a minute, wind is told in miles an hour.
		{Code: "L/min", Of: "air", Imperial: "[ft_i]3/min", US: "[ft_i]3/min"},
		{Code: "L/h", Of: "air", Imperial: "[ft_i]3/min", US: "[ft_i]3/min"},
		{Code: "m3/h", Of: "air", Imperial: "[ft_i]3/min", US: "[ft_i]3/min"},
		{Code: "m/s", Of: "wind", Imperial: "[mi_i]/h", US: "[mi_i]/h"},
		{Code: "km/h", Of: "wind", Imperial: "[mi_i]/h", US: "[mi_i]/h"},

		// What is priced by weight or volume, and what is dosed so.
		{Code: "{currency}/kg", Imperial: "{currency}/[lb_av]", US: "{currency}/[lb_av]"},
		{Code: "{currency}/L", Imperial: "{currency}/[gal_br]", US: "{currency}/[gal_us]"},
		{Code: "{currency}/m3", Imperial: "{currency}/[gal_br]", US: "{currency}/[gal_us]"},
		{Code: "g/m3", Imperial: "g/[gal_br]", US: "g/[gal_us]"},

		{Code: "Cel", US: "[degF]"},
		{Code: "K", US: "[degR]"}, // a difference
		{Code: "K/d", US: "[degR]/d"},
		{Code: "K/h", US: "[degR]/h"},
		{Code: "K/min", US: "[degR]/min"},
		{Code: "[degR]", Metric: "K", Imperial: "K"},
		{Code: "[degF]", Metric: "Cel", Imperial: "Cel"},
	}
}

// For returns the unit that stands for one in a system; "" if it stays.
func For(code string, system System) string {
	for _, t := range Turns() {
		if t.Key() == code {
			return map[System]string{Metric: t.Metric, Imperial: t.Imperial, US: t.US}[system]
		}
	}
	return ""
}

// Regions are the regions, ISO 3166, whose readers are first taken to use a
// system other than metric: the three that have not gone metric. Readers in the
// United Kingdom begin with metric, by which pumps, ponds, kits and food are
// sold there; gallons and feet are one tap away.
func Regions() map[string]System {
	return map[string]System{"US": US, "LR": US, "MM": US}
}

// Stay is a unit that no system changes, and why.
type Stay struct {
	Unit   string // as printed
	Reason string
}

// Stays returns what stays as it is written, for every reader. What stays because
// of the place where it stands, package markup leaves unmarked.
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
		{Unit: "m/s²", Reason: "the acceleration of falling, in a formula"},
		{Unit: "W", Reason: "electricity is measured in it everywhere"},
		{Unit: "kWh", Reason: "electricity is sold by it everywhere"},
		{Unit: "mA", Reason: "electricity is measured in it everywhere"},
	}
}

// unit is what the script knows of one unit.
type unit struct {
	Factor float64 `json:"f"` // of the value, for the coherent SI unit
	Offset float64 `json:"o,omitempty"`
	Symbol string  `json:"s"`
	Long   string  `json:"l,omitempty"`
	Metric string  `json:"metric,omitempty"`
	Imp    string  `json:"imperial,omitempty"`
	US     string  `json:"us,omitempty"`
}

// Defines returns the tables for the scripts of the theme, as JSON by the name
// that a script has for each.
func Defines() map[string]string {
	table := map[string]unit{}
	for _, turn := range append(Turns(), targets()...) {
		table[turn.Key()] = entry(turn)
	}
	return map[string]string{"UNITS": written(table), "REGIONS": written(Regions())}
}

// Key is the name by which package markup marks the unit: its code, and in braces
// what is measured.
func (t Turn) Key() string {
	if t.Of == "" {
		return t.Code
	}
	return t.Code + "{" + t.Of + "}"
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
	return unit{Factor: u.Factor, Offset: u.Offset, Symbol: Symbol(t.Code), Long: long(t.Code), Metric: t.Metric, Imp: t.Imperial, US: t.US}
}

// long is the plural by which a unit is called where its name stands in full.
func long(code string) string {
	switch code {
	case "[in_i]":
		return "inches"
	case "[ft_i]":
		return "feet"
	case "[lb_av]":
		return "pounds"
	case "[oz_av]":
		return "ounces"
	}
	return ""
}

// Symbol is the printed form of a unit. Miles an hour have one of their own, and a
// difference of temperatures is told in the degrees of its scale.
func Symbol(code string) string {
	switch code {
	case "[mi_i]/h":
		return "mph"
	case "[ft_i]3/min":
		return "cu ft/min"
	}
	return strings.NewReplacer("°R", "°F").Replace(difference(quantity.Symbol(code)))
}

// difference prints a kelvin as a degree Celsius.
func difference(symbol string) string {
	if over, per, ok := strings.Cut(symbol, "/"); ok && over == "K" {
		return "°C/" + per
	}
	if symbol == "K" {
		return "°C"
	}
	return symbol
}
