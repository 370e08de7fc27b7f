package markup

import (
	"strings"

	"mereleaf/calculators/quantity"
)

// withUnits tells a table whose quantities are marked the units of its bare
// numbers: data-units lists those of the columns, "- Cel *mm", and data-unit says
// that of a row, beside its first cell. Either all the numbers of a unit are bare,
// or it stays as it is written: its mark becomes "=L/h".
func withUnits(table string) string {
	if strings.Contains(table, " data-unit") {
		return table
	}
	t := readTable(table)
	var body []tableRow
	for _, row := range t.rows {
		if !row.head {
			body = append(body, row)
		}
	}
	codes, named, turned := "", false, false
	for i, u := range t.columns(body) {
		code := "-"
		if named = named || u.code != ""; u.code != "" && t.settle(u, body) {
			code, turned = u.code, true
		}
		if i > 0 {
			codes += " "
		}
		codes += code
	}
	if turned {
		t.insert(len("<table"), written("data-units", codes))
	}
	for _, row := range body {
		if !named && len(row.cells) > 1 && row.cells[0].unit.code != "" && t.stays(row.cells[0].unit, row.cells[1:]) {
			t.insert(row.at, written("data-unit", row.cells[0].unit.code))
		}
	}
	return t.whole()
}

// written is an attribute behind the name of a tag.
func written(attribute, value string) string {
	return strings.TrimSuffix(withAttribute(">", attribute, value), ">")
}

// unitMark is the mark of a unit that heads numbers, and where in the table its
// value begins.
type unitMark struct {
	code string
	at   int
}

// tableRow is a row, and where behind the name of its tag an attribute may stand.
type tableRow struct {
	at    int
	head  bool
	cells []tableCell
}

// tableCell is what a cell holds besides quantities with units of their own.
type tableCell struct {
	unit  unitMark
	texts []string // those with digits
}

// tableText is a table in pieces, and what is to be put in between.
type tableText struct {
	in      string
	caption unitMark
	rows    []tableRow
	more    []insertion
}

type insertion struct {
	at   int
	text string
}

// insert keeps the list in order. What is there already is not put in twice.
func (t *tableText) insert(at int, text string) {
	i := len(t.more)
	for i > 0 && t.more[i-1].at >= at {
		i--
	}
	if i < len(t.more) && t.more[i].at == at {
		return
	}
	t.more = append(t.more, insertion{})
	copy(t.more[i+1:], t.more[i:])
	t.more[i] = insertion{at, text}
}

// whole is the table with all that is put in.
func (t *tableText) whole() string {
	var b strings.Builder
	end := 0
	for _, m := range t.more {
		b.WriteString(t.in[end:m.at] + m.text)
		end = m.at
	}
	b.WriteString(t.in[end:])
	return b.String()
}

// columns are the units that the last row of the heading says, or the caption for
// all columns but the first. A heading of two rows may stand before those.
func (t *tableText) columns(body []tableRow) []unitMark {
	var head []tableCell
	for _, r := range t.rows {
		if r.head {
			head = r.cells
		}
	}
	if len(head) == 0 || len(body) == 0 {
		return nil
	}
	columns := make([]unitMark, max(len(head), len(body[0].cells)))
	first := len(columns) - len(head)
	for i, cell := range head {
		columns[first+i] = cell.unit
		if cell.unit.code == "" && first+i > 0 {
			columns[first+i] = t.caption
		}
	}
	return columns
}

// settle is stays for all columns of a unit.
func (t *tableText) settle(u unitMark, body []tableRow) bool {
	var cells []tableCell
	for i, other := range t.columns(body) {
		for _, row := range body {
			if other == u && i < len(row.cells) {
				cells = append(cells, row.cells[i])
			}
		}
	}
	return t.stays(u, cells)
}

// stays reports whether a unit is that of the cells' numbers, all of which are
// bare. If only some are, or all are too small for another unit, it stays.
func (t *tableText) stays(u unitMark, cells []tableCell) bool {
	texts, bare, most := 0, 0, 0.0
	for _, cell := range cells {
		for _, text := range cell.texts {
			texts++
			if greatest, ok := bareNumbers(text); ok {
				bare++
				most = max(most, greatest)
			}
		}
	}
	turns := bare == texts && !few(most, strings.TrimPrefix(u.code, "*"))
	if !turns && bare > 0 {
		t.insert(u.at, "=")
	}
	return turns && bare > 0
}

// bareNumbers reports a text that holds nothing but numbers, "46–72" or "12
// (10–14)", and the greatest of them.
func bareNumbers(text string) (most float64, ok bool) {
	for text = strings.TrimSpace(text); ; {
		s, err := quantity.Read(text)
		if err != nil || s.HasUnit || s.Noun != "" || s.End == 0 {
			return 0, false
		}
		most = max(most, greatest(s))
		text = strings.TrimLeft(text[s.End:], " \u00a0")
		if text == "" || text == ")" {
			return most, true
		}
		rest := text
		for _, between := range [...]string{"to ", "–", "-", ",", "(", "×", "by ", "and ", "or "} {
			if after, found := strings.CutPrefix(text, between); found {
				rest = strings.TrimLeft(after, " \u00a0")
				break
			}
		}
		if rest == text {
			return 0, false
		}
		text = rest
	}
}

// readTable takes a table to pieces.
func readTable(table string) *tableText {
	t := &tableText{in: table}
	var open []string   // elements within what is passed over
	var cell *tableCell // or nil
	head, captioned := false, false
	for at := 0; at < len(table); {
		if table[at] != '<' {
			end := strings.IndexByte(table[at:], '<')
			if end < 0 {
				end = len(table) - at
			}
			if text := unescape(table[at : at+end]); cell != nil && len(open) == 0 && strings.ContainsAny(text, "0123456789½¼¾⅓⅔⅛⅜⅝⅞") {
				cell.texts = append(cell.texts, text)
			}
			at += end
			continue
		}
		end := at + tagEnd(table[at:])
		tag, name := table[at:end], tagName(table[at:end])
		closes := strings.HasPrefix(tag, "</")
		switch name {
		case "thead":
			head = !closes
		case "caption":
			captioned = !closes
		case "tr":
			if !closes {
				t.rows = append(t.rows, tableRow{at: at + len("<tr"), head: head})
			}
			cell = nil
		case "th", "td":
			cell = nil
			if !closes && len(t.rows) > 0 {
				row := &t.rows[len(t.rows)-1]
				row.cells = append(row.cells, tableCell{})
				cell = &row.cells[len(row.cells)-1]
			}
		default:
			if u := headMark(tag, at); u.code != "" {
				if cell != nil && cell.unit.code == "" {
					cell.unit = u
				} else if captioned && t.caption.code == "" {
					t.caption = u
				}
			}
			switch {
			case closes && len(open) > 0 && open[len(open)-1] == name:
				open = open[:len(open)-1]
			case !closes && !void(name) && !strings.HasSuffix(tag, "/>") && (len(open) > 0 || name == "sup" || name == "code" || attribute(tag, "data-q") != ""):
				open = append(open, name)
			}
		}
		at = end
	}
	return t
}

// headMark is the mark of a unit in a tag: it has no number.
func headMark(tag string, at int) unitMark {
	code := unescape(attribute(tag, "data-q"))
	if bare := strings.TrimPrefix(code, "*"); bare == "" || strings.IndexByte("0123456789.=-", bare[0]) >= 0 {
		return unitMark{}
	}
	return unitMark{code, at + strings.Index(tag, ` data-q="`) + len(` data-q="`)}
}
