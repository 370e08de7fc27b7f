package pond

import "math"

// Density returns the density of fresh water in kg/m3 at a temperature in
// degrees Celsius, by the recommended formula of Tanaka and others (2001), stated
// for pure water at one atmosphere, 0 to 40 Celsius:
//
//	rho = 999.974950 (1 - (t-3.983035)2 (t+301.797)/(522528.9 (t+69.34881)))
//
// Outside that range it runs on and grows worse. Its uncertainty is under one
// part in a million; minerals of tap water weigh more than that. Source
// tanaka-2001, equation 1 and table 1.
func Density(celsius float64) float64 {
	d := celsius - 3.983035
	return 999.974950 * (1 - d*d*(celsius+301.797)/(522528.9*(celsius+69.34881)))
}

// Mass returns the mass in kg of fresh water from its volume in m3 and its
// temperature in degrees Celsius, by Density.
func Mass(volume, celsius float64) float64 { return volume * Density(celsius) }

// SaltVolume returns the volume in m3 of the water in which salt of the given
// mass in kg raised the salt content from before to after, in g/L. All the salt
// must have dissolved and spread, and none may have been lost:
//
//	V = m / (S2 - S1)
//
// It is not stated for after at or below before. Source kangei-club-2012: 1 kg
// in 1,000 L is a rise of 1 g/L.
func SaltVolume(mass, before, after float64) float64 { return mass / (after - before) }

// RiseError returns the standard error in g/L of a rise that is the difference
// of two readings with the given error each.
func RiseError(reading float64) float64 { return math.Sqrt2 * reading }
