package calculators

import "math"

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
	for _, v := range r.Values {
		if sum := v.Low + v.Likely + v.High; math.IsNaN(sum) || math.IsInf(sum, 0) {
			return in, Result{}, InputErrors{{Input: c.ID, Problem: "finds no " + v.Output + " for these inputs", Remedy: "check them against each other"}}
		}
	}
	r.Flags = append(in.statedFlags(), r.Flags...)
	return in, r, nil
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
