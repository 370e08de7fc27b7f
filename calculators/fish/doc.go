// Package fish holds what the handbook computes about the fish: their weight
// by length, how much they are fed, and what the water has to bear for it.
//
// Every formula is a pure function of plain numbers, in the units its comment
// states. Outside the range its source states it returns NaN.
package fish
