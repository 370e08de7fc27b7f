package plumbing

import (
	"mereleaf/calculators"
)

// strongVelocity is where common practice for pond pipes sees losses run away.
const strongVelocity = 1.5

func (l lift) flags(q Spread, reynolds float64) []string {
	var flags []string
	say := func(s string) { flags = append(flags, s) }
	if len(l.points) > 0 {
		first, last := l.points[0], l.points[len(l.points)-1]
		one := Spread{l.onePump(q.Low), l.onePump(q.Likely), l.onePump(q.High)}
		if one.High > last.Flow {
			say("The answer, or the upper end of its range, lies beyond the last point of the curve: it stands on the last line drawn on, a guess. Give points up to the largest flow.")
		}
		if one.Low < first.Flow {
			say("The answer, or the lower end of its range, lies before the first point of the curve: it stands on the first line drawn back, a guess. Give a point at no flow.")
		}
	} else {
		say("The curve was guessed from one point; real pumps differ by 10 % and more. Use points of the printed curve if you can.")
	}
	if reynolds > LaminarUpTo && reynolds < TurbulentFrom {
		say("The flow is between smooth and turbulent, where nobody can say how large the friction is.")
	}
	if l.pipe.Roughness.High/l.pipe.Bore > RoughestWall {
		say("The wall may be rougher than a twentieth of the bore, beyond what the friction formula was made for: the lower end of the range is a guess.")
	}
	return flags
}

// onePump returns the flow of one pump at full speed that stands for a flow of
// all pumps at their speed.
func (l lift) onePump(flow float64) float64 { return flow / (l.pump.Pumps * l.pump.Speed) }

func (l lift) advice(q Spread, velocity float64, loss Loss) []string {
	shutOff := l.pump.Head(0)
	if q.Likely == 0 {
		return []string{"No water comes out: the pump holds at most " + text(shutOff, 3, "m") + " of water, and the lift is " + text(l.height, 3, "m") + ". Lower the outlet or take a pump with more head. Do not leave the pump running so: it overheats."}
	}
	var advice []string
	if q.Low == 0 {
		advice = append(advice, "The lift is so near to the most the pump can hold that no water may come out at all: take a pump with more head.")
	}
	if loss.Total() > l.height && l.height > 0 {
		advice = append(advice, "More head is lost in the pipe than the lift takes: a wider or smoother pipe brings more water for nothing.")
	}
	if velocity > strongVelocity {
		advice = append(advice, "The water runs faster than 1.5 m/s, more than common practice for pond pipes: a wider pipe saves flow and electricity.")
	}
	return append(advice, "Time a bucket at the outlet when all is built, and again each month: a falling flow means a blocked strainer or a slimed pipe.")
}

func (l lift) work(r *calculators.Result, q Spread, reynolds float64, loss Loss) {
	step := func(label, s string) { r.Working = append(r.Working, calculators.Step{Label: label, Text: s}) }
	k := l.pipe.Fittings
	step("Sum of K, outlet included", text(k.Likely, 3, "1")+" ("+text(k.Low, 3, "1")+" to "+text(k.High, 3, "1")+")")
	if q.Likely == 0 {
		return
	}
	v := l.pipe.Velocity(q.Likely)
	step("Velocity", text(3.6e6*q.Likely, 3, "L/h")+" through "+text(1000*l.pipe.Bore, 3, "mm")+" = "+text(v, 3, "m/s"))
	step("Reynolds number", text(v, 3, "m/s")+" × "+text(l.pipe.Bore, 3, "m")+" / "+text(1e6*l.viscosity, 3, "mm2/s")+" = "+text(reynolds, 3, "1"))
	e := l.pipe.Roughness.Likely / l.pipe.Bore
	f := Friction(reynolds, e).Likely
	factor := text(f, 3, "1")
	if reynolds >= TurbulentFrom {
		factor += ", by Colebrook (Swamee and Jain " + text(SwameeJainFriction(reynolds, e), 3, "1") + ", Haaland " + text(HaalandFriction(reynolds, e), 3, "1") + ")"
	}
	step("Friction factor", factor)
	head := VelocityHead(v)
	step("Friction", text(f, 3, "1")+" × "+text(l.pipe.Length, 3, "m")+" / "+text(l.pipe.Bore, 3, "m")+" × "+text(head, 3, "m")+" = "+text(loss.Friction, 3, "m"))
	step("Fittings and outlet", text(k.Likely, 3, "1")+" × "+text(head, 3, "m")+" = "+text(loss.Fittings, 3, "m"))
	step("Balance", "lift "+text(l.height, 3, "m")+" + losses "+text(loss.Total(), 3, "m")+" = head of the pump "+text(l.pump.Head(q.Likely), 3, "m"))
}
