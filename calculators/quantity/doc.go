// Package quantity holds physical quantities as people write them and as
// figures state them: a number with a unit.
//
// Units are named by UCUM codes (The Unified Code for Units of Measure), of
// which the package reads the part the handbook needs: products, quotients,
// integer powers, metric prefixes, the customary length, volume, mass and
// pressure units, Celsius and Fahrenheit, degrees of hardness. Conversion factors are the exact ones
// of NIST SP 811, Appendix B, where that publication marks them exact.
//
// The package catches a wrong dimension (a length where a volume is wanted) and
// an ambiguous name ("gal" without saying which gallon). It cannot catch two
// quantities of one dimension being mixed up, such as mg/L of total ammonia and
// mg/L of nitrite.
//
// It uses neither fmt nor encoding/json, because it is part of the WebAssembly
// module that a phone loads on a bad signal.
package quantity
