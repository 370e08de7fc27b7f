// Package logfile reads the file in which a reader's browser saves the log of
// readings as JSON. theme/script/log/file.ts writes it.
//
// It touches nothing outside the program.
package logfile

import (
	"bytes"
	"encoding/json"
	"errors"
	"maps"
	"slices"
	"strconv"
	"strings"
	"time"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
	"mereleaf/calculators/readings"
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/ponds/strict"
)

// Version is what this program reads.
const Version = 1

// Limit is far above any log, in bytes, as in the script.
const Limit = 20_000_000

// Reading is what was read of a pond at one time.
type Reading struct {
	At   string // as written, "2025-07-12T07:05:00+02:00"
	Time time.Time
	Note string
	Pos  diag.Position

	// Facts are the numbers and choices, by key of the pond record. A number is
	// in the declared unit, as the kit reads it.
	Facts calculators.Facts
}

type entry struct {
	At      string             `json:"at"`
	Numbers map[string]float64 `json:"numbers"`
	Choices map[string]string  `json:"choices"`
	Note    string             `json:"note"`
}

// Read reads a log in the terms of the calculator that weighs readings. What it
// cannot take is a fault, at its place.
func Read(file string, text []byte, weighs calculators.Calculator) ([]Reading, diag.List) {
	fault := func(problem, want, remedy string) diag.List {
		return diag.List{{Position: diag.Position{File: file}, Problem: problem, Want: want, Remedy: remedy}}
	}
	if len(text) > Limit {
		return nil, fault("is longer than any log of readings", "", "check which file it is")
	}
	var made struct {
		Version  any               `json:"pond log"`
		Units    map[string]string `json:"units"`
		Readings []json.RawMessage `json:"readings"`
	}
	if err := json.Unmarshal(text, &made); err != nil {
		return nil, diag.List{broken(file, text, err)}
	}
	if name, offset, found := strict.Twice(text); found {
		return nil, diag.List{{Position: diag.At(file, text, offset), Problem: name + ": stands twice", Want: "each name once", Remedy: "take one of the two out"}}
	}
	switch version, ok := made.Version.(float64); {
	case !ok || made.Readings == nil:
		return nil, fault("is no log of readings", `"pond log" and "readings" in it`, "save it as JSON from the handbook's leaf My readings")
	case version != Version:
		return nil, fault("comes from another edition of the handbook", "a log of version 1", "save it from the edition that this program makes")
	}
	l := reader{file: file, text: text, at: diag.At(file, nil, 0), weighs: weighs}
	l.units(made.Units)
	for _, raw := range made.Readings {
		l.reading(raw)
	}
	return l.readings, l.faults
}

// reader takes a log's readings one after the other.
type reader struct {
	file     string
	text     []byte
	from     int           // offset behind the last reading
	at       diag.Position // of it
	weighs   calculators.Calculator
	readings []Reading
	faults   diag.List
}

func (l *reader) fault(at diag.Position, problem, want, remedy string) {
	l.faults.Add(diag.Diagnostic{Position: at, Problem: problem, Want: want, Remedy: remedy})
}

// units refuses a log whose numbers are in other units than this edition's.
func (l *reader) units(stated map[string]string) {
	for _, name := range slices.Sorted(maps.Keys(stated)) {
		d, ok := l.weighs.Input(name)
		if ok && d.UnitCode() != stated[name] {
			l.fault(diag.Position{File: l.file}, name+" is in "+stated[name], d.UnitCode(), "convert its numbers and the unit")
		}
	}
}

