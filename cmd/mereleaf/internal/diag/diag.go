// Package diag holds what is wrong with the handbook's files, and where.
//
// It touches nothing outside the program.
package diag

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Position is a place in a file. Line and Column count from 1; Column counts
// bytes, as editors that jump to file:line:column expect. A zero Line stands for
// the file as a whole.
type Position struct {
	File         string // slash-separated, relative to the project
	Line, Column int
}

func (p Position) String() string {
	switch {
	case p.Line == 0:
		return p.File
	case p.Column == 0:
		return fmt.Sprintf("%s:%d", p.File, p.Line)
	}
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Column)
}

// Diagnostic is one fault. Every fault is an error: there are no warnings that
// could let a wrong number through.
type Diagnostic struct {
	Position
	Problem string   // what is wrong: `oxygen is 9.4 mg/L here`
	Want    string   // what was expected: `9.1 mg/L by benson-krause-1984`
	Remedy  string   // what to do, as a verb phrase: `correct the cell`
	Related Position // the other place concerned; zero for none
}

// String gives the one-line form: "file:line:col: problem; want; remedy (see
// file:line:col)".
func (d Diagnostic) String() string {
	var b strings.Builder
	b.WriteString(d.Position.String())
	b.WriteString(": ")
	b.WriteString(d.Problem)
	if d.Want != "" {
		b.WriteString("; expected " + d.Want)
	}
	if d.Remedy != "" {
		b.WriteString("; " + d.Remedy)
	}
	if d.Related.File != "" {
		b.WriteString(" (see " + d.Related.String() + ")")
	}
	return strings.Map(harmless, b.String())
}

// harmless keeps a fault on one line, whatever stands in the file or its name, and
// has nothing in it that moves a terminal's cursor or turns the direction of writing.
func harmless(r rune) rune {
	switch {
	case r == '\n' || r == '\u2028' || r == '\u2029':
		return ' '
	case unicode.IsControl(r) && r != '\t', unicode.Is(unicode.Bidi_Control, r):
		return utf8.RuneError
	}
	return r
}

// Error makes a single Diagnostic usable as an error.
func (d Diagnostic) Error() string { return d.String() }

// List is the faults of one run.
type List []Diagnostic

// Add appends a fault.
func (l *List) Add(d Diagnostic) { *l = append(*l, d) }

// Sorted returns the faults in file, line and column order, each once.
func (l List) Sorted() List {
	out := slices.Clone(l)
	slices.SortStableFunc(out, func(a, b Diagnostic) int {
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column), cmp.Compare(a.String(), b.String()))
	})
	return slices.CompactFunc(out, func(a, b Diagnostic) bool { return a == b })
}

// Error lists the sorted faults, one line each, so that a List is an error.
func (l List) Error() string {
	lines := make([]string, 0, len(l))
	for _, d := range l.Sorted() {
		lines = append(lines, d.String())
	}
	return strings.Join(lines, "\n")
}

// Err returns the list as an error, or nil if it is empty.
func (l List) Err() error {
	if len(l) == 0 {
		return nil
	}
	return l
}

// At turns a byte offset in a file's text into a position.
func At(file string, text []byte, offset int) Position {
	offset = min(max(offset, 0), len(text))
	line, start := 1, 0
	for i, c := range text[:offset] {
		if c == '\n' {
			line, start = line+1, i+1
		}
	}
	return Position{File: file, Line: line, Column: offset - start + 1}
}
