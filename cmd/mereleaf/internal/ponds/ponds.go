// Package ponds reads the ponds that the handbook tells of: pond records and logs
// of readings in content/ponds, as a reader's browser saves them. Chapters,
// examples and tables take the ponds' numbers from there.
//
// It reads no files but those of an fs.FS that it is given.
package ponds

import (
	"errors"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"

	"mereleaf/calculators"
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/ponds/logfile"
	"mereleaf/cmd/mereleaf/internal/ponds/record"
)

// Folder holds NAME.json, the record of a pond, and NAME-log.json, its log.
const Folder = "content/ponds"

const (
	extension = ".json"
	logEnding = "-log" + extension
)

// weighs is the calculator whose inputs a log's readings are.
const weighs = "readings"

// Pond is a pond of the handbook.
type Pond struct {
	Name, File string // "ines", "content/ponds/ines.json"
	Record     *record.Record
	Readings   []logfile.Reading // in the order of time

	results calculators.Facts // what follows from the record
}

// Ponds are all ponds, in the order of their names.
type Ponds []*Pond

// Read reads the ponds of a project. A project without the folder has none.
func Read(fsys fs.FS, set calculators.Set) (Ponds, diag.List) {
	var all Ponds
	var faults diag.List
	entries, err := fs.ReadDir(fsys, Folder)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		faults.Add(diag.Diagnostic{Position: diag.Position{File: Folder}, Problem: "the folder cannot be read: " + cause(err), Remedy: "make it readable"})
	}
	for _, e := range entries {
		name := e.Name()
		if strings.HasPrefix(name, ".") || strings.HasSuffix(name, "~") || strings.HasSuffix(name, logEnding) {
			continue
		}
		file := path.Join(Folder, name)
		if !e.Type().IsRegular() || path.Ext(name) != extension {
			faults.Add(diag.Diagnostic{Position: diag.Position{File: file}, Problem: "is no pond of the handbook", Want: "NAME.json, a pond record, and NAME-log.json, its log", Remedy: "move it away"})
			continue
		}
		p, wrong := readPond(fsys, strings.TrimSuffix(name, extension), set)
		faults = append(faults, wrong...)
		if p != nil {
			all = append(all, p)
		}
	}
	return all, append(faults, all.strayLogs(entries)...)
}

// strayLogs finds logs without a pond.
func (all Ponds) strayLogs(entries []fs.DirEntry) diag.List {
	var faults diag.List
	for _, e := range entries {
		name, isLog := strings.CutSuffix(e.Name(), logEnding)
		if !isLog || strings.HasPrefix(name, ".") {
			continue
		}
		if _, ok := all.Find(name); !ok {
			faults.Add(diag.Diagnostic{Position: diag.Position{File: path.Join(Folder, e.Name())}, Problem: "is the log of a pond that has no record", Want: path.Join(Folder, name+extension), Remedy: "add the record or rename the log"})
		}
	}
	return faults
}

func readPond(fsys fs.FS, name string, set calculators.Set) (*Pond, diag.List) {
	p := &Pond{Name: name, File: path.Join(Folder, name+extension)}
	text, faults := read(fsys, p.File)
	if faults != nil {
		return nil, faults
	}
	p.Record, faults = record.Read(p.File, text, set)
	if p.Record == nil {
		return nil, faults
	}
	if len(faults) == 0 { // or it would be refused twice
		faults = p.check(set)
	}
	p.results = set.Results(p.Record.Facts())
	file := path.Join(Folder, name+logEnding)
	if _, err := fs.Stat(fsys, file); errors.Is(err, fs.ErrNotExist) {
		return p, faults
	}
	log, wrong := read(fsys, file)
	c, ok := set.Find(weighs)
	if wrong == nil && ok {
		p.Readings, wrong = logfile.Read(file, log, c)
	}
	slices.SortStableFunc(p.Readings, func(a, b logfile.Reading) int { return a.Time.Compare(b.Time) })
	return p, append(faults, wrong...)
}

