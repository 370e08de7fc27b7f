// Package media computes how much filter medium turns a day's ammonia into
// nitrate: the surface of media, the rate of the film on it, and the water that
// must run over it.
//
// What is known here is known as ranges; functions return them as low, likely
// and high. Concentrations are in mg/L, temperatures in degrees Celsius, rates in
// g/m2/d of ammonia nitrogen, loads of water in m3/m2/d. Functions are pure.
package media
