package calculators

// PondSetting and DaySetting are what a chapter writes where it means a pond of
// the handbook and a reading of its log; no input has these names.
const (
	PondSetting = "pond"
	DaySetting  = "day"
)

// Facts are what is known of one pond: texts as a reader types them, by
// Calculator.Key, as a pond record holds them.
type Facts map[string]string

// Args returns what the facts state of a calculator's inputs, those first known
// under an earlier name too. An empty text states nothing.
func (f Facts) Args(c Calculator) []Arg {
	var args []Arg
	for _, d := range c.Inputs {
		if text := f.of(c, d); text != "" {
			args = append(args, Arg{Name: d.Name, Value: text})
		}
	}
	return args
}

func (f Facts) of(c Calculator, d Input) string {
	for _, key := range c.Keys(d) {
		if text := f[key]; text != "" {
			return text
		}
	}
	return ""
}

// Ponds are the ponds that examples and tables are about. Calculators name them
// and hold no number of them.
type Ponds interface {
	// Facts returns what is known of a pond, with the readings of a day of its
	// log over it, or without any if the day is "". It reports whether there are
	// such a pond and such a reading.
	Facts(pond, day string) (Facts, bool)
}

// Results returns the facts that follow from others: outputs that declare one,
// as displayed. What the facts state already does not change; a calculator that
// refuses what is known of the pond adds nothing.
func (s Set) Results(known Facts) Facts {
	found := Facts{}
	for _, c := range s.all {
		if !c.finds(known) {
			continue
		}
		_, r, err := c.Evaluate(c.Over(nil, known.Args(c)))
		if err != nil {
			continue
		}
		for _, o := range c.Outputs {
			v, ok := r.Value(o.Name)
			for _, fact := range o.Facts {
				if ok && known[fact] == "" {
					found[fact] = plainOutput(o, v.Likely)
				}
			}
		}
	}
	return found
}

// finds reports whether an output of the calculator is a fact not known yet.
func (c Calculator) finds(known Facts) bool {
	for _, o := range c.Outputs {
		for _, fact := range o.Facts {
			if known[fact] == "" {
				return true
			}
		}
	}
	return false
}
