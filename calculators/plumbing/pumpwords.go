package plumbing

import "mereleaf/calculators"

// strongVelocity in m/s is where common practice for pond pipes sees losses run
// away.
const strongVelocity = 1.5

// guessedReach is the share of the most head up to which a curve guessed from
// one point is trusted to bring up water.
const guessedReach = 1 - guessedDoubt/100

// guessedDoubt is by how much real pumps differ from such a curve, per cent:
// common practice.
const guessedDoubt = 10.0

func (l *lift) flag(r *calculators.Result, q Spread, reynolds float64) {
	if len(l.points) > 0 {
		if l.onePump(q.High) > l.points[len(l.points)-1].Flow {
			r.Flag("The answer, or the upper end of its range, lies beyond the last point of the curve: it stands on the last line drawn on, a guess. Give points up to the largest flow.")
		}
		if l.onePump(q.Low) < l.points[0].Flow {
			r.Flag("The answer, or the lower end of its range, lies before the first point of the curve: it stands on the first line drawn back, a guess. Give a point at no flow.")
		}
	} else {
		flagGuess(r)
	}
	l.pipe.flag(r, reynolds)
}

// flagGuess says that a curve stands on one point only.
func flagGuess(r *calculators.Result) {
	r.Doubt("The curve was guessed from one point; real pumps differ by {doubt %} and more. Use points of the printed curve if you can.", guessedDoubt)
}

// adviseVelocity says when the water runs too fast for a pond's pipe.
func adviseVelocity(r *calculators.Result, velocity float64) {
	if velocity > strongVelocity {
		r.Say("The water runs faster than {most m/s}, more than common practice for pond pipes: a wider pipe saves flow and electricity.", strongVelocity)
	}
}

// flag says where the friction in the pipe is a guess.
func (p *Pipe) flag(r *calculators.Result, reynolds float64) {
	if reynolds > LaminarUpTo && reynolds < TurbulentFrom {
		r.Flag("The flow is between smooth and turbulent, where nobody can say how large the friction is.")
	}
	if p.Roughness.High/p.Bore > RoughestWall {
		r.Flag("The wall may be rougher than a twentieth of the bore, beyond what the friction formula was made for: the end of the range with the greater loss is a guess.")
	}
}

// onePump returns the flow of one pump at full speed that stands for a flow of
// all pumps at their speed.
func (l *lift) onePump(flow float64) float64 { return flow / (l.pump.Pumps * l.pump.Speed) }

func (l *lift) advise(r *calculators.Result, q Spread, velocity float64, loss *Loss) {
	if q.Likely == 0 {
		r.Say("No water comes out: the pump holds at most {most 3 m} of water, and the lift is {lift 3 m}. Lower the outlet or take a pump with more head. Do not leave the pump running so: it overheats.", l.pump.Head(0), l.height)
		return
	}
	if q.Low == 0 || len(l.points) == 0 && l.height > guessedReach*l.pump.Head(0) {
		r.Advise("The lift is so near to the most the pump can hold that no water may come out at all: take a pump with more head.")
	}
	if loss.Total() > l.height && l.height > 0 {
		r.Advise("More head is lost in the pipe than the lift takes: a wider or smoother pipe brings more water for the same electricity.")
	}
	adviseVelocity(r, velocity)
	r.Advise("Time a bucket at the outlet when all is built, and again each month: a falling flow means a blocked strainer or a slimed pipe.")
}

func (l *lift) work(r *calculators.Result, q Spread, reynolds float64, loss *Loss) {
	if q.Likely == 0 {
		return
	}
	l.pipe.work(r, q.Likely, reynolds, l.viscosity, loss)
	r.Step("Lift and losses, which the pump meets", "{3 m} + {3 m} = {3 m}", l.height, loss.Total(), l.height+loss.Total())
}

// work shows how the loss of a flow came about.
func (p *Pipe) work(r *calculators.Result, flow, reynolds, viscosity float64, loss *Loss) {
	k, v := p.Fittings, p.Velocity(flow)
	r.Step("Sum of K, outlet included", "{3} ({3} to {3})", k.Likely, k.Low, k.High)
	r.Step("Velocity", "{3 L/h} / (π/4 × ({3 mm})²) = {3 m/s}", 3.6e6*flow, 1000*p.Bore, v)
	r.Step("Reynolds number", "{3 m/s} × {3 m} / {3 mm2/s} = {3}", v, p.Bore, 1e6*viscosity, reynolds)
	e := p.Roughness.Likely / p.Bore
	f := Friction(reynolds, e).Likely
	if reynolds >= TurbulentFrom {
		r.Step("Friction factor by Colebrook", "{3}", f)
		r.Step("By Swamee and Jain, and by Haaland, to compare", "{3}; {3}", SwameeJainFriction(reynolds, e), HaalandFriction(reynolds, e))
	} else {
		r.Step("Friction factor", "{3}", f)
	}
	head := VelocityHead(v)
	r.Step("Friction", "{3} × {3 m} / {3 m} × {3 m} = {3 m}", f, p.Length, p.Bore, head, loss.Friction)
	r.Step("Fittings and outlet", "{3} × {3 m} = {3 m}", k.Likely, head, loss.Fittings)
}
