package calculators

import "mereleaf/calculators/quantity"

// Set is an immutable collection of calculators. The zero Set is empty.
type Set struct{ all []Calculator }

// NewSet returns the set of the given calculators in the given order. It does
// not validate them: that runs every example, which a page on a phone should
// not wait for. The program and the tests call Validate.
func NewSet(all ...Calculator) Set { return Set{all: all} }

// All returns the calculators in order. The caller must not change them.
func (s Set) All() []Calculator { return s.all }

// Find returns the calculator with the given ID.
func (s Set) Find(id string) (Calculator, bool) {
	for _, c := range s.all {
		if c.ID == id {
			return c, true
		}
	}
	return Calculator{}, false
}

// Evaluate computes with inputs as text and returns unrounded values. The error
// is an InputErrors.
func (c Calculator) Evaluate(args []Arg) (Inputs, Result, error) {
	in, errs := parseInputs(c.Inputs, args)
	if len(errs) > 0 {
		return in, Result{}, errs
	}
	r, err := c.Compute(in)
	if err != nil {
		switch e := err.(type) {
		case InputErrors:
			return in, Result{}, e
		case InputError:
			return in, Result{}, InputErrors{e}
		}
		return in, Result{}, InputErrors{{Input: c.ID, Problem: err.Error()}}
	}
	if len(r.Values) > 0 && !r.Values[0].finite() {
		return in, Result{}, InputErrors{{Input: c.ID, Problem: quantity.Put("finds no {output} for these inputs", "output", r.Values[0].Output), Remedy: "check them against each other"}}
	}
	c.leaveOutUnsaid(&r)
	c.sayWhatNarrows(&r)
	r.Flags = append(in.statedFlags(), r.Flags...)
	return in, r, nil
}

// leaveOutUnsaid takes the values that are not finite out of a result and says so
// in a flag each. The first value is the answer, and without it there is none; any
// other must not hide the advice and the rest from someone whose fish gasp.
func (c Calculator) leaveOutUnsaid(r *Result) {
	var said []Value
	for _, v := range r.Values {
		if v.finite() {
			said = append(said, v)
			continue
		}
		r.Unsaid = append(r.Unsaid, v.Output)
		label := v.Output
		if o, ok := c.Output(v.Output); ok {
			label = o.Label
		}
		r.Flag(quantity.Put("{output}: left out, because these inputs give no number for it. Check them against each other.", "output", label))
	}
	if len(r.Unsaid) > 0 {
		r.Values = said
	}
}

// finite reports whether the value and both ends of its range are numbers.
func (v Value) finite() bool {
	// A difference from itself is 0 for what is finite and NaN for the rest.
	return v.Low-v.Low == 0 && v.Likely-v.Likely == 0 && v.High-v.High == 0
}

// Value returns the result's value of an output.
func (r Result) Value(output string) (Value, bool) {
	for _, v := range r.Values {
		if v.Output == output {
			return v, true
		}
	}
	return Value{}, false
}

// Output returns the declaration of an output.
func (c Calculator) Output(name string) (Output, bool) {
	for _, o := range c.Outputs {
		if o.Name == name {
			return o, true
		}
	}
	return Output{}, false
}

// Input returns the declaration of an input.
func (c Calculator) Input(name string) (Input, bool) {
	for _, d := range c.Inputs {
		if d.Name == name {
			return d, true
		}
	}
	return Input{}, false
}
