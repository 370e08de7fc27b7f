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

// TestAChangedFigureIsFoundInItsChapter raises the first digit of a figure of
// every table, in the set's file, and demands faults there and in the chapter.
func TestAChangedFigureIsFoundInItsChapter(t *testing.T) {
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
	b, faults := book.Read(files, catalog.All())
	if len(faults) > 0 {
		t.Skip("TestTheHandbookIsInOrder reports what is wrong")
	}
	for _, c := range b.Chapters() {
		for _, table := range c.Doc.Tables {
			if cell, figure, ok := lastNumber(table, b.Bindings(c, table)); ok {
				raiseFigure(t, b, files, figure, cell)
			}
		}
	}
}

// lastNumber returns the places of a table's last number and of its figure. The
// first column is left out: it says which figures are meant, and others may
// stand for the same.
func lastNumber(table *page.Table, bound [][]figures.Bound) (cell, figure diag.Position, ok bool) {
	for r, row := range bound {
		for i, b := range row {
			if i > 0 && b.Numeric {
				cell, figure, ok = table.Figure.Rows[r][i].Pos, b.Figure(), true
			}
		}
	}
	return cell, figure, ok
}

func raiseFigure(t *testing.T, b *book.Book, files fstest.MapFS, figure, cell diag.Position) {
	t.Helper()
	before := files[figure.File]
	defer func() { files[figure.File] = before }()
	data := bytes.Clone(before.Data)
	i := offset(data, figure) + bytes.IndexAny(data[offset(data, figure):], "123456789")
	data[i] = '0' + (data[i]-'0')%9 + 1
	files[figure.File] = &fstest.MapFile{Data: data}
	changed, _ := b.Reread(files, []string{figure.File})
	inSet, inChapter := false, false
	for _, f := range Faults(changed) {
		inSet = inSet || f.File == figure.File && f.Line == figure.Line
		inChapter = inChapter || f.File == cell.File && f.Line == cell.Line
	}
	if !inSet || !inChapter {
		t.Errorf("%s raised: fault there %t, at %s %t", figure, inSet, cell, inChapter)
	}
}
