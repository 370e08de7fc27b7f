package ode

import "math"

// work is the memory of a run.
type work struct {
	f                System
	rates, nextRates []float64
	next             []float64
	jacobian, matrix []float64
	g                [4][]float64
	row              []int // order of the rows after pivoting
}

func newWork(f System, n int) *work {
	w := &work{f: f, rates: make([]float64, n), nextRates: make([]float64, n), next: make([]float64, n),
		jacobian: make([]float64, n*n), matrix: make([]float64, n*n), row: make([]int, n)}
	for i := range w.g {
		w.g[i] = make([]float64, n)
	}
	return w
}

func (w *work) linearise(y []float64) {
	clear(w.jacobian)
	w.f.Jacobian(y, w.jacobian)
}

// try takes a step of the length h from y into w.next and returns its error as a
// multiple of what is allowed. The coefficients are those of shampine-1982 with
// gamma = 1/2, in the form that needs no product with the Jacobian.
func (w *work) try(y []float64, h float64, c Control) float64 {
	for i := range w.g { // what a failed step left behind may be infinite
		clear(w.g[i])
	}
	if !w.factor(2 / h) {
		return math.Inf(1)
	}
	w.stage(0, y, h, 0, 0, w.rates, 0, 0, 0)
	w.stage(1, y, h, 2, 0, nil, -8, 0, 0)
	w.stage(2, y, h, 48./25, 6./25, nil, 372./25, 12./5, 0)
	w.stage(3, y, h, 0, 0, w.nextRates, -112./125, -54./125, -2./5) // at the same place as the one before
	g := &w.g
	worst := 0.0
	for i := range y {
		after := y[i] + 19./9*g[0][i] + 1./2*g[1][i] + 25./108*g[2][i] + 125./108*g[3][i]
		wrong := math.Abs(17./54*g[0][i] + 7./36*g[1][i] + 125./108*g[3][i])
		worst = math.Max(worst, wrong/(c.Tolerance*math.Max(c.Small[i], math.Max(math.Abs(y[i]), math.Abs(after)))))
		w.next[i] = after
	}
	return worst
}

// stage finds w.g[k]: the rates at y + a1 g1 + a2 g2, unless they are given, and
// (c1 g1 + c2 g2 + c3 g3)/h are the right-hand side.
func (w *work) stage(k int, y []float64, h, a1, a2 float64, rates []float64, c1, c2, c3 float64) {
	if rates == nil {
		rates = w.nextRates
		for i := range y {
			w.next[i] = y[i] + a1*w.g[0][i] + a2*w.g[1][i]
		}
		w.f.Rates(w.next, rates)
	}
	for i := range y {
		w.g[k][i] = rates[i] + (c1*w.g[0][i]+c2*w.g[1][i]+c3*w.g[2][i])/h
	}
	w.solve(w.g[k])
}

// factor puts the triangles of shift times the unit matrix less the Jacobian
// into w.matrix, with the largest element of each column on the diagonal. It
// reports false if there is no solution.
func (w *work) factor(shift float64) bool {
	n, m := len(w.row), w.matrix
	for i := range m {
		m[i] = -w.jacobian[i]
	}
	for i := range n {
		m[i*n+i] += shift
	}
	for k := range n {
		p := k
		for i := k + 1; i < n; i++ {
			if math.Abs(m[i*n+k]) > math.Abs(m[p*n+k]) {
				p = i
			}
		}
		w.row[k] = p
		if m[p*n+k] == 0 {
			return false
		}
		for j := range n {
			m[k*n+j], m[p*n+j] = m[p*n+j], m[k*n+j]
		}
		for i := k + 1; i < n; i++ {
			m[i*n+k] /= m[k*n+k]
			for j := k + 1; j < n; j++ {
				m[i*n+j] -= m[i*n+k] * m[k*n+j]
			}
		}
	}
	return true
}

// solve replaces the right-hand side b by the solution.
func (w *work) solve(b []float64) {
	n, m := len(b), w.matrix
	for k, p := range w.row {
		b[k], b[p] = b[p], b[k]
	}
	for i := range n {
		for j := range i {
			b[i] -= m[i*n+j] * b[j]
		}
	}
	for i := n - 1; i >= 0; i-- {
		for j := i + 1; j < n; j++ {
			b[i] -= m[i*n+j] * b[j]
		}
		b[i] /= m[i*n+i]
	}
}
