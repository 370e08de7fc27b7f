package figures

import (
	"bytes"
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"

	"mereleaf/cmd/mereleaf/internal/diag"
)

// copyOfProject holds the figures, the sources and the ledger in memory.
func copyOfProject(t *testing.T) fstest.MapFS {
	t.Helper()
	files := fstest.MapFS{}
	names, err := fs.Glob(project(), Folder+"/*.csv")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range append(names, SourcesFile) {
		b, err := fs.ReadFile(project(), name)
		if err != nil {
			t.Fatal(err)
		}
		files[name] = &fstest.MapFile{Data: b}
	}
	return files
}

// digitAt returns where a digit stands in a cell of a set; -1 for none.
func digitAt(b []byte, at diag.Position, text string) int {
	line := 1
	start := 0
	for line < at.Line {
		start += bytes.IndexByte(b[start:], '\n') + 1
		line++
	}
	start += at.Column - 1
	i := strings.IndexAny(text, "0123456789")
	if i < 0 {
		return -1
	}
	// In quotation marks a cell begins one byte later; a digit is never quoted
	// itself, so the first one from here on is the cell's.
	return start + bytes.IndexAny(b[start:], "0123456789")
}

// Changing any one digit of any figure file is reported at that line and
// column, by the ledger if by nothing else.
func TestAnyChangedDigitIsFound(t *testing.T) {
	files := copyOfProject(t)
	lib, list := Read(files)
	if err := list.Err(); err != nil {
		t.Fatal(err)
	}
	held := heldSources(lib)
	rapid.Check(t, func(t *rapid.T) {
		s := lib.Sets[rapid.IntRange(0, len(lib.Sets)-1).Draw(t, "set")]
		row := rapid.IntRange(-1, len(s.Rows)-1).Draw(t, "row")
		column := rapid.IntRange(0, len(s.Columns)-1).Draw(t, "column")
		text := s.heading[column].Text
		if row >= 0 {
			text = s.Rows[row].Cells[column].Text
		}
		old := files[s.File].Data
		i := digitAt(old, s.At(row, column), text)
		if i < 0 {
			t.Skip("no digit in this cell")
		}
		changed := bytes.Clone(old)
		changed[i] = '0' + (changed[i]-'0'+byte(rapid.IntRange(1, 9).Draw(t, "by")))%10
		// The ledger's line is that of the project, which TestTheLedgerHolds checks.
		alone := fstest.MapFS{
			s.File:      {Data: changed},
			SourcesFile: files[SourcesFile],
			LedgerFile:  {Data: []byte(held + LedgerLine(s) + "\n")},
		}
		again, faults := Read(alone)
		faults = append(faults, CheckLedger(again, alone)...)
		if len(faults) > 20 {
			t.Errorf("%s: one digit makes %d faults", s.At(row, column), len(faults))
		}
		for _, d := range faults {
			if d.Position == s.At(row, column) {
				return
			}
		}
		t.Errorf("%s: %q changed to %q is not reported there, but: %v", s.At(row, column), old[i], changed[i], faults)
	})
}

func TestCheckLedger(t *testing.T) {
	const set = "a [m],b [kg]" + origin + "1,2,,,practice,\n3,4,,,practice,\n5,6,,,practice,\n"
	lib, _ := Read(toyFiles(map[string]string{"toy": set}))
	held := heldSources(lib) + LedgerLine(lib.Sets[0]) + "\n"
	for _, c := range []struct{ name, set, ledger, want string }{
		{"agreement", set, held, ""},
		{"no ledger", set, "", LedgerFile + ": the file is missing"},
		{"set without a line", set, heldSources(lib), Folder + "/toy.csv:1:1: the set is not in the ledger; expected a second entry of its figures; check the set against its sources, then add this line to the ledger: " + LedgerLine(lib.Sets[0])},
		{"line without a set", set, held + "toy-lost,,\n", LedgerFile + ":5:1: the ledger has the set toy-lost"},
		{"set twice", set, held + LedgerLine(lib.Sets[0]) + "\n", LedgerFile + ":5:1: the ledger has toy twice"},
		{"broken ledger", set, "set,columns\n", LedgerFile + ": record on line 1: wrong number of fields"},
		{"wrong heading", set, strings.Replace(held, "rows", "lines", 1), LedgerFile + ":1:1: the heading is set,columns,lines"},
		{"changed cell", strings.Replace(set, "3,4", "3,9", 1), held, Folder + "/toy.csv:3:3: b is 9 here, which differs from the ledger"},
		{"changed heading", strings.Replace(set, "b [kg]", "c [kg]", 1), held, Folder + `/toy.csv:1:7: the heading "c [kg]" differs`},
		{"added row", strings.Replace(set, "3,4", "7,8,,,practice,\n3,4", 1), held, Folder + "/toy.csv:3:1: this row is not in the ledger"},
		{"removed row", strings.Replace(set, "3,4,,,practice,\n", "", 1), held, Folder + "/toy.csv:1:1: the set has 2 rows, and 3 in the ledger"},
		{"added column", strings.NewReplacer("b [kg]", "b [kg],c", "2,", "2,,", "4,", "4,,", "6,", "6,,").Replace(set), held, Folder + "/toy.csv:1:1: the set has 7 columns, and 6 in the ledger"},
	} {
		t.Run(c.name, func(t *testing.T) {
			files := toyFiles(map[string]string{"toy": c.set})
			if c.ledger != "" {
				files[LedgerFile] = &fstest.MapFile{Data: []byte(c.ledger)}
			}
			lib, list := Read(files)
			if err := list.Err(); err != nil {
				t.Fatal(err)
			}
			got := CheckLedger(lib, files)
			switch {
			case c.want == "" && len(got) > 0:
				t.Errorf("faults: %v", got)
			case c.want != "" && (len(got) != 1 || !strings.HasPrefix(got[0].String(), c.want)):
				t.Errorf("got %v, want %q", got, c.want)
			}
		})
	}
}

// Two slips in one set are both reported, and what to enter only once.
func TestCheckLedgerReportsEveryChangedRow(t *testing.T) {
	const set = "a [m],b [kg]" + origin + "1,2,,,practice,\n3,4,,,practice,\n"
	lib, _ := Read(toyFiles(map[string]string{"toy": set}))
	files := toyFiles(map[string]string{"toy": strings.NewReplacer("1,2", "1,7", "3,4", "3,8").Replace(set)})
	files[LedgerFile] = &fstest.MapFile{Data: []byte(heldSources(lib) + LedgerLine(lib.Sets[0]) + "\n")}
	lib, _ = Read(files)
	list := CheckLedger(lib, files)
	if len(list) != 2 || list[0].Line != 2 || list[1].Line != 3 || list[0].Column != 3 || list[1].Column != 3 {
		t.Errorf("faults: %v", list)
	}
	if n := strings.Count(list.Error(), LedgerLine(lib.Sets[0])); n != 1 {
		t.Errorf("the line to enter stands %d times", n)
	}
}
