package page

import (
	"strconv"
	"strings"

	"mereleaf/cmd/mereleaf/internal/figures"
)

// mark is how the basis of a number is shown: by a letter in the class, which
// the style sheet makes a kind of underline, and in words.
type mark struct {
	class string
	line  string // what the underline looks like
	words string
}

// Mark returns the class that marks a number of the given basis: p published,
// r reckoned, k common practice, m memory, s the invented example.
func Mark(basis string) string { return markOf(basis).class }

func markOf(basis string) mark {
	switch basis {
	case figures.Published:
		return mark{"p", "solid", "published"}
	case figures.Computed:
		return mark{"r", "double", "reckoned"}
	case figures.Practice:
		return mark{"k", "dashed", "common practice"}
	case figures.Memory:
		return mark{"m", "dotted", "from memory"}
	}
	return mark{"s", "wavy", "invented example"}
}

// note says where some numbers of a table come from.
type note struct {
	letter                string
	mark                  mark
	set                   *figures.Set
	source, locator, text string
	rows                  []int // of the set, each once, as they come
}

func (n *note) anchor(table string) string { return table + n.letter }

// noteList is the notes of a table, and which cell has which.
type noteList struct {
	list  []*note
	cells [][]*note // by rows and columns; nil for none
}

func (l *noteList) at(row, column int) (*note, bool) {
	if row < 0 || row >= len(l.cells) || column >= len(l.cells[row]) {
		return nil, false
	}
	n := l.cells[row][column]
	return n, n != nil
}

// gatherNotes gives each number its note: numbers of one origin share one.
func (t *tableWriter) gatherNotes() {
	t.notes.cells = make([][]*note, len(t.bound))
	for r, row := range t.bound {
		t.notes.cells[r] = make([]*note, len(row))
		for c, b := range row {
			if !b.Numeric || c == 0 && numbers(row) > 1 {
				continue
			}
			t.notes.cells[r][c] = t.notes.of(b)
		}
	}
}

func numbers(row []figures.Bound) (n int) {
	for _, b := range row {
		if b.Numeric {
			n++
		}
	}
	return n
}

func (l *noteList) of(b figures.Bound) *note {
	row := b.Set.Rows[b.Row]
	for _, n := range l.list {
		if n.set == b.Set && n.source == row.Source && n.locator == row.Locator && n.text == row.Note && n.mark == markOf(row.Basis) {
			if n.rows[len(n.rows)-1] != b.Row {
				n.rows = append(n.rows, b.Row)
			}
			return n
		}
	}
	n := &note{letter: letter(len(l.list)), mark: markOf(row.Basis), set: b.Set, source: row.Source, locator: row.Locator, text: row.Note, rows: []int{b.Row}}
	l.list = append(l.list, n)
	return n
}

// letter returns a, b, … z, aa, ab, …
func letter(i int) string {
	if i >= 26 {
		return letter(i/26-1) + letter(i%26)
	}
	return string(rune('a' + i))
}

func (t *tableWriter) writeNotes() {
	if len(t.notes.list) == 0 {
		return
	}
	_, _ = t.WriteString("<ul class=\"notes\">\n")
	for _, n := range t.notes.list {
		t.writeNote(n)
	}
	_, _ = t.WriteString("</ul>\n")
	t.writeKey()
}

func (t *tableWriter) writeNote(n *note) {
	t.tag("li", "id", n.anchor(t.name))
	_, _ = t.WriteString("<b>" + n.letter + "</b> ")
	if n.source != "" {
		t.tag("a", "class", "source", "href", t.resolved.Origin.SourceHref(n.source))
		t.text(t.resolved.Origin.Citation(n.source))
		_, _ = t.WriteString("</a>, ")
	}
	if n.locator != "" {
		t.text(strings.TrimRight(n.locator, ".") + ". ")
	}
	t.text(capital(n.mark.words) + ". ")
	if n.text != "" {
		t.text(capital(strings.TrimRight(n.text, ".")) + ". ")
	}
	_, _ = t.WriteString("Figures: ")
	t.writeRows(n)
	_, _ = t.WriteString("</li>\n")
}

// writeRows links to the rows of the figure set, runs of rows as one.
func (t *tableWriter) writeRows(n *note) {
	for i := 0; i < len(n.rows); {
		j := i
		for j+1 < len(n.rows) && n.rows[j+1] == n.rows[j]+1 {
			j++
		}
		if i > 0 {
			_, _ = t.WriteString(", ")
		}
		t.tag("a", "href", t.resolved.Origin.RowHref(n.set, n.rows[i]))
		first, last := n.set.Rows[n.rows[i]].Line, n.set.Rows[n.rows[j]].Line
		if i == j {
			t.text("line " + strconv.Itoa(first))
		} else {
			t.text("lines " + strconv.Itoa(first) + " to " + strconv.Itoa(last))
		}
		_, _ = t.WriteString("</a>")
		i = j + 1
	}
	_, _ = t.WriteString(".")
}

// writeKey explains the marks that this table uses.
func (t *tableWriter) writeKey() {
	_, _ = t.WriteString(`<p class="key">`)
	seen := map[mark]bool{}
	for _, n := range t.notes.list {
		if seen[n.mark] {
			continue
		}
		if len(seen) > 0 {
			_, _ = t.WriteString(" · ")
		}
		seen[n.mark] = true
		t.tag("span", "class", n.mark.class)
		t.text(n.mark.line)
		_, _ = t.WriteString("</span> ")
		t.text(n.mark.words)
	}
	_, _ = t.WriteString(`.<span class="tap"> Tap a number for its source.</span></p>` + "\n")
}

func capital(s string) string {
	if s == "" || s[0] < 'a' || s[0] > 'z' {
		return s
	}
	return string(s[0]-'a'+'A') + s[1:]
}