func read(fsys fs.FS, file string) ([]byte, diag.List) {
	text, err := fs.ReadFile(fsys, file)
	if err != nil {
		return nil, diag.List{{Position: diag.Position{File: file}, Problem: "cannot be read: " + cause(err), Remedy: "make it readable"}}
	}
	return text, nil
}

func cause(err error) string {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err.Error()
	}
	return err.Error()
}

// check puts each fact to the inputs that ask for it: a value that one of them
// refuses would only be found where a chapter needs it.
func (p *Pond) check(set calculators.Set) diag.List {
	var faults diag.List
	facts := p.Record.Facts()
	for _, key := range slices.Sorted(maps.Keys(facts)) {
		for _, c := range set.All() {
			i := slices.IndexFunc(c.Inputs, func(d calculators.Input) bool { return slices.Contains(c.Keys(d), key) })
			if i < 0 || facts[key] == "" {
				continue
			}
			var refused calculators.InputErrors
			if errors.As(c.Inputs[i].Check(facts[key]), &refused) {
				faults.Add(diag.Diagnostic{Position: p.Record.Place(key), Problem: key + ": " + refused[0].Problem, Want: refused[0].Accept, Remedy: "correct it"})
				break
			}
		}
	}
	return faults
}

// Find returns the pond of a name.
func (all Ponds) Find(name string) (*Pond, bool) {
	for _, p := range all {
		if p.Name == name {
			return p, true
		}
	}
	return nil, false
}

// Names lists the ponds.
func (all Ponds) Names() []string {
	var names []string
	for _, p := range all {
		names = append(names, p.Name)
	}
	return names
}

// Facts makes Ponds what Set.With asks.
func (all Ponds) Facts(name, day string) (calculators.Known, bool) {
	p, ok := all.Find(name)
	if !ok {
		return calculators.Known{}, false
	}
	return p.On(day)
}

// Fact returns what the record states, or what follows from it: "9100 L".
func (p *Pond) Fact(key string) (text string, ok bool) {
	text = p.Record.Facts()[key]
	if text == "" {
		text = p.results[key]
	}
	return text, text != ""
}

// Results are the facts that follow from the record, by key.
func (p *Pond) Results() calculators.Facts { return maps.Clone(p.results) }

// On returns all that is known on a day: the facts, under the reading of that
// day, "2025-07-11", or of a time on it, "2025-07-11T20:10". It reports whether
// there is exactly one such reading. The day "" has none and needs none.
func (p *Pond) On(day string) (calculators.Known, bool) {
	known := calculators.Known{Stated: maps.Clone(p.Record.Facts()), Found: p.results}
	if day == "" {
		return known, true
	}
	r, ok := p.Reading(day)
	if ok {
		maps.Copy(known.Stated, r.Facts)
	}
	return known, ok
}

// Reading returns the one reading of a day, or of a time on it.
func (p *Pond) Reading(day string) (*logfile.Reading, bool) {
	var found *logfile.Reading
	for i := range p.Readings {
		if !strings.HasPrefix(p.Readings[i].At, day) {
			continue
		}
		if found != nil {
			return nil, false
		}
		found = &p.Readings[i]
	}
	return found, found != nil
}

// Moment is when a reading was taken, as On takes it.
func Moment(r logfile.Reading) string { return r.At[:min(len(r.At), len("2025-07-11T20:10"))] }

// Days lists the times of the readings, as On takes them.
func (p *Pond) Days() []string {
	var days []string
	for _, r := range p.Readings {
		days = append(days, Moment(r))
	}
	return days
}

// Args returns the arguments of a call about the pond: those given, and over
// what they leave open, the pond's.
func (p *Pond) Args(c calculators.Calculator, given []calculators.Arg) []calculators.Arg {
	known, _ := p.On("")
	return c.Over(given, known.Args(c))
}
