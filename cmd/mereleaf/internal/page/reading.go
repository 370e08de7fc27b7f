package page

import (
	"strings"
	"unicode"

	"github.com/yuin/goldmark/ast"

	"mereleaf/cmd/mereleaf/internal/diag"
)

// Reading says how hard the running text of a chapter is to read: paragraphs,
// items of lists and cautions, without headings, heads of cautions, tables and
// blocks.
type Reading struct {
	Prose
	Hardest   Prose // the paragraph of the highest grade, of those of some length
	HardestAt diag.Position
}

// judged is how many words a paragraph needs for a grade of its own that means
// something.
const judged = 20

// reading measures the document. The tree must have been surveyed.
func (s *survey) reading() Reading {
	var r Reading
	_ = ast.Walk(s.root, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch n.Kind() {
		case ast.KindParagraph, ast.KindTextBlock:
			r.add(Measure(s.plain(n)), s.at(n.Pos()))
			return ast.WalkSkipChildren, nil
		case kindTable, kindBlock, ast.KindHeading, ast.KindFencedCodeBlock, ast.KindCodeBlock:
			return ast.WalkSkipChildren, nil
		}
		return ast.WalkContinue, nil
	})
	return r
}

func (r *Reading) add(p Prose, at diag.Position) {
	r.Sentences += p.Sentences
	r.Words += p.Words
	r.Syllables += p.Syllables
	if p.Words >= judged && p.Grade() > r.Hardest.Grade() || r.HardestAt.Line == 0 {
		r.Hardest, r.HardestAt = p, at
	}
}

// Prose counts what a reading grade is made of.
type Prose struct {
	Sentences, Words, Syllables int
}

// Grade is the Flesch-Kincaid grade level: the years of school after which a
// reader follows the text. It is 0 for a text without words.
// Source: Kincaid, Fishburne, Rogers and Chissom 1975, Research Branch Report
// 8-75; coefficients quoted from memory.
func (p Prose) Grade() float64 {
	if p.Words == 0 {
		return 0
	}
	words := float64(p.Words)
	return 0.39*words/float64(max(p.Sentences, 1)) + 11.8*float64(p.Syllables)/words - 15.59
}

// Measure counts the sentences, words and syllables of a text, whose end ends a
// sentence. A word is a run with a letter in it; numbers are not words.
func Measure(text string) Prose {
	var p Prose
	open := false
	for token := range strings.FieldsSeq(text) {
		if strings.IndexFunc(token, unicode.IsLetter) >= 0 {
			p.Words++
			p.Syllables += syllables(token)
			open = true
		}
		if open && strings.ContainsAny(token[len(token)-1:], ".?!") {
			p.Sentences++
			open = false
		}
	}
	if open {
		p.Sentences++
	}
	return p
}

// syllables counts groups of vowels, without a silent e at the end: right for
// most English words, and off by one for some.
func syllables(word string) int {
	n, vowel := 0, false
	letters := strings.ToLower(strings.TrimFunc(word, func(r rune) bool { return !unicode.IsLetter(r) }))
	for _, r := range letters {
		is := strings.ContainsRune("aeiouy", r)
		if is && !vowel {
			n++
		}
		vowel = is
	}
	if strings.HasSuffix(letters, "e") && !strings.HasSuffix(letters, "le") && n > 1 {
		n--
	}
	return max(n, 1)
}
