package figures

import (
	"strings"

	"mereleaf/cmd/mereleaf/internal/diag"
)

// sourceMark opens the ledger's line of a source, before its key.
const sourceMark = "source:"

// SourceLine is the line of the ledger that agrees with a source as it is. It is
// for a person to enter after checking the entry against the publication.
func SourceLine(s Source) string {
	names, digests := s.account()
	return sourceMark + s.ID + "," + strings.Join(names, " ") + "," + strings.Join(digests, " ")
}

// account returns the names of a source's fields and the digests of what they
// hold.
func (s Source) account() (names, digests []string) {
	for _, f := range s.fields {
		names = append(names, f.name)
		digests = append(digests, digest([]string{f.name, f.value}))
	}
	return names, digests
}

// checkSources compares every source with the ledger's accounts.
func checkSources(lib *Library, accounts map[string]account) diag.List {
	var list diag.List
	for _, s := range lib.Sources {
		if a, ok := accounts[sourceMark+s.ID]; ok {
			list = append(list, s.reconcile(a)...)
			continue
		}
		list.Add(diag.Diagnostic{
			Position: s.Position,
			Problem:  "the source " + s.ID + " is not in the ledger",
			Want:     "a second entry of its author, year and title",
			Remedy:   "check it against the publication, then add this line to the ledger: " + SourceLine(s),
			Related:  diag.Position{File: LedgerFile},
		})
	}
	for name, a := range accounts {
		key, isSource := strings.CutPrefix(name, sourceMark)
		if _, listed := lib.Source(key); isSource && !listed {
			list.Add(diag.Diagnostic{
				Position: diag.Position{File: LedgerFile, Line: a.line, Column: 1},
				Problem:  "the ledger has the source " + key + ", which is not listed",
				Want:     "lines of the sources in " + SourcesFile,
				Remedy:   "put the source back, or remove the line",
			})
		}
	}
	return list
}

// reconcile reports where a source departs from its line in the ledger.
func (s Source) reconcile(a account) diag.List {
	was := map[string]string{}
	for i, name := range a.columns {
		if i < len(a.rows) {
			was[name] = a.rows[i]
		}
	}
	var list diag.List
	fault := func(at diag.Position, problem string) {
		list.Add(diag.Diagnostic{Position: at, Problem: problem, Want: "what the ledger holds", Remedy: "put it back as it was", Related: diag.Position{File: LedgerFile, Line: a.line}})
	}
	names, digests := s.account()
	for i, name := range names {
		switch old, had := was[name]; {
		case !had:
			fault(s.fields[i].position, "the "+name+" of "+s.ID+" is not in the ledger")
		case old != digests[i]:
			fault(s.fields[i].position, "the "+name+" of "+s.ID+" is "+s.fields[i].value+" here, which differs from the ledger")
		}
		delete(was, name)
	}
	for _, name := range a.columns {
		if _, missing := was[name]; missing {
			fault(s.Position, "the source "+s.ID+" has lost its "+name)
		}
	}
	if len(list) > 0 { // one line to enter is enough: it is the same for all
		list[0].Remedy = "put it back as it was; or, if the publication bears the change out, put this line in the ledger: " + SourceLine(s)
	}
	return list
}
