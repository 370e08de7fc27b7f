// Package media computes how much filter medium turns a day's ammonia into
// nitrate: the surface of media, the rate of the film on it, and the water that
// must run over it; which medium does it for the least money; how long a new
// filter takes and how much alkalinity it uses up; and what stands before and
// beside it, foam and ultraviolet lamps.
//
// What is known here is known as ranges; functions return them as low, likely
// and high. Concentrations are in mg/L, temperatures in degrees Celsius, rates in
// g/m2/d of ammonia nitrogen, loads of water in m3/m2/d. Functions are pure.
package media
