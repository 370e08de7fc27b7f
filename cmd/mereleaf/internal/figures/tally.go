package figures

// Tally counts what stands on one basis.
type Tally struct {
	Basis   string // Published, Computed, Practice, Memory or Scenario
	Rows    int
	Numbers int // cells of them that hold a number
}

// Count counts the rows and numbers of sets by basis, in the order in which a
// reader may trust them. A basis without rows is left out.
func Count(sets ...*Set) []Tally {
	all := []Tally{{Basis: Published}, {Basis: Computed}, {Basis: Practice}, {Basis: Memory}, {Basis: Scenario}}
	for _, s := range sets {
		for _, r := range s.Rows {
			for i := range all {
				if all[i].Basis == r.Basis {
					all[i].Rows++
					all[i].Numbers += r.numbers()
				}
			}
		}
	}
	var found []Tally
	for _, t := range all {
		if t.Rows > 0 {
			found = append(found, t)
		}
	}
	return found
}

// numbers counts the cells of the row that hold a number or a range.
func (r Row) numbers() int {
	n := 0
	for _, c := range r.Cells {
		if c.numeric {
			n++
		}
	}
	return n
}
