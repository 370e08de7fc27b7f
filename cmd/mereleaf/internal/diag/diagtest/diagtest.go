// Package diagtest helps tests to say where in a text something is expected:
// «name» marks a place, and invisible characters have a visible spelling, so
// that nobody counts columns by hand.
//
// It touches nothing outside the program.
package diagtest

import (
	"bytes"
	"strings"

	"mereleaf/cmd/mereleaf/internal/diag"
)

// Strip returns a file's text without the marks «name» in it, with ‹CR›, ‹TAB›,
// ‹NUL›, ‹FF› (the byte 0xff), ‹BOM› and ‹NBSP› replaced by what they stand
// for, and the place of each mark.
func Strip(file string, text []byte) ([]byte, map[string]diag.Position) {
	var clean []byte
	offsets := map[string]int{}
	rest := spelled(text)
	for {
		before, after, ok := bytes.Cut(rest, []byte("«"))
		clean = append(clean, before...)
		if !ok {
			break
		}
		name, tail, _ := bytes.Cut(after, []byte("»"))
		offsets[string(name)] = len(clean)
		rest = tail
	}
	marks := make(map[string]diag.Position, len(offsets))
	for name, offset := range offsets {
		marks[name] = diag.At(file, clean, offset)
	}
	return clean, marks
}

func spelled(text []byte) []byte {
	return []byte(strings.NewReplacer("‹CR›", "\r", "‹TAB›", "\t", "‹NUL›", "\x00", "‹FF›", "\xff", "‹BOM›", "\uFEFF", "‹NBSP›", "\u00a0").Replace(string(text)))
}

// Expand replaces «name» in wanted lines by the place of the mark, and the
// spelling of invisible characters by what they stand for.
func Expand(want []byte, marks map[string]diag.Position) string {
	s := string(spelled(want))
	for name, p := range marks {
		s = strings.ReplaceAll(s, "«"+name+"»", p.String())
	}
	return s
}
