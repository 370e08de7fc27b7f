package page

import (
	"io/fs"
	"math"
	"slices"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/util"

	"mereleaf/cmd/mereleaf/internal/diag"
)

// Warned is one caution of the file of cautions: a heading of level 2 with its
// name, a quotation that begins with a signal word, and a paragraph that says
// the same in one line.
type Warned struct {
	Name    string // "Electricity"
	Slug    string // "electricity", what stands behind caution:
	Caution Caution
	Line    string // in one line, plain
	Pos     diag.Position

	doc  *Document
	text draft // of what stands in the quotation behind the bold words
}

// Says is the caution in one line with its signal word: "Danger: electric shock.
// Unplug everything in the water before a hand goes in."
func (w Warned) Says() string { return w.Signal() + " " + w.Line }

// Signal is the signal word with what it warns of: "Danger: electric shock."
func (w Warned) Signal() string { return capital(w.Caution.Signal) + ": " + w.Caution.Text + "." }

// CautionsFile is the file of cautions.
const CautionsFile = "content/cautions.md"

// ReadCautions returns the cautions of a project; none if its file is missing.
// What is wrong with the file the book tells.
func ReadCautions(project fs.FS) []Warned {
	text, err := fs.ReadFile(project, CautionsFile)
	if err != nil {
		return nil
	}
	_, _, cautions, _ := ParseCautions(CautionsFile, text)
	return cautions
}

// Panel is a caution in full with what its own links come to on a leaf.
type Panel struct {
	Warned   Warned
	Resolved Resolved
}

// HTML returns the caution as a panel.
func (p Panel) HTML() (string, error) {
	inside, err := p.Warned.text.write(p.Warned.doc, p.Resolved, spot{}, p.Warned.text.end())
	if err != nil {
		return "", err
	}
	d := newDraft(func(d *drafter) {
		d.panelHead(p.Warned.Caution)
		_, _ = d.WriteString(inside + "</div>\n")
	})
	return string(d.html), nil
}

// ParseCautions reads the file of cautions as ParseTerms reads that of terms.
func ParseCautions(file string, source []byte) (doc *Document, faults diag.List, cautions []Warned, incomplete diag.List) {
	s := look(file, source)
	cautions, incomplete = s.warned()
	s.Passages = s.passages()
	return s.Document, s.faults, cautions, incomplete
}

func (s *survey) warned() ([]Warned, diag.List) {
	var all []Warned
	var faults diag.List
	for n := s.root.FirstChild(); n != nil; n = n.NextSibling() {
		h, ok := n.(*ast.Heading)
		if !ok || h == s.title {
			continue
		}
		w := Warned{Name: s.plain(h), Pos: s.at(h.Pos()), doc: s.Document}
		w.Slug = Anchor(w.Name)
		quotation, quoted := h.NextSibling().(*cautionNode)
		var line *ast.Paragraph
		if quoted {
			line, _ = quotation.NextSibling().(*ast.Paragraph)
		}
		if h.Level != 2 || line == nil || quotation.caution.Text == "" {
			faults.Add(diag.Diagnostic{Position: w.Pos, Problem: "the caution \"" + w.Name + "\" is not complete",
				Want: "a heading of level 2, a quotation such as \"> **Danger: electric shock.** …\", and a paragraph that says it in one line", Remedy: "write what lacks below the heading"})
			continue
		}
		w.Caution, w.Line = quotation.caution, s.plain(line)
		w.text = s.draftInside(quotation)
		all = append(all, w)
	}
	return all, faults
}

// kindPanel is the kind of a paragraph that is one link to a caution. It holds
// the words of the link, which the panel takes the place of.
var kindPanel = ast.NewNodeKind("Panel")

type panelNode struct {
	ast.BaseBlock
	ref *Reference
}

// Kind implements ast.Node.
func (*panelNode) Kind() ast.NodeKind { return kindPanel }

// Dump implements ast.Node.
func (n *panelNode) Dump(source []byte, level int) { ast.DumpHelper(n, source, level, nil, nil) }

func writePanel(w util.BufWriter, _ []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if entering {
		w.(*drafter).gap(panelGap, node.(*panelNode).ref.Index)
	}
	return ast.WalkSkipChildren, nil
}

func (s *sheet) panel(r *Reference) error {
	p, err := s.resolved.Caution(r.Target)
	if err != nil {
		return err
	}
	if s.resolved.Short {
		s.line(p.Warned)
		return nil
	}
	html, err := p.HTML()
	_, _ = s.WriteString(html)
	return err
}

// line writes a caution in one line.
func (m markup) line(w Warned) {
	m.tag("p", "class", "warned")
	_, _ = m.WriteString("<strong>")
	if w.Caution.Injures() {
		_, _ = m.WriteString(alertSymbol)
	}
	m.text(strings.ToUpper(w.Caution.Signal) + ":")
	_, _ = m.WriteString("</strong> ")
	m.text(w.Line)
	_, _ = m.WriteString("</p>\n")
}

// LineHTML returns the caution in one line.
func (w Warned) LineHTML() string {
	d := newDraft(func(d *drafter) { d.line(w) })
	return string(d.html)
}

// StepsUnder returns the cells below the headings of tables that ask for
// something to do, such as "Do", as steps.
func (d *Document) StepsUnder(headings []string) []Step {
	var steps []Step
	for _, t := range d.Tables {
		for c, h := range t.Figure.Head {
			if !slices.Contains(headings, h.Text) {
				continue
			}
			for _, row := range t.Figure.Rows {
				if c >= len(row) || row[c].Text == "" {
					continue
				}
				end := row[c].Pos
				end.Column = math.MaxInt
				if c+1 < len(row) {
					end = row[c+1].Pos
				}
				steps = append(steps, Step{Text: row[c].Text, Pos: row[c].Pos, End: end})
			}
		}
	}
	return steps
}

// ReferencesUnder returns the links of a section: from the heading of an anchor to
// the next of its level or above; for "" of what stands before the first heading.
func (d *Document) ReferencesUnder(anchor string) []*Reference {
	first, last := d.linesUnder(anchor)
	var under []*Reference
	for _, r := range d.References {
		if r.Pos.Line > first && r.Pos.Line < last {
			under = append(under, r)
		}
	}
	return under
}
