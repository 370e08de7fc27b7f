// Package strict looks in JSON for what readers of JSON take differently.
//
// It touches nothing outside the program.
package strict

import (
	"bytes"
	"encoding/json"
	"strings"
)

// Twice finds a name that stands twice in one object, of which one value would be
// lost without a word. It returns the offset of the second. The text is JSON.
func Twice(text []byte) (name string, offset int, found bool) {
	d := json.NewDecoder(bytes.NewReader(text))
	d.UseNumber() // a number out of range is for others to refuse
	var open []object
	for {
		at := next(text, int(d.InputOffset()))
		token, err := d.Token()
		if err != nil {
			return "", 0, false // the end
		}
		last := len(open) - 1
		switch token := token.(type) {
		case json.Delim:
			switch token {
			case '{':
				open = append(open, object{names: map[string]bool{}, isName: true})
			case '[':
				open = append(open, object{})
			default:
				open = open[:last]
				last--
			}
			if token == '{' || token == '[' {
				continue
			}
		case string:
			if last >= 0 && open[last].isName {
				if open[last].names[token] {
					return token, at, true
				}
				open[last].names[token] = true
				open[last].isName = false
				continue
			}
		}
		if last >= 0 { // a value has ended
			open[last].isName = open[last].names != nil
		}
	}
}

// object is one that is not closed yet, or a list, which has no names.
type object struct {
	names  map[string]bool
	isName bool // what comes next is a name
}

// next is the offset of the next token.
func next(text []byte, at int) int {
	for at < len(text) && strings.IndexByte(" \t\r\n,:", text[at]) >= 0 {
		at++
	}
	return at
}
