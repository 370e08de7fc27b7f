package page

import (
	"bytes"
	"fmt"
	"sort"
	"unicode/utf8"

	"mereleaf/cmd/mereleaf/internal/diag"
)

// MaxSize is the largest chapter accepted, in bytes. A chapter of a handbook is
// a few thousand words; a megabyte of text is a mistake.
const MaxSize = 1 << 20

// lineTable holds the offset at which each line begins, so that a position is
// found by bisection and not by counting from the start of the file each time.
type lineTable []int

func newLineTable(text []byte) lineTable {
	t := make(lineTable, 1, 1+bytes.Count(text, []byte{'\n'}))
	for i := 0; ; {
		j := bytes.IndexByte(text[i:], '\n')
		if j < 0 {
			return t
		}
		i += j + 1
		t = append(t, i)
	}
}

// at returns the line and column, both from 1, of a byte offset.
func (t lineTable) at(offset int) (line, column int) {
	line = sort.SearchInts(t, offset+1)
	return line, offset - t[line-1] + 1
}

// at returns the position of a byte offset; offsets outside the text are taken
// to its nearest end.
func (d *Document) at(offset int) diag.Position {
	offset = min(max(offset, 0), len(d.Text))
	line, column := d.lines.at(offset)
	return diag.Position{File: d.File, Line: line, Column: column}
}

// TooLarge is the fault of a file beyond MaxSize.
func TooLarge(file string, size int64) diag.Diagnostic {
	return diag.Diagnostic{
		Position: diag.Position{File: file},
		Problem:  fmt.Sprintf("the file has %d bytes", size),
		Want:     fmt.Sprintf("at most %d", MaxSize),
		Remedy:   "divide it into several chapters, and keep pictures in files of their own",
	}
}

// clean checks the encoding of a file and returns its text with lines ended by
// \n alone. Removing \r before \n moves no line and no column.
func clean(file string, text []byte) ([]byte, *diag.Diagnostic) {
	if len(text) > MaxSize {
		d := TooLarge(file, int64(len(text)))
		return nil, &d
	}
	text = bytes.TrimPrefix(text, []byte("\uFEFF"))
	if i := badByte(text); i >= 0 {
		return nil, &diag.Diagnostic{
			Position: diag.At(file, text, i),
			Problem:  badByteName(text[i:]),
			Want:     "UTF-8 text",
			Remedy:   "save the file as UTF-8 text",
		}
	}
	if bytes.IndexByte(text, '\r') >= 0 {
		text = bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n"))
	}
	return text, nil
}

// badByte returns the offset of the first byte that is not UTF-8 or is a
// control character other than tab and line end; -1 if there is none.
func badByte(text []byte) int {
	for i := 0; i < len(text); {
		c := text[i]
		switch {
		case c >= utf8.RuneSelf:
			r, size := utf8.DecodeRune(text[i:])
			if r == utf8.RuneError && size == 1 {
				return i
			}
			i += size
			continue
		case c == '\r' && i+1 < len(text) && text[i+1] == '\n':
		case c < ' ' && c != '\n' && c != '\t' || c == 0x7f:
			return i
		}
		i++
	}
	return -1
}

func badByteName(rest []byte) string {
	switch c := rest[0]; {
	case c == 0:
		return "there is a NUL byte here"
	case c < utf8.RuneSelf:
		return fmt.Sprintf("there is the control character %#02x here", c)
	default:
		return fmt.Sprintf("the byte %#02x is not UTF-8", c)
	}
}
