// Package stack computes what a stack of filter boxes weighs, how hard it presses
// on the ground, and what tips it: wind, a push, a child that climbs.
//
// Functions take and return SI units (kg, m, N, Pa, m/s) unless their comment
// says otherwise. They are pure.
package stack
