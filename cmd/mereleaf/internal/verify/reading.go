package verify

import (
	"fmt"
	"strings"
	"unicode"

	"mereleaf/cmd/mereleaf/internal/book"
	"mereleaf/cmd/mereleaf/internal/diag"
)

const readingDoc = `how hard the chapters are to read
Noted for each chapter: its words, and the school grade by Flesch and Kincaid
(Kincaid and others 1975). Nothing is a fault.`

func readingFaults(*book.Book) diag.List { return nil }

func lookReading(b *book.Book) Finding {
	var f Finding
	words := 0
	for _, c := range b.Chapters() {
		m := Measure(c.Doc.Running().Prose())
		words += m.Words
		f.Notes = append(f.Notes, fmt.Sprintf("%s: %d words, grade %.1f", c.File, m.Words, m.Grade()))
	}
	f.Seen = []Count{{words, "words"}}
	return f
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

// Measure counts the sentences, words and syllables of a text. Each line ends a
// sentence. A word is a run with a letter in it; numbers are not words.
func Measure(text string) Prose {
	var p Prose
	for line := range strings.SplitSeq(text, "\n") {
		open := false
		for token := range strings.FieldsSeq(line) {
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
