package plumbing

// WaterDensity is the density of fresh water at 20 Celsius in kg/m3 (figure set
// hydraulics-pump-energy takes it); at 0 to 30 Celsius water differs by 0.3 %.
const WaterDensity = 998.2

// HydraulicPower returns the power in W that a flow in m3/s takes up while it
// is lifted through a head in m, losses counted in the head.
//
//	P = rho g Q H
//
// Figures: hydraulics-pump-energy. No range of its own.
func HydraulicPower(flow, head float64) float64 { return WaterDensity * Gravity * flow * head }

// ElectricPower returns the power in W that a pump draws to give the water a
// hydraulic power in W, with its efficiency from wire to water, above 0 to 1.
//
//	P = Ph/eta
//
// Figures: hydraulics-pump-energy; efficiencies: hydraulics-pump-efficiency.
func ElectricPower(hydraulic, efficiency float64) float64 { return hydraulic / efficiency }

// AffinityPower returns the share of its full power that a pump draws at a share
// of full speed: its cube (figure set hydraulics-affinity, 0.5 to 1.2). It is
// the best case: with a static lift the pump works at another point of its
// curve and saves less, and what a motor and its controller lose does not
// shrink so fast.
//
//	P/P1 = s^3
func AffinityPower(speed float64) float64 { return speed * speed * speed }

// Energy returns the energy in kW h that a power in W takes in a number of
// hours.
func Energy(power, hours float64) float64 { return power * hours / 1000 }

// PumpEfficiency returns the share of the electricity that reaches the water, by
// the kind of pump, in percent. The ends are common practice (figure set
// hydraulics-pump-efficiency); no published test of these pumps was found. The
// likely value is the middle, our own practice. An unknown kind has none: 0.
func PumpEfficiency(kind string) Spread {
	switch kind {
	case "small":
		return Spread{5, 12.5, 20}
	case "pond":
		return Spread{10, 20, 30}
	case "controlled":
		return Spread{20, 32.5, 45}
	case "pool":
		return Spread{25, 35, 45}
	}
	return Spread{}
}
