package figures

import "mereleaf/calculators/quantity"

// ReadUnit reads a unit as printed ("m²/m³", "°C", "US gal/min") or as a UCUM
// code.
func ReadUnit(printed string) (quantity.Unit, bool) { return quantity.UnitNamed(printed) }

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
