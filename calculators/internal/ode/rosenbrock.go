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

func newWork(f System, y []float64) *work {
	n := len(y)
	w := &work{f: f, row: make([]int, n)}
	memory := make([]float64, 7*n+2*n*n)
	take := func(n int) []float64 {
		part := memory[:n:n]
		memory = memory[n:]
		return part
	}
	w.rates, w.nextRates, w.next = take(n), take(n), take(n)
	w.jacobian, w.matrix = take(n*n), take(n*n)
	for i := range w.g {
		w.g[i] = take(n)
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
	if !w.factor(2 / h) {
		return math.Inf(1)
	}
	g1, g2, g3, g4, at, r := w.g[0], w.g[1], w.g[2], w.g[3], w.next, w.nextRates
	copy(g1, w.rates)
	w.solve(g1)
	for i := range y {
		at[i] = y[i] + 2*g1[i]
	}
	w.f.Rates(at, r)
	for i := range y {
		g2[i] = r[i] - 8*g1[i]/h
	}
	w.solve(g2)
	for i := range y {
		at[i] = y[i] + 48./25*g1[i] + 6./25*g2[i]
	}
	w.f.Rates(at, r)
	for i := range y {
		g3[i] = r[i] + (372./25*g1[i]+12./5*g2[i])/h
	}
	w.solve(g3)
	for i := range y {
		g4[i] = r[i] - (112./125*g1[i]+54./125*g2[i]+2./5*g3[i])/h
	}
	w.solve(g4)
	worst := 0.0
	for i := range y {
		at[i] = y[i] + 19./9*g1[i] + 1./2*g2[i] + 25./108*g3[i] + 125./108*g4[i]
		wrong := math.Abs(17./54*g1[i] + 7./36*g2[i] + 125./108*g4[i])
		worst = math.Max(worst, wrong/(c.Tolerance*math.Max(c.Small[i], math.Max(math.Abs(y[i]), math.Abs(at[i])))))
	}
	return worst
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
