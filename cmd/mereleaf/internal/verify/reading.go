package verify

import (
	"fmt"

	"mereleaf/cmd/mereleaf/internal/book"
	"mereleaf/cmd/mereleaf/internal/diag"
)

// hardest is the highest school grade at which a chapter may read.
const hardest = 9.0

const readingDoc = `how hard the chapters are to read
The school grade by Flesch and Kincaid (Kincaid and others 1975) of each
chapter's running text is at most 9. Noted: its words and grade.`

func readingFaults(b *book.Book) diag.List {
	var faults diag.List
	for _, c := range b.Chapters() {
		r := c.Doc.Reading
		if grade := r.Grade(); grade > hardest {
			faults.Add(diag.Diagnostic{Position: r.HardestAt, Problem: fmt.Sprintf("the chapter reads at school grade %.2f", grade), Want: fmt.Sprintf("at most %.0f", hardest),
				Remedy: fmt.Sprintf("shorten sentences and words, first in this paragraph of grade %.1f", r.Hardest.Grade())})
		}
	}
	return faults
}

func lookReading(b *book.Book) Finding {
	var f Finding
	words := 0
	for _, c := range b.Chapters() {
		r := c.Doc.Reading
		words += r.Words
		f.Notes = append(f.Notes, fmt.Sprintf("%s: %d words, grade %.1f", c.File, r.Words, r.Grade()))
	}
	f.Seen = []Count{{words, "words"}}
	return f
}
