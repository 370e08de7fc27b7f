package verify

import (
	"bytes"
	"io/fs"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"mereleaf/calculators/catalog"
	"mereleaf/cmd/mereleaf/internal/book"
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/figures"
	"mereleaf/cmd/mereleaf/internal/page"
)

func project() fs.FS { return os.DirFS("../../../..") }

// TestTheHandbookIsInOrder holds the project's own handbook to every check.
func TestTheHandbookIsInOrder(t *testing.T) {
	b, _ := book.Read(project(), catalog.All())
	if _, faults := Run(b); len(faults) > 0 {
		t.Error(faults)
	}
}

// TestAnyChangedDigitIsFound changes every digit of every bound number in the
// handbook's tables, one at a time, and demands a fault in that line of the
// chapter. It must name the figure's place too, unless the change leaves no
// number to compare, such as a range from 45 to 45.
func TestAnyChangedDigitIsFound(t *testing.T) {
	if testing.Short() {
		t.Skip("reads the book once for each change")
	}
	b, faults := book.Read(project(), catalog.All())
	if len(faults) > 0 {
		t.Skip("TestTheHandbookIsInOrder reports what is wrong")
	}
	changed := 0
	for _, c := range b.Chapters() {
		for _, table := range c.Doc.Tables {
			for r, row := range b.Bindings(c, table) {
				for i, bound := range row {
					if bound.Numeric {
						cell := table.Figure.Rows[r][i]
						changed += changeDigits(t, b, c, cell.Pos, len(cell.Text))
					}
				}
			}
		}
	}
	if changed < 150 {
		t.Errorf("only %d digits were changed", changed)
	}
}

// changeDigits changes the digits of a cell of the given length, one at a time,
// and returns how many there are.
func changeDigits(t *testing.T, b *book.Book, c *book.Chapter, at diag.Position, length int) int {
	t.Helper()
	start := offset(c.Text, at)
	changed := 0
	for i := start; i < start+length; i++ {
		d := c.Text[i]
		if d < '0' || d > '9' || exponent(c.Text[:i]) {
			continue
		}
		changed++
		text := bytes.Clone(c.Text)
		text[i] = '0' + (d-'0'+1)%10
		found := false
		doc, faults := page.Parse(c.File, text)
		for _, table := range doc.Tables {
			_, more := b.Library.BindTable(table.Figure)
			faults = append(faults, more...)
		}
		_, err := figures.ReadAmount(string(text[start : start+length]))
		for _, f := range faults {
			found = found || f.Line == at.Line && (f.Related.File != "" || err != nil)
		}
		if !found {
			t.Errorf("%s: %q may stand for %q", at, text[start:start+length], c.Text[start:start+length])
		}
	}
	return changed
}

// exponent reports whether a digit behind text belongs to a unit, as in "m2".
func exponent(text []byte) bool {
	return len(text) > 0 && strings.ContainsAny(string(text[len(text)-1:]), "abcdefghijklmnopqrstuvwxyz")
}

func offset(text []byte, p diag.Position) int {
	at := 0
	for range p.Line - 1 {
		at += bytes.IndexByte(text[at:], '\n') + 1
	}
	return at + p.Column - 1
}

// TestAChangedFigureIsFoundInItsChapter raises the first digit of one figure of
// every set that a table prints, in the set's file, and demands faults there and
// in the chapter, unless the cell is still right by another row of the set.
func TestAChangedFigureIsFoundInItsChapter(t *testing.T) {
	if testing.Short() {
		t.Skip("reads the book once for each change")
	}
	files := projectFiles(t)
	b, faults := book.Read(files, catalog.All())
	if len(faults) > 0 {
		t.Skip("TestTheHandbookIsInOrder reports what is wrong")
	}
	raised, missed := map[string]bool{}, 0
	for _, c := range b.Chapters() {
		for _, table := range c.Doc.Tables {
			n, ok := lastNumber(b, c, table)
			if !ok || raised[n.bound.Set.Name] {
				continue
			}
			raised[n.bound.Set.Name] = true
			if !raiseFigure(t, b, files, n) {
				missed++
			}
		}
	}
	if len(raised) < 20 || missed > len(raised)/5 {
		t.Errorf("%d sets are printed, of which %d print a number that two rows have", len(raised), missed)
	}
}

// projectFiles returns a copy of what the handbook is made of, to be changed.
func projectFiles(t *testing.T) fstest.MapFS {
	t.Helper()
	files := fstest.MapFS{}
	for _, pattern := range []string{"content/*", "content/*/*", "testdata/reference/*"} {
		names, err := fs.Glob(project(), pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range names {
			if data, err := fs.ReadFile(project(), name); err == nil { // not a folder
				files[name] = &fstest.MapFile{Data: data}
			}
		}
	}
	return files
}

// printed is a number in a table of a chapter.
type printed struct {
	chapter     *book.Chapter
	table       *page.Table
	row, column int
	bound       figures.Bound
}

func (p printed) pos() diag.Position { return p.table.Figure.Rows[p.row][p.column].Pos }

// lastNumber returns a table's last number. The first column is left out: it says
// which figures are meant, and others may stand for the same.
func lastNumber(b *book.Book, c *book.Chapter, table *page.Table) (p printed, ok bool) {
	for r, row := range b.Bindings(c, table) {
		for i, bound := range row {
			if i > 0 && bound.Numeric {
				p, ok = printed{c, table, r, i, bound}, true
			}
		}
	}
	return p, ok
}

// raiseFigure raises the figure of a number and reports whether the number became
// a fault. It may also be right by another row.
func raiseFigure(t *testing.T, b *book.Book, files fstest.MapFS, n printed) bool {
	t.Helper()
	figure, cell := n.bound.Figure(), n.pos()
	before := files[figure.File]
	defer func() { files[figure.File] = before }()
	data := bytes.Clone(before.Data)
	i := offset(data, figure) + bytes.IndexAny(data[offset(data, figure):], "123456789")
	data[i] = '0' + (data[i]-'0')%9 + 1
	files[figure.File] = &fstest.MapFile{Data: data}
	changed, faults := b.Reread(files, []string{figure.File})
	inSet, inChapter := false, false
	for _, f := range append(faults, ledgerFaults(changed)...) { // without the calculators, which take long
		inSet = inSet || f.File == figure.File && f.Line == figure.Line
		inChapter = inChapter || f.File == cell.File && f.Line == cell.Line
	}
	now := changed.Bindings(n.chapter, n.table)[n.row][n.column]
	if elsewhere := now.Numeric && now.Row != n.bound.Row; !inSet || !inChapter && !elsewhere {
		t.Errorf("%s raised: fault there %t, at %s %t", figure, inSet, cell, inChapter)
	}
	return inChapter
}
