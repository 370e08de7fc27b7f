package quantity

// Kind says what a quantity is of, and so which units a reader is offered and
// which names of units are understood. Kinds of one dimension stay apart where
// people use other units for them (a pipe's bore and a pond's length).
type Kind uint8

// The kinds the handbook computes with.
const (
	Number          Kind = iota // a pure number
	Count                       // a whole number of things
	Share                       // a part of a whole, in percent
	PH                          // the pH scale
	Length                      // of ponds and pipes
	Size                        // of holes, bores, media pieces, fish
	Area                        //
	Volume                      // of water and media
	Mass                        // of fish, salt, stacks
	Temperature                 //
	Flow                        // volume per time
	Head                        // of water
	Concentration               // mass of something per volume of water
	Salinity                    // mass of salt per volume of water
	SpecificSurface             // surface per volume of media
	ArealRate                   // mass per surface and time
	MassRate                    // mass per time
	Duration                    //
	Velocity                    //
	Pressure                    //
	Power                       //
	Energy                      //
	Density                     // mass per volume of a solid or of water
	Money                       // in the reader's currency
	HydraulicLoad               // flow per area of floor
	Barometer                   // pressure of the air
	Hardness                    // hardness or alkalinity, as calcium carbonate per volume of water
)

// Units returns the UCUM codes a reader is offered for the kind: first the one
// the handbook writes in, then the others in metric, imperial and US order.
func (k Kind) Units() []string {
	switch k {
	case Number, Count:
		return []string{"1"}
	case Share:
		return []string{"%"}
	case PH:
		return []string{"[pH]"}
	case Length:
		return []string{"m", "cm", "[ft_i]", "[in_i]"}
	case Size:
		return []string{"mm", "cm", "[in_i]"}
	case Area:
		return []string{"m2", "[ft_i]2"}
	case Volume:
		return []string{"L", "m3", "[gal_br]", "[gal_us]"}
	case Mass:
		return []string{"kg", "g", "[lb_av]", "[oz_av]"}
	case Temperature:
		return []string{"Cel", "[degF]"}
	case Flow:
		return []string{"L/h", "L/min", "m3/h", "[gal_br]/h", "[gal_us]/h"}
	case Head:
		return []string{"m", "cm", "mm", "[ft_i]", "[in_i]"}
	case Concentration:
		return []string{"mg/L", "g/L"}
	case Salinity:
		return []string{"g/kg", "%"}
	case SpecificSurface:
		return []string{"m2/m3", "[ft_i]2/[ft_i]3"}
	case ArealRate:
		return []string{"g/m2/d"}
	case MassRate:
		return []string{"g/d", "kg/d", "[oz_av]/d", "[lb_av]/d"}
	case Duration:
		return []string{"d", "h", "min", "wk"}
	case Velocity:
		return []string{"m/s", "km/h", "[ft_i]/s", "[mi_i]/h"}
	case Pressure:
		return []string{"kPa", "[psi]"}
	case Power:
		return []string{"W"}
	case Energy:
		return []string{"kW.h"}
	case Density:
		return []string{"kg/m3", "[lb_av]/[ft_i]3"}
	case Money:
		return []string{"{currency}"}
	case HydraulicLoad:
		return []string{"m3/m2/d"}
	case Barometer:
		return []string{"kPa", "hPa", "mm[Hg]", "[in_i'Hg]", "[psi]"}
	case Hardness:
		return []string{"mg/L", "{°dH}", "{°fH}"}
	}
	return nil
}

// String names the kind in the words of an error message.
func (k Kind) String() string {
	switch k {
	case Number:
		return "number"
	case Count:
		return "whole number"
	case Share:
		return "share in percent"
	case PH:
		return "pH"
	case Length:
		return "length"
	case Size:
		return "size"
	case Area:
		return "area"
	case Volume:
		return "volume"
	case Mass:
		return "weight"
	case Temperature:
		return "temperature"
	case Flow:
		return "flow"
	case Head:
		return "head of water"
	case Concentration:
		return "concentration"
	case Salinity:
		return "salt content"
	case SpecificSurface:
		return "specific surface"
	case ArealRate:
		return "rate per surface"
	case MassRate:
		return "weight per time"
	case Duration:
		return "time"
	case Velocity:
		return "velocity"
	case Pressure:
		return "pressure"
	case Power:
		return "power"
	case Energy:
		return "energy"
	case Density:
		return "density"
	case Money:
		return "amount of money"
	case HydraulicLoad:
		return "hydraulic loading"
	case Barometer:
		return "pressure"
	case Hardness:
		return "hardness"
	}
	return "quantity"
}
