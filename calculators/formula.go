package calculators

import "runtime"

// Formula is a published relation the calculator uses.
type Formula struct {
	_        Incomparable
	Name     string // "Emerson 1975"
	Says     string // one sentence: what it gives, its range
	TeX      string
	Source   string // key in content/sources.json; "" only with Basis practice
	Locator  string // "equation 6"
	Basis    string // published, practice, memory
	Function string // Go function that computes it: "water.UnionisedFraction"

	// Check ties the symbols of the TeX to the function, so that what is printed
	// is compared with what runs.
	Check Check
}

// CheckKind is how a formula is compared with its function.
type CheckKind uint8

// The kinds.
const (
	NoCheck    CheckKind = iota // a fault
	IsExplicit                  // one side is the result
	IsImplicit                  // the result satisfies it
	IsRates                     // right sides of differential equations
	IsReaction                  // atoms and charge balance
)

// Check says which symbol of a formula is which argument of a Go function, in
// which unit and over which range.
//
// Symbols reads as a call: the results, a colon, and the arguments with what they
// run through, as in
//
//	V [m3]: l [m] length at the top 1..30, w [m] 0.5..30, d [m] 0.3..4
//
// A symbol stands as in the TeX, read aloud: C_in for C_\mathrm{in}; the unit is
// the UCUM code of what the TeX takes; behind it may stand what the symbol is, in
// words without comma and colon, which readers see under the formula. Symbols that
// are the same thing in many formulas have their words in the package formulas,
// words.go, once. Values in place of a range are separated by bars, 1|2|4. Compute takes the arguments and returns the results in this
// order. A result "-" is not looked at. A struct with Low, Likely and High may
// stand for a result: its symbol is the likely value, C_low and C_high are its
// ends, and a chain a ≤ C ≤ b compares them. Lists ([]float64, symbol A_i) and
// functions of one number are symbols too.
type Check struct {
	_       Incomparable
	Kind    CheckKind
	Symbols string
	Compute any
	Rounded bool   // its decimals are rounded to those printed; the function has more
	Pos     string // file:line of the declaration
}

// Explicit checks a formula whose one side is the result of the function.
func Explicit(symbols string, compute any) Check {
	return Check{Kind: IsExplicit, Symbols: symbols, Compute: compute, Pos: caller()}
}

// Rounded is Explicit for a formula that prints constants with fewer digits than
// the function has.
func Rounded(symbols string, compute any) Check {
	return Check{Kind: IsExplicit, Symbols: symbols, Compute: compute, Rounded: true, Pos: caller()}
}

// Implicit checks that the results of the function satisfy the formula.
func Implicit(symbols string, compute any) Check {
	return Check{Kind: IsImplicit, Symbols: symbols, Compute: compute, Pos: caller()}
}

// Rates checks the right sides of differential equations at points of their
// solution.
func Rates(symbols string, compute any) Check {
	return Check{Kind: IsRates, Symbols: symbols, Compute: compute, Pos: caller()}
}

// Reaction checks that atoms and charge balance.
func Reaction() Check { return Check{Kind: IsReaction, Pos: caller()} }

// caller is the place of the declaration, as the compiler knows it. The module
// has no declarations and leaves it out.
func caller() string {
	_, file, line, _ := runtime.Caller(2)
	digits := ""
	for ; line > 0; line /= 10 {
		digits = string(rune('0'+line%10)) + digits
	}
	return file + ":" + digits
}
