package quantities

import (
	"slices"
	"strconv"
	"strings"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/page"
	"mereleaf/cmd/mereleaf/internal/ponds"
)

// day returns the day of whose reading a pond: link asks; "" for the standing facts.
func day(r *page.Reference) (string, *diag.Diagnostic) {
	on := ""
	for _, p := range r.Query {
		if p.Key != dayKey {
			_, d := fault(r, "a pond: link asks for "+p.Key, dayKey+"=2026-05-03, the day of a reading", "correct or remove it")
			return "", d
		}
		on = p.Value
	}
	return on, nil
}

func unknownPond(all ponds.Ponds, r *page.Reference, name string) *diag.Diagnostic {
	_, d := fault(r, "the pond "+name+" is unknown", "one of "+strings.Join(all.Names(), ", "), "correct the link, or add its record to "+ponds.Folder)
	return d
}

func noReading(r *page.Reference, pond *ponds.Pond, on string) *diag.Diagnostic {
	_, d := fault(r, "the pond "+pond.Name+" has no single reading on "+on, "one of "+strings.Join(pond.Days(), ", "), "correct the day, or add the reading to its log")
	return d
}

// Told returns what of its pond a pond: link is about: the key of a fact, or the
// time of a reading; false if there is none.
func (b *Binder) Told(r *page.Reference) (string, bool) {
	pond, ok := b.Ponds.Find(r.Target)
	on, d := day(r)
	if !ok || d != nil {
		return "", false
	}
	if on != "" {
		read, ok := pond.Reading(on)
		if !ok {
			return "", false
		}
		return ponds.Moment(*read), true
	}
	standing, _ := pond.On("")
	known := standing.All()
	key, _, _ := strings.Cut(r.Fragment, ",")
	if known[key] == "" {
		key, _, _ = strings.Cut(key, ".")
	}
	return key, known[key] != ""
}

// fact returns a fact of a pond as a number. text is empty if there is none.
func (b *Binder) fact(known map[string]string, key string) (v value, text string, ok bool) {
	name, column := key, ""
	if text = known[key]; text == "" {
		name, column, _ = strings.Cut(key, ".")
		if text = known[name]; text == "" || column == "" {
			return value{}, "", false
		}
	}
	v, ok = factValue(b.asked(name), text, column)
	return v, text, ok
}

// asked returns the input that a fact is asked by: zero for one that is only found.
func (b *Binder) asked(key string) calculators.Input {
	for _, c := range b.Calculators.All() {
		for _, d := range c.Inputs {
			if c.Key(d) == key {
				return d
			}
		}
	}
	return calculators.Input{}
}

// factValue reads the text of an input as a number. Of a list it takes a column:
// "count" over all rows together, another one if all rows agree; "2.length" is that
// of the second row.
func factValue(d calculators.Input, text, column string) (value, bool) {
	if column == "" {
		if d.Type != calculators.Single {
			return value{}, false
		}
		return readValue(text, plainUnit(d))
	}
	row := ""
	if before, after, ok := strings.Cut(column, "."); ok {
		row, column = before, after
	}
	at := slices.IndexFunc(d.Columns, func(c calculators.Input) bool { return c.Name == column })
	if at < 0 || d.Columns[at].Type != calculators.Single {
		return value{}, false
	}
	var found []value
	for i, line := range rows(text) {
		if row != "" && row != strconv.Itoa(i+1) {
			continue
		}
		cell := d.Columns[at].Default
		if at < len(line) && line[at] != "" {
			cell = line[at]
		}
		v, ok := readValue(cell, plainUnit(d.Columns[at]))
		if !ok {
			return value{}, false
		}
		found = append(found, v)
	}
	return together(found, d.Columns[at].Kind == quantity.Count)
}

// together makes one value of those of several rows: the sum of counts, or what
// they agree on.
func together(all []value, count bool) (value, bool) {
	if len(all) == 0 {
		return value{}, false
	}
	v := all[0]
	for _, other := range all[1:] {
		switch {
		case count:
			v.likely += other.likely
		case other.likely != v.likely || other.unit.Code != v.unit.Code:
			return value{}, false
		}
	}
	v.low, v.high, v.whole = v.likely, v.likely, count
	return v, true
}

// plainUnit is the unit of a number that is written without one.
func plainUnit(d calculators.Input) quantity.Unit {
	if d.Kind == quantity.PH {
		return quantity.MustUnit("[pH]")
	}
	return quantity.MustUnit("1")
}

// rows takes a list apart: rows end at semicolons, cells at commas that do not
// separate thousands.
func rows(text string) [][]string {
	var out [][]string
	for line := range strings.SplitSeq(strings.ReplaceAll(text, "\n", ";"), ";") {
		if strings.TrimSpace(line) == "" {
			continue
		}
		var cells []string
		start := 0
		for i := range len(line) {
			if line[i] == ',' && !(digitAt(line, i-1) && digitAt(line, i+1)) {
				cells = append(cells, strings.TrimSpace(line[start:i]))
				start = i + 1
			}
		}
		out = append(out, append(cells, strings.TrimSpace(line[start:])))
	}
	return out
}

func digitAt(s string, i int) bool { return i >= 0 && i < len(s) && s[i] >= '0' && s[i] <= '9' }
