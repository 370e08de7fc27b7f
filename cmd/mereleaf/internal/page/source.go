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
	if i, problem, want := tangle(text); problem != "" {
		return nil, &diag.Diagnostic{Position: diag.At(file, text, i), Problem: problem, Want: want, Remedy: "write it more simply"}
	}
	return text, nil
}

// Far above what anyone writes. A Markdown parser takes a time that grows with the
// square of these, and room for each quotation or list within another.
const (
	mostOpened = 50    // quotations and lists that one line opens
	mostMarks  = 1_000 // marks of links, emphasis, code and HTML in lines that no blank one parts
)

// tangle returns where a text would keep the parser busy for minutes, and why.
func tangle(text []byte) (offset int, problem, want string) {
	marks := 0
	for line := range bytes.Lines(text) {
		if len(bytes.TrimSpace(line)) == 0 {
			marks = 0
		}
		if n := opened(line); n > mostOpened {
			return offset, fmt.Sprintf("the line opens %d quotations or lists, one in another", n), fmt.Sprintf("at most %d", mostOpened)
		}
		for i, c := range line {
			if bytes.IndexByte([]byte("[*_`<"), c) < 0 {
				continue
			}
			if marks++; marks > mostMarks {
				return offset + i, fmt.Sprintf("here is mark %d of a link, emphasis, code or HTML in one paragraph", marks), fmt.Sprintf("at most %d", mostMarks)
			}
		}
		offset += len(line)
	}
	return 0, "", ""
}

// opened counts the marks of quotations and lists that a line begins with.
func opened(line []byte) int {
	count := 0
	for {
		line = bytes.TrimLeft(line, " \t")
		after := bytes.TrimLeft(line, "0123456789")
		switch {
		case len(after) > 1 && len(after) < len(line) && (after[0] == '.' || after[0] == ')') && isBlank(after[1]):
			line = after[1:]
		case len(line) > 0 && line[0] == '>':
			line = line[1:]
		case len(line) > 1 && bytes.IndexByte([]byte("-+*"), line[0]) >= 0 && isBlank(line[1]):
			line = line[1:]
		default:
			return count
		}
		count++
	}
}

func isBlank(c byte) bool { return c == ' ' || c == '\t' || c == '\n' }

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
