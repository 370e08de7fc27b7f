package plumbing

import "math"

// Gravity is the standard acceleration of free fall in m/s2, exact by
// definition (NIST SP 811, 2008, table of conversion factors). Programs for
// water networks that take 32.2 ft/s2 = 9.8146 differ by 0.08 %.
const Gravity = 9.80665

// DynamicViscosity returns the dynamic viscosity of fresh water in Pa s at a
// temperature in degrees Celsius.
//
//	below 20: log10(mu/mPa s) = 1301/(998.333 + 8.1855 (t-20) + 0.00585 (t-20)^2) - 1.30233
//	from 20:  log10(mu/1.002 mPa s) = (1.3272 (20-t) - 0.001053 (t-20)^2)/(t+105)
//
// Range 0 to 40 Celsius here (the second form is good to 100); outside, the
// same forms, growing worse. Source crc-viscosity-formula; the form below 20 is
// from memory, 0.3 % below tables at 0 Celsius.
func DynamicViscosity(celsius float64) float64 {
	d := celsius - 20
	if celsius < 20 {
		return 1e-3 * math.Pow(10, 1301/(998.333+8.1855*d+0.00585*d*d)-1.30233)
	}
	return 1.002e-3 * math.Pow(10, (-1.3272*d-0.001053*d*d)/(celsius+105))
}

// KinematicViscosity returns the kinematic viscosity of fresh water in m2/s at
// a temperature in degrees Celsius: DynamicViscosity over a density of
// 1000 kg/m3. The true density at 0 to 40 Celsius is up to 0.8 % less, which
// moves a friction loss by less than 0.2 %, far below what is known of any
// pipe's wall. Range and behaviour outside as for DynamicViscosity.
func KinematicViscosity(celsius float64) float64 {
	return DynamicViscosity(celsius) / 1000
}
