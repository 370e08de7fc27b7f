package calculators

// Over puts arguments over others, such as those of a worked example or of a
// pond record. What of the others does not apply under the arguments is left
// out; an argument that does not apply stays, to be refused.
func (c Calculator) Over(args, others []Arg) []Arg {
	args, others = c.Renamed(args), c.Renamed(others)
	all := args
	for _, d := range c.Inputs {
		value, known := Find(others, d.Name)
		if _, given := Find(args, d.Name); known && !given && Applies(c.Inputs, all, d) {
			all = With(all, Arg{Name: d.Name, Value: value})
		}
	}
	return all
}

// Instead returns arguments that stand in the place of others: what they leave
// out they state as empty, so that a form that showed the others is emptied
// there.
func (c Calculator) Instead(args, others []Arg) []Arg {
	all := args
	for _, a := range others {
		if _, stated := Find(args, a.Name); !stated {
			all = With(all, Arg{Name: a.Name})
		}
	}
	return all
}

// Find returns the value of an argument, or false if it is not given.
func Find(args []Arg, name string) (string, bool) {
	for _, a := range args {
		if a.Name == name {
			return a.Value, true
		}
	}
	return "", false
}

// Applies reports whether an input's condition holds under the arguments.
func Applies(inputs []Input, args []Arg, d Input) bool {
	if d.When.Input == "" {
		return true
	}
	for _, on := range inputs {
		if on.Name != d.When.Input || !Applies(inputs, args, on) {
			continue
		}
		choice, stated := Find(args, on.Name)
		if !stated {
			choice = on.Default
		}
		for _, is := range d.When.Is {
			if choice == is {
				return true
			}
		}
	}
	return false
}

// Renamed returns the arguments with each earlier name of an input replaced by
// its name of today.
func (c Calculator) Renamed(args []Arg) []Arg {
	out := make([]Arg, len(args))
	for i, a := range args {
		out[i] = a
		if _, known := c.Input(a.Name); known {
			continue
		}
		for j := range c.Inputs {
			if c.Inputs[j].wasCalled(a.Name) {
				out[i].Name = c.Inputs[j].Name
			}
		}
	}
	return out
}
