// Package water holds what the handbook computes about pond water: the toxic
// part of ammonia and its limits, oxygen at saturation, air pressure.
//
// Every formula is a pure function of plain numbers, in the units its comment
// states. Outside the range its source states it returns NaN, so that a number
// that nobody vouches for cannot travel on.
package water
