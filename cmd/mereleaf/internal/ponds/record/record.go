// Package record reads the file in which a reader's browser saves the pond
// record: what was typed into calculators, by fact ("volume") or by calculator
// and input ("free-ammonia.limit"). theme/script/record/kept.ts writes it.
//
// It touches nothing outside the program.
package record

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"maps"
	"slices"
	"strings"

	"mereleaf/calculators"
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/ponds/strict"
)

// Version is what this program writes and reads.
const Version = 1

// Limit is far above any record, in bytes.
const Limit = 1 << 20

// longestValue is far above any list of fish, in bytes; theme/script/record/page.ts
// takes no more either.
const longestValue = 5000

// Record is a pond record.
type Record struct {
	File   string
	facts  calculators.Facts
	places map[string]diag.Position // of the facts, by key
}

// Facts returns what the record states; the caller must not change it.
func (r *Record) Facts() calculators.Facts { return r.facts }

// Read reads a record that the calculators of the set know. Keys of none of them
// are faults: a misspelt fact must not be left out unseen. So is a value that every
// calculator that asks for it would refuse.
func Read(file string, text []byte, set calculators.Set) (*Record, diag.List) {
	fault := func(at diag.Position, problem, want, remedy string) diag.List {
		return diag.List{{Position: at, Problem: problem, Want: want, Remedy: remedy}}
	}
	whole := diag.Position{File: file}
	if len(text) > Limit {
		return nil, fault(whole, "is longer than any pond record", "", "check which file it is")
	}
	var made struct {
		Version any             `json:"pond record"`
		Facts   json.RawMessage `json:"facts"`
	}
	if err := json.Unmarshal(text, &made); err != nil {
		return nil, diag.List{broken(file, text, err)}
	}
	if name, offset, found := strict.Twice(text); found {
		return nil, fault(diag.At(file, text, offset), name+": stands twice", "each name once", "take one of the two out")
	}
	at, facts := placesOf(file, text)
	switch version, ok := made.Version.(float64); {
	case !ok || made.Facts == nil:
		return nil, fault(whole, "is no pond record", `"pond record" and "facts" in it`, "save it from the handbook's leaf My pond")
	case version != Version:
		return nil, fault(at["pond record"], "comes from another edition of the handbook", "a record of version 1", "save it from the edition that this program makes")
	}
	var values map[string]any
	if err := json.Unmarshal(made.Facts, &values); err != nil {
		return nil, fault(at["facts"], "facts: are no list of names and values", `such as {"volume": "9100 L"}`, "")
	}
	r := &Record{File: file, facts: calculators.Facts{}, places: facts}
	return r, r.sort(values, set)
}

// sort takes the facts that are texts and that a calculator asks for.
func (r *Record) sort(facts map[string]any, set calculators.Set) diag.List {
	known := keys(set)
	var faults diag.List
	for _, key := range slices.Sorted(maps.Keys(facts)) {
		text, isText := facts[key].(string)
		d := diag.Diagnostic{Position: r.Place(key)}
		switch {
		case !known[key]:
			d.Problem = key + ": no calculator asks for it"
			d.Want = strings.Join(diag.Nearest(key, slices.Sorted(maps.Keys(known))), " or ")
			d.Remedy = "correct the key or take it out"
			faults.Add(d)
		case !isText:
			d.Problem, d.Want = key+": is no text", `quotes round the value and its unit, such as "9100 L"`
			faults.Add(d)
		case len(text) > longestValue:
			d.Problem, d.Remedy = key+": is longer than any field", "take it out, or correct it"
			faults.Add(d)
		default:
			r.facts[key] = text
			if refused := refusal(set.CheckKept(key, text)); refused != nil {
				_, row, _ := strings.Cut(refused.Input, " ")
				d.Problem, d.Want, d.Remedy = strings.TrimSpace(key+" "+row)+": "+refused.Problem, refused.Accept, refused.Remedy
				faults.Add(d)
			}
		}
	}
	return faults
}

// refusal is the first of the refusals of one value; nil if there is none.
func refusal(err error) *calculators.InputError {
	var refused calculators.InputErrors
	if !errors.As(err, &refused) || len(refused) == 0 {
		return nil
	}
	return &refused[0]
}

// Place returns where a fact stands; the file, if it has none of the key.
func (r *Record) Place(key string) diag.Position {
	if at, ok := r.places[key]; ok {
		return at
	}
	return diag.Position{File: r.File}
}

// keyOf is the key under which the record states an input: that of today, or one
// of an earlier edition.
func (r *Record) keyOf(c calculators.Calculator, d calculators.Input) string {
	all := c.Keys(d)
	for _, key := range all {
		if r.facts[key] != "" {
			return key
		}
	}
	return all[0]
}

func keys(set calculators.Set) map[string]bool {
	known := map[string]bool{}
	for _, c := range set.All() {
		for _, d := range c.Inputs {
			for _, key := range c.Keys(d) {
				known[key] = true
			}
		}
	}
	return known
}

// broken says where a text stops being JSON.
func broken(file string, text []byte, err error) diag.Diagnostic {
	d := diag.Diagnostic{Position: diag.Position{File: file}, Problem: "is not JSON: " + err.Error(), Remedy: "save it again from the handbook's leaf My pond"}
	var syntax *json.SyntaxError
	var wrong *json.UnmarshalTypeError
	switch {
	case errors.As(err, &syntax):
		before := text[:min(int(syntax.Offset), len(text))]
		d.Line = bytes.Count(before, []byte("\n")) + 1
		d.Column = max(1, len(before)-(bytes.LastIndexByte(before, '\n')+1))
	case errors.As(err, &wrong):
		d.Problem = "is no pond record"
	case errors.Is(err, io.ErrUnexpectedEOF):
		d.Problem = "ends too early"
	}
	return d
}

// Over returns the arguments of a call: those given, and over what they leave
// open, the record's. A field that the reader has emptied says nothing.
func (r *Record) Over(c calculators.Calculator, given []calculators.Arg) []calculators.Arg {
	return c.Over(given, r.facts.Args(c))
}

// Blame gives the refusal of a call its place: the command line, if the value was
// given there, or else the record, at the key of the value or as a whole if it has
// none.
func (r *Record) Blame(c calculators.Calculator, given []calculators.Arg, err error) error {
	var refused calculators.InputErrors
	if !errors.As(err, &refused) {
		return err
	}
	var faults diag.List
	for _, e := range refused {
		name, rest, _ := strings.Cut(e.Input, " ")
		d := diag.Diagnostic{Position: diag.Position{File: "mereleaf"}, Problem: e.Input + ": " + e.Problem, Want: e.Accept, Remedy: e.Remedy}
		input, declared := c.Input(name)
		if _, stated := calculators.Find(given, name); declared && !stated {
			key := r.keyOf(c, input)
			d.Position, d.Problem = r.Place(key), strings.TrimSpace(key+" "+rest)+": "+e.Problem
			if r.facts[key] == "" && d.Remedy == "" {
				d.Remedy = "type it into the record, or give " + name + "= with the command"
			}
		}
		faults.Add(d)
	}
	return faults
}
