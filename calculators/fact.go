package calculators

// Fact is one thing of the pond that calculators ask for.
type Fact struct {
	Name    string // "volume"
	Input   Input  // how it is asked for: as most calculators label it, the first of them on a tie
	AskedBy []Use
}

// Use is an input and the calculator that it belongs to.
type Use struct {
	Calculator Calculator
	Input      Input
}

// Facts returns the facts in the order in which the calculators ask for them.
func (s Set) Facts() []Fact {
	var facts []Fact
	at := map[string]int{}
	for _, c := range s.all {
		for _, d := range c.Inputs {
			if d.Fact == "" {
				continue
			}
			i, known := at[d.Fact]
			if !known {
				i = len(facts)
				at[d.Fact] = i
				facts = append(facts, Fact{Name: d.Fact})
			}
			facts[i].AskedBy = append(facts[i].AskedBy, Use{Calculator: c, Input: d})
		}
	}
	for i := range facts {
		facts[i].Input = usual(facts[i].AskedBy)
	}
	return facts
}

// Key names an input in a pond record: by its fact, or by the calculator and its
// own name, "free-ammonia.limit".
func (c Calculator) Key(d Input) string {
	if d.Fact != "" {
		return d.Fact
	}
	return c.ID + "." + d.Name
}

// Keys are Key and those under which pond records of earlier editions have the
// input.
func (c Calculator) Keys(d Input) []string {
	keys := []string{c.Key(d)}
	for _, once := range d.Once {
		keys = append(keys, c.ID+"."+once)
	}
	return keys
}

// usual returns the input with the label that most uses have.
func usual(uses []Use) Input {
	var best Input
	most := 0
	count := map[string]int{}
	for _, u := range uses {
		count[u.Input.Label]++
	}
	for _, u := range uses {
		if n := count[u.Input.Label]; n > most {
			best, most = u.Input, n
		}
	}
	return best
}

// factFaults compares the inputs of each fact.
func (s Set) factFaults() []Fault {
	var faults []Fault
	for _, fact := range s.Facts() {
		first := fact.AskedBy[0]
		if !legalID(fact.Name) {
			faults = append(faults, first.fault("states the fact "+fact.Name+", which must be lower-case words joined by hyphens, such as tap-nitrate"))
		}
		for i, u := range fact.AskedBy[1:] {
			if before := fact.AskedBy[i]; before.Calculator.ID == u.Calculator.ID {
				faults = append(faults, u.fault("states the fact "+fact.Name+", which "+before.name()+" states already; a calculator asks for a fact once"))
			}
			if what := first.Input.differs(u.Input); what != "" {
				faults = append(faults, u.fault("states the fact "+fact.Name+" in "+what+" other than "+first.name()+" does; give it the same, or a fact of its own"))
			}
		}
	}
	return faults
}

// fault blames an input of a calculator.
func (u Use) fault(what string) Fault {
	return Fault{Calculator: u.Calculator.ID, Problem: "the input " + u.Input.Name + " " + what}
}

func (u Use) name() string { return u.Calculator.ID + "." + u.Input.Name }

// differs says in what the text of one input could not stand in another; "" if
// it could.
func (d Input) differs(e Input) string {
	switch {
	case d.Type != e.Type:
		return "a type"
	case d.Type == Single && d.Kind != e.Kind:
		return "a kind of quantity"
	case d.Type == Choice && !d.sameOptions(e):
		return "options"
	case d.Type == Rows && len(d.Columns) != len(e.Columns):
		return "a number of columns"
	case d.Type == Rows:
		for i, column := range d.Columns {
			if column.Name != e.Columns[i].Name || column.differs(e.Columns[i]) != "" {
				return "a column " + e.Columns[i].Name
			}
		}
	}
	return ""
}

// sameOptions compares names, in any order: the text of a choice is a name.
func (d Input) sameOptions(e Input) bool {
	for _, o := range d.Options {
		if !e.offers(o.Name) {
			return false
		}
	}
	return len(d.Options) == len(e.Options)
}
