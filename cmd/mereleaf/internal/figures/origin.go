package figures

import (
	"strings"

	"mereleaf/cmd/mereleaf/internal/diag"
)

// checkOrigins checks that each row says where it comes from.
func (l *Library) checkOrigins(s *Set) diag.List {
	var list diag.List
	n := len(s.Columns) - originColumns
	unknown := map[string]bool{} // one report for each key is enough
	for i, r := range s.Rows {
		fault := func(column int, problem, want, remedy string) {
			list.Add(diag.Diagnostic{Position: s.At(i, n+column), Problem: problem, Want: want, Remedy: remedy})
		}
		if _, ok := l.sources[r.Source]; r.Source != "" && !ok && !unknown[r.Source] {
			unknown[r.Source] = true
			fault(0, "the source "+r.Source+" is not known", "a key of "+SourcesFile, "add the source there, or correct the key")
		}
		switch r.Basis {
		case Published, Memory:
			if r.Source == "" {
				fault(0, "the row has no source", "a key of "+SourcesFile+", because its basis is "+r.Basis, "name the publication, or change the basis to practice")
			}
		case Computed:
			if r.Source == "" && strings.TrimSpace(r.Note) == "" {
				fault(0, "the row has neither source nor note", "the library and its version, or in the note how it was computed", "say how it was computed")
			}
		case Scenario:
			if r.Source != "" {
				fault(0, "an invented row names a source", "none", "empty the cell, or correct the basis")
			}
		case Practice:
		default:
			fault(2, `the basis is "`+r.Basis+`"`, "published, library, memory, practice or scenario", "say how the figure is known")
		}
	}
	return list
}

// Invented reports whether a row is demonstration data, which only a table
// that says so may show.
func (r Row) Invented() bool { return r.Basis == Scenario }

// plainName is a column's name without what its spelling may vary in.
func plainName(s string) string {
	return plainText(strings.ReplaceAll(s, "_", " "))
}