func (l *reader) reading(raw json.RawMessage) {
	at := l.next(raw)
	var e entry
	if err := json.Unmarshal(raw, &e); err != nil {
		l.fault(at, "is no reading: "+err.Error(), "at, numbers, choices and a note, as the leaf My readings saves them", "correct it")
		return
	}
	moment, err := time.Parse(time.RFC3339, e.At)
	if err != nil {
		l.fault(at, "the date is "+strconv.Quote(e.At), "one such as 2025-07-12T07:05:00+02:00", "correct it")
		return
	}
	r := Reading{At: e.At, Time: moment, Note: e.Note, Pos: at, Facts: calculators.Facts{}}
	for _, name := range slices.Sorted(maps.Keys(e.Numbers)) {
		l.take(&r, name, calculators.Single, e.Numbers[name], "")
	}
	for _, name := range slices.Sorted(maps.Keys(e.Choices)) {
		l.take(&r, name, calculators.Choice, 0, e.Choices[name])
	}
	if kh := r.Facts[l.weighs.ID+".kh"]; kh != "" {
		maps.Copy(r.Facts, readings.KHFacts(kh, r.Facts["kh-kit"]))
	}
	if len(e.Numbers)+len(e.Choices) == 0 && e.Note == "" {
		l.fault(at, "holds no reading", "at least one number, what the fish do, or a note", "take it out")
	}
	l.readings = append(l.readings, r)
}

// next is the place of the next reading. It goes on from the last one: a log may have
// many, and counting lines from its start for each would take a time that grows with
// their square.
func (l *reader) next(raw json.RawMessage) diag.Position {
	i := bytes.Index(l.text[l.from:], raw)
	if i < 0 {
		return diag.Position{File: l.file}
	}
	l.pass(i)
	at := l.at
	l.pass(len(raw)) // the same text may stand there again
	return at
}

// pass goes on by a count of bytes.
func (l *reader) pass(count int) {
	passed := l.text[l.from : l.from+count]
	l.from += count
	l.at.Column += count
	if i := bytes.LastIndexByte(passed, '\n'); i >= 0 {
		l.at.Line += bytes.Count(passed, []byte("\n"))
		l.at.Column = count - i
	}
}

// take puts a number or a choice into the reading, if it is accepted.
func (l *reader) take(r *Reading, name string, shape calculators.InputType, number float64, choice string) {
	d, ok := l.weighs.Input(name)
	if !ok || d.Type != shape || shape == calculators.Single && !tested(name) {
		l.fault(r.Pos, name+" is no test or choice of this edition", "one that the leaf My readings has", "correct the name or take it out")
		return
	}
	if shape == calculators.Choice {
		if !slices.ContainsFunc(d.Options, func(o calculators.Option) bool { return o.Name == choice }) {
			l.fault(r.Pos, name+" is "+choice, d.AcceptText(), "correct it")
			return
		}
		r.Facts[l.weighs.Key(d)] = choice
		return
	}
	if !(number >= d.Accept.Low && number <= d.Accept.High) {
		l.fault(r.Pos, name+" is "+quantity.FormatPlain(number, 6), d.AcceptText(), "correct it")
		return
	}
	text := strconv.FormatFloat(number, 'f', -1, 64)
	if quantity.Symbol(d.UnitCode()) != "" {
		text += " " + d.UnitCode()
	}
	r.Facts[l.weighs.Key(d)] = text
}

// tested reports whether a number is a test that the leaf offers. What else the
// calculator asks for the pond record has.
func tested(name string) bool {
	return slices.ContainsFunc(readings.AllSeries(), func(s readings.Series) bool { return s.Name == name })
}

// broken says where a text stops being JSON.
func broken(file string, text []byte, err error) diag.Diagnostic {
	d := diag.Diagnostic{Position: diag.Position{File: file}, Problem: "is not JSON: " + err.Error(), Remedy: "correct it there"}
	var syntax *json.SyntaxError
	var wrong *json.UnmarshalTypeError
	switch {
	case errors.As(err, &syntax):
		d.Position = diag.At(file, text, max(0, int(syntax.Offset)-1))
	case errors.As(err, &wrong):
		d.Position = diag.At(file, text, int(wrong.Offset))
		d.Problem = "is no log of readings: " + strings.TrimPrefix(wrong.Error(), "json: ")
	}
	return d
}
