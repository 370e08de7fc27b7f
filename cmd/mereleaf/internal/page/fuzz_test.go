package page

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
	"pgregory.net/rapid"

	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/diag/diagtest"
)

// inside reports whether a position is one of a text, or of the file as a whole.
func inside(p diag.Position, text []byte) bool {
	if p.Line == 0 {
		return p.Column == 0
	}
	lines := bytes.Split(text, []byte("\n"))
	return p.Line >= 1 && p.Line <= len(lines) && p.Column >= 1 && p.Column <= len(lines[p.Line-1])+1
}

// wellFormed reads HTML as XML.
func wellFormed(body string) error {
	d := xml.NewDecoder(strings.NewReader("<body>" + body + "</body>"))
	for {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			return nil
		} else if err != nil {
			return err
		}
	}
}

// checkParse parses a text and demands that every position is inside it, and
// that the result can be written.
func checkParse(t interface {
	Helper()
	Fatalf(string, ...any)
}, text []byte) {
	t.Helper()
	doc, faults := Parse("content/water/10-in.md", text)
	where := doc.Text
	if where == nil {
		where = bytes.TrimPrefix(text, []byte("\uFEFF"))
	}
	for _, d := range faults {
		if !inside(d.Position, where) {
			t.Fatalf("the fault %s is outside the file", d)
		}
		if strings.Contains(d.String(), "\n") {
			t.Fatalf("the fault %s has several lines", d)
		}
	}
	for _, r := range doc.References {
		if !inside(r.Pos, where) {
			t.Fatalf("the reference %s at %s is outside the file", r.Target, r.Pos)
		}
	}
	for _, step := range doc.Steps {
		if !inside(step.Pos, where) || !inside(step.End, where) {
			t.Fatalf("the step %q from %s to %s is outside the file", step.Text, step.Pos, step.End)
		}
	}
	for _, h := range doc.Headings {
		if !inside(h.Pos, where) {
			t.Fatalf("the heading %s at %s is outside the file", h.Text, h.Pos)
		}
	}
	for _, table := range doc.Tables {
		for _, row := range table.Figure.Rows {
			for _, cell := range row {
				if !inside(cell.Pos, where) {
					t.Fatalf("the cell %q at %s is outside the file", cell.Text, cell.Pos)
				}
			}
		}
	}
	r := Resolved{Links: make([]Link, len(doc.References)), Images: make([]Image, len(doc.Pictures)), Origin: plainOrigins{},
		Tables: emptyTables(doc), Block: func(*Block) (string, error) { return "", nil }, Caution: func(string) (Panel, error) { return Panel{}, nil }}
	body, err := doc.Body(r)
	if err != nil {
		t.Fatalf("writing: %v", err)
	}
	notXML := strings.ContainsAny(string(text), "\uFFFE\uFFFF")
	if err := wellFormed(body); err != nil && !notXML {
		t.Fatalf("%v in\n%s", err, body)
	}
	if _, err := doc.SummaryHTML(r); err != nil {
		t.Fatalf("writing: %v", err)
	}
	if r := doc.Reading; r.Words > 0 && !inside(r.HardestAt, where) {
		t.Fatalf("the hardest paragraph at %s is outside the file", r.HardestAt)
	}
	_, _, terms, _ := ParseTerms("content/terms.md", text)
	for _, term := range terms {
		if html, err := term.HTML(r); err != nil || !strings.Contains(string(text), "\uFFFE") && !strings.Contains(string(text), "\uFFFF") && wellFormed(html) != nil {
			t.Fatalf("writing the term %s: %v\n%s", term.Name, err, html)
		}
	}
}

func FuzzParse(f *testing.F) {
	names, err := filepath.Glob("testdata/*/*.txtar")
	if err != nil || len(names) == 0 {
		f.Fatalf("no seeds (%v)", err)
	}
	for _, name := range names {
		a, err := txtar.ParseFile(name)
		if err != nil {
			f.Fatal(err)
		}
		if in, ok := file(a, "in.md"); ok {
			text, _ := diagtest.Strip("in.md", in)
			f.Add(text)
		}
	}
	f.Fuzz(func(t *testing.T, text []byte) { checkParse(t, text) })
}

// TestAnyMixtureOfConstructs parses chapters mixed from the handbook's
// constructs, whole or cut short.
func TestAnyMixtureOfConstructs(t *testing.T) {
	piece := rapid.SampledFrom([]string{
		"# Title", "## Section", "#### Deep", "Summary.", "| A | B |", "|---|--:|", "| x | 9.1 mg/L |", "| x |\t1 2 |",
		"[Caption](figures:oxygen?ph=7)", "[9.1 mg/L](figure:oxygen)", "[x](term:y)", "[x](leaf:y)", "[x](../a/10-b.md#c)", "[x][y]", "[y]: term:z",
		"> **Danger: x.** y", "> **Note.**", "> ", "```calculator x", "a = b", "```", "```math", "1. one", "3. three", "- x",
		"![alt](a.png)", "![alt](a.svg)", "![](b.gif)", "<b>", "<div>", "<https://x.y/>", "21", "°C", "\\", "&amp;", "*", "**", "`", "\r", "",
	})
	rapid.Check(t, func(t *rapid.T) {
		pieces := rapid.SliceOfN(piece, 0, 30).Draw(t, "pieces")
		gaps := rapid.SliceOfN(rapid.SampledFrom([]string{"\n", "\n\n", " ", "\r\n", ""}), len(pieces), len(pieces)).Draw(t, "gaps")
		var b strings.Builder
		for i, p := range pieces {
			b.WriteString(p + gaps[i])
		}
		checkParse(t, []byte(b.String()))
	})
}

// TestLineEndsMoveNothing demands the same faults at the same places from a
// chapter with either kind of line end.
func TestLineEndsMoveNothing(t *testing.T) {
	for _, name := range archives(t, "testdata/faults/*.txtar") {
		a, err := txtar.ParseFile(name)
		if err != nil {
			t.Fatal(err)
		}
		in, _ := file(a, "in.md")
		text, _ := diagtest.Strip("in.md", in)
		if bytes.Contains(text, []byte("\r")) {
			continue // it is about line ends itself
		}
		_, unix := Parse("in.md", text)
		_, dos := Parse("in.md", bytes.ReplaceAll(text, []byte("\n"), []byte("\r\n")))
		if unix.Error() != dos.Error() {
			t.Errorf("%s: with \\n\n%v\nwith \\r\\n\n%v", name, unix, dos)
		}
	}
}

// TestPositionsAgreeWithCounting compares the line table with counting from the
// start.
func TestPositionsAgreeWithCounting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := []byte(rapid.StringOf(rapid.SampledFrom([]rune("ab\né"))).Draw(t, "text"))
		offset := rapid.IntRange(0, len(text)).Draw(t, "offset")
		d := &Document{File: "x", Text: text, lines: newLineTable(text)}
		if got, want := d.at(offset), diag.At("x", text, offset); got != want {
			t.Fatalf("offset %d of %q is %v, want %v", offset, text, got, want)
		}
	})
}

// TestAnchorsAreStable demands that an anchor is its own anchor: what links
// name is what headings get.
func TestAnchorsAreStable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := Anchor(rapid.String().Draw(t, "heading"))
		if Anchor(a) != a {
			t.Fatalf("the anchor of %q is %q", a, Anchor(a))
		}
		if strings.ContainsAny(a, " #\"'<>&%?") || strings.HasPrefix(a, "-") || strings.HasSuffix(a, "-") {
			t.Fatalf("%q is no fragment", a)
		}
	})
}
