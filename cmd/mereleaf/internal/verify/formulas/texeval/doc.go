// Package texeval reads the part of TeX in which the handbook prints its formulas
// and evaluates it, so that a formula on a page is compared with the Go function
// that runs. It knows nothing of calculators.
//
// What it reads:
//
//	numbers, +, -, \cdot, \times, /, juxtaposition, ^, ( ), [ ] and \left \right
//	\frac \tfrac \sqrt \ln \log_{10} \exp \sin \cos \arctan |x| \lfloor \lceil
//	\min \max of a list in brackets, \min_i \max_i and \sum_{i=1}^{n} over a list
//	\begin{cases} with conditions, \begin{aligned} as a list of equations
//	= < > \le \ge between expressions, any number of them
//	several equations, separated by commas, semicolons or \quad
//
// A symbol is one letter, a Greek one, or a word in \mathrm{}; it may carry a
// subscript, a star, a prime, or \Delta, \dot, \mathrm{p}, \sum before it. Its
// name is what is read aloud: C_\mathrm{in} and C_{\mathrm{in}} are both "C_in".
// Letters side by side are a product, so that a name of several letters must
// stand in \mathrm{}. A unit behind a number or an expression is set off by
// "\ ", as in 4.54609\ \mathrm{L}. A symbol before a bracket is a function where
// the environment has one of its name, and a factor elsewhere.
//
// Every value is an interval. Exact numbers are intervals without width; a number
// that was rounded to its printed digits has that of its rounding, and the result
// of a sum holds every value that the unrounded numbers could have given.
//
// It touches nothing outside the program.
package texeval
