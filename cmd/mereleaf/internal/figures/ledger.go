package figures

import (
	"bytes"
	"crypto/sha256"
	"encoding/csv"
	"encoding/hex"
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"mereleaf/cmd/mereleaf/internal/diag"
)

// LedgerFile holds a second entry of every figure set, as digests of its
// columns and of its rows. A figure changed by a slip of the hand no longer
// agrees with the digest of its column and that of its row, which together tell
// the cell, whether or not a table or a calculator uses it. It holds one of every
// source too: the names of its fields, and their digests.
const LedgerFile = Folder + "/ledger.csv"

// digestLength is in hexadecimal digits: one slip in sixteen million would pass
// unseen by its row, and not by its column too.
const digestLength = 6

// digest is short, because people read it in a difference of two versions.
func digest(cells []string) string {
	sum := sha256.Sum256([]byte(strings.Join(cells, "\x1f")))
	return hex.EncodeToString(sum[:])[:digestLength]
}

// account is a line of the ledger.
type account struct {
	line          int
	columns, rows []string
}

// accountOf takes the digests of a set as it is.
func accountOf(s *Set) account {
	var a account
	for i := range s.Columns {
		cells := []string{s.heading[i].Text}
		for _, r := range s.Rows {
			cells = append(cells, r.Cells[i].Text)
		}
		a.columns = append(a.columns, digest(cells))
	}
	for _, r := range s.Rows {
		cells := make([]string, len(r.Cells))
		for i, c := range r.Cells {
			cells[i] = c.Text
		}
		a.rows = append(a.rows, digest(cells))
	}
	return a
}

// LedgerLine is the line of the ledger that agrees with the set as it is. It is
// for a person to enter after checking the figures against their source.
func LedgerLine(s *Set) string {
	a := accountOf(s)
	return s.Name + "," + strings.Join(a.columns, " ") + "," + strings.Join(a.rows, " ")
}

// CheckLedger compares every figure and every source with the ledger. Each fault
// stands at what changed and names the ledger's line.
func CheckLedger(lib *Library, fsys fs.FS) diag.List {
	b, d := ReadText(fsys, LedgerFile)
	if d != nil {
		return diag.List{*d}
	}
	accounts, list := readLedger(b)
	if accounts == nil {
		return list
	}
	for _, s := range lib.Sets {
		a, ok := accounts[s.Name]
		if !ok {
			list.Add(diag.Diagnostic{
				Position: diag.Position{File: s.File, Line: 1, Column: 1},
				Problem:  "the set is not in the ledger",
				Want:     "a second entry of its figures",
				Remedy:   "check the set against its sources, then add this line to the ledger: " + LedgerLine(s),
				Related:  diag.Position{File: LedgerFile},
			})
			continue
		}
		list = append(list, s.reconcile(a)...)
	}
	list = append(list, checkSources(lib, accounts)...)
	for name, a := range accounts {
		if _, ok := lib.Set(name); !ok && !strings.HasPrefix(name, sourceMark) {
			list.Add(diag.Diagnostic{Position: diag.Position{File: LedgerFile, Line: a.line, Column: 1}, Problem: "the ledger has the set " + name + ", which is not there or cannot be read", Remedy: "put the file " + Folder + "/" + name + ".csv back, or remove the line"})
		}
	}
	return list.Sorted()
}

func readLedger(b []byte) (map[string]account, diag.List) {
	var list diag.List
	accounts := map[string]account{}
	r := csv.NewReader(bytes.NewReader(b))
	r.FieldsPerRecord = 3
	records, err := r.ReadAll()
	if err != nil {
		return nil, diag.List{{Position: diag.Position{File: LedgerFile}, Problem: err.Error(), Want: "lines of set,columns,rows and of source:key,fields,digests", Remedy: "put the file back as it was"}}
	}
	for i, rec := range records {
		if i == 0 {
			if rec[0] != "set" || rec[1] != "columns" || rec[2] != "rows" {
				list.Add(diag.Diagnostic{Position: diag.Position{File: LedgerFile, Line: 1, Column: 1}, Problem: "the heading is " + strings.Join(rec, ","), Want: "set,columns,rows", Remedy: "put the heading back"})
			}
			continue
		}
		if old, twice := accounts[rec[0]]; twice {
			list.Add(diag.Diagnostic{Position: diag.Position{File: LedgerFile, Line: i + 1, Column: 1}, Problem: "the ledger has " + rec[0] + " twice", Want: "one line for each set or source", Remedy: "remove one of them", Related: diag.Position{File: LedgerFile, Line: old.line}})
			continue
		}
		accounts[rec[0]] = account{i + 1, strings.Fields(rec[1]), strings.Fields(rec[2])}
	}
	return accounts, list
}

// reconcile reports where a set departs from its line in the ledger.
func (s *Set) reconcile(was account) diag.List {
	is := accountOf(s)
	if slices.Equal(is.columns, was.columns) && slices.Equal(is.rows, was.rows) {
		return nil
	}
	var list diag.List
	fault := func(at diag.Position, problem string) {
		list.Add(diag.Diagnostic{Position: at, Problem: problem, Want: "the figures that the ledger holds", Remedy: "put the figure back as it was", Related: diag.Position{File: LedgerFile, Line: was.line}})
	}
	switch {
	case len(is.columns) != len(was.columns):
		fault(s.At(-1, 0), fmt.Sprintf("the set has %d columns, and %d in the ledger", len(is.columns), len(was.columns)))
	case len(is.rows) != len(was.rows):
		for _, row := range newRows(is.rows, was.rows) {
			fault(s.At(row, 0), "this row is not in the ledger")
		}
		if len(list) == 0 {
			fault(s.At(-1, 0), fmt.Sprintf("the set has %d rows, and %d in the ledger", len(is.rows), len(was.rows)))
		}
	default:
		s.changedCells(is, was, fault)
	}
	// One line to enter is enough: it is the same for all faults of the set.
	list = list.Sorted()
	list[0].Remedy = "put the figure back as it was; or, if its source bears the change out, put this line in the ledger: " + LedgerLine(s)
	return list
}

// changedCells reports the cells where changed rows cross changed columns.
func (s *Set) changedCells(is, was account, fault func(diag.Position, string)) {
	columns, rows := changed(is.columns, was.columns), changed(is.rows, was.rows)
	for _, row := range rows {
		switch len(columns) {
		case 0: // a row swapped for another with the same digests by column
			fault(s.At(row, 0), "this row differs from the ledger")
		case 1:
			fault(s.At(row, columns[0]), s.Columns[columns[0]].Name+" is "+s.Rows[row].Cells[columns[0]].Text+" here, which differs from the ledger")
		default:
			for _, c := range columns {
				fault(s.At(row, c), "this row differs from the ledger, perhaps in "+s.Columns[c].Name+" "+s.Rows[row].Cells[c].Text)
			}
		}
	}
	if len(rows) == 0 {
		for _, c := range columns {
			fault(s.At(-1, c), `the heading "`+s.heading[c].Text+`" differs from the ledger`)
		}
	}
}

func changed(is, was []string) []int {
	var out []int
	for i := range is {
		if is[i] != was[i] {
			out = append(out, i)
		}
	}
	return out
}

// newRows returns the rows whose digest the ledger has not, or not as often.
func newRows(is, was []string) []int {
	left := map[string]int{}
	for _, d := range was {
		left[d]++
	}
	var out []int
	for i, d := range is {
		if left[d] == 0 {
			out = append(out, i)
			continue
		}
		left[d]--
	}
	return out
}
