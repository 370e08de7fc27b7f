package page

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// What a chapter is begun with, to be written over. A chapter that still holds one
// of these sentences would be published without its answer.
const (
	starterAnswer  = "Write the answer here, in two or three sentences that help a keeper who reads nothing else."
	starterSteps   = "Write the steps here, the most urgent first."
	starterReasons = "Write the reasons here, and link each number to its source."
)

// Starter returns the text that a new chapter with a title begins as.
func Starter(title string) string {
	return "# " + title + "\n\n" + starterAnswer + "\n\n## What to do\n\n" + starterSteps + "\n\n## Why\n\n" + starterReasons + "\n"
}

// starters reports the sentences of Starter that nobody has written over.
func (s *survey) starters() {
	text := string(s.Text)
	for _, sentence := range []string{starterAnswer, starterSteps, starterReasons} {
		if at := indexFlowing(text, sentence); at >= 0 {
			opening, _, _ := strings.Cut(sentence, ",")
			s.fault(at, `"`+opening+`, …" stands as mereleaf draft wrote it`, "the chapter's own words", "write over it")
		}
	}
}

// indexFlowing is the offset in a text of a sentence whose words may be parted by
// any white space, as at the end of a line; -1 if it is not there.
func indexFlowing(text, sentence string) int {
	words := strings.Fields(sentence)
	for from := 0; ; {
		i := strings.Index(text[from:], words[0])
		if i < 0 {
			return -1
		}
		from += i
		if flows(text[from:], words) {
			return from
		}
		from += len(words[0])
	}
}

// flows reports whether a text begins with words.
func flows(text string, words []string) bool {
	for i, word := range words {
		if i > 0 {
			first, _ := utf8.DecodeRuneInString(text)
			if !unicode.IsSpace(first) {
				return false
			}
			text = strings.TrimLeftFunc(text, unicode.IsSpace)
		}
		rest, ok := strings.CutPrefix(text, word)
		if !ok {
			return false
		}
		text = rest
	}
	return true
}
