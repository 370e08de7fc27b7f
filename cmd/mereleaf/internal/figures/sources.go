package figures

import (
	"bytes"
	"encoding/json"
	"io/fs"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"mereleaf/cmd/mereleaf/internal/diag"
)

// SourcesFile lists the sources, relative to the project.
const SourcesFile = "content/sources.json"

// Source is a publication, in the terms of CSL-JSON.
type Source struct {
	ID        string // key: "emerson-1975"
	Type      string // CSL type: "article-journal"
	Title     string
	Authors   []Author
	Year      int    // 0 if not known
	Container string // journal, book or site it appeared in
	Publisher string
	Volume    string
	Issue     string
	Number    string
	Page      string
	Edition   string
	Version   string
	DOI       string
	URL       string
	Note      string

	Position diag.Position // where it stands in content/sources.json

	fields []field // as written, by name
}

// field is one member of a source as written.
type field struct {
	name     string // "issued"
	value    string // its JSON without layout
	position diag.Position
}

// Author is a person, or a body with only Family set.
type Author struct {
	Family, Given string
}

// text is a CSL value that may be written as a string or a number.
type text string

// UnmarshalJSON reads a string or a number.
func (t *text) UnmarshalJSON(b []byte) error {
	var s string
	if json.Unmarshal(b, &s) == nil {
		*t = text(s)
		return nil
	}
	var n json.Number
	if err := json.Unmarshal(b, &n); err != nil {
		return err
	}
	*t = text(n.String())
	return nil
}

type cslName struct {
	Family  string `json:"family"`
	Given   string `json:"given"`
	Literal string `json:"literal"`
}

type cslItem struct {
	ID        string    `json:"id"`
	Type      string    `json:"type"`
	Title     string    `json:"title"`
	Author    []cslName `json:"author"`
	Editor    []cslName `json:"editor"`
	Container string    `json:"container-title"`
	Publisher string    `json:"publisher"`
	Volume    text      `json:"volume"`
	Issue     text      `json:"issue"`
	Number    text      `json:"number"`
	Page      text      `json:"page"`
	Edition   text      `json:"edition"`
	Version   text      `json:"version"`
	DOI       string    `json:"DOI"`
	URL       string    `json:"URL"`
	Note      string    `json:"note"`
	Issued    struct {
		Parts [][]text `json:"date-parts"`
	} `json:"issued"`
}

func (c cslItem) source(at diag.Position) Source {
	s := Source{
		ID: c.ID, Type: c.Type, Title: c.Title, Container: c.Container, Publisher: c.Publisher,
		Volume: string(c.Volume), Issue: string(c.Issue), Number: string(c.Number), Page: string(c.Page),
		Edition: string(c.Edition), Version: string(c.Version), DOI: c.DOI, URL: c.URL, Note: c.Note, Position: at,
	}
	names := c.Author
	if len(names) == 0 {
		names = c.Editor
	}
	for _, n := range names {
		if n.Literal != "" {
			n.Family = n.Literal
		}
		s.Authors = append(s.Authors, Author{n.Family, n.Given})
	}
	if len(c.Issued.Parts) > 0 && len(c.Issued.Parts[0]) > 0 {
		s.Year, _ = strconv.Atoi(string(c.Issued.Parts[0][0]))
	}
	return s
}

// readSources reads the list of sources. A fault in one entry leaves the
// others readable.
func readSources(fsys fs.FS) ([]Source, diag.List) {
	b, d := ReadText(fsys, SourcesFile)
	if d != nil {
		d.Remedy = "list the sources there as CSL-JSON: " + d.Remedy
		return nil, diag.List{*d}
	}
	fault := func(offset int64, problem, want, remedy string) diag.Diagnostic {
		return diag.Diagnostic{Position: diag.At(SourcesFile, b, int(offset)), Problem: problem, Want: want, Remedy: remedy}
	}
	var items []json.RawMessage
	if err := json.Unmarshal(b, &items); err != nil {
		offset, reason := jsonFault(err, b)
		return nil, diag.List{fault(offset, "this is not a list of sources: "+reason, "a JSON list of CSL items", "correct the JSON here")}
	}
	var sources []Source
	var list diag.List
	seen := map[string]diag.Position{}
	offset, line := int64(0), 1
	for _, raw := range items {
		next := offset + int64(bytes.Index(b[offset:], raw)) // items stand in the file as they are
		line += bytes.Count(b[offset:next], []byte{'\n'})
		offset = next
		at := diag.Position{File: SourcesFile, Line: line, Column: int(offset) - bytes.LastIndexByte(b[:offset], '\n')}
		var item cslItem
		if err := json.Unmarshal(raw, &item); err != nil {
			_, reason := jsonFault(err, raw)
			list.Add(fault(offset, "this is not a CSL item: "+reason, "an object with id, type and title", "correct the item"))
			continue
		}
		for _, d := range item.faults(at) {
			list.Add(d)
		}
		if before, twice := seen[item.ID]; twice {
			list.Add(diag.Diagnostic{Position: at, Problem: "the source " + item.ID + " stands twice", Want: "each id once", Remedy: "remove one of them", Related: before})
		} else if item.ID != "" {
			source := item.source(at)
			source.fields = readFields(raw, at)
			sources = append(sources, source)
			seen[item.ID] = at
		}
		offset += int64(len(raw))
		line += bytes.Count(raw, []byte{'\n'})
	}
	list = append(list, outOfOrder(sources)...)
	slices.SortFunc(sources, byID)
	return sources, list
}

// readFields returns the members of an item that stands at a place, by name. The
// item has been read before, so it has no fault.
func readFields(raw json.RawMessage, at diag.Position) []field {
	var fields []field
	d := json.NewDecoder(bytes.NewReader(raw))
	_, _ = d.Token() // the brace
	for d.More() {
		name, _ := d.Token()
		end := d.InputOffset() // behind the name
		var value json.RawMessage
		_ = d.Decode(&value)
		var plain bytes.Buffer
		_ = json.Compact(&plain, value)
		key, _ := name.(string)
		place := diag.At(at.File, raw, int(end)-len(key)-2)
		if place.Line == 1 {
			place.Column += at.Column - 1
		}
		place.Line += at.Line - 1
		fields = append(fields, field{key, plain.String(), place})
	}
	slices.SortFunc(fields, func(a, b field) int { return strings.Compare(a.name, b.name) })
	return fields
}

// faults returns what an item that stands at a place lacks.
func (c cslItem) faults(at diag.Position) diag.List {
	var out diag.List
	if c.ID == "" {
		out.Add(diag.Diagnostic{Position: at, Problem: "the source has no id", Want: "a key such as emerson-1975", Remedy: "add one"})
	}
	if c.Title == "" || c.Type == "" {
		out.Add(diag.Diagnostic{Position: at, Problem: "the source " + c.ID + " has no title or type", Want: "both", Remedy: "add them, as printed in the publication"})
	}
	return out
}

func jsonFault(err error, b []byte) (offset int64, reason string) {
	switch e := err.(type) {
	case *json.SyntaxError:
		if e.Offset == int64(len(b)) && e.Error() == "unexpected end of JSON input" {
			return e.Offset, "it has no end"
		}
		return e.Offset - 1, e.Error()
	case *json.UnmarshalTypeError:
		return 0, strings.TrimSpace(e.Field + " is a JSON " + e.Value)
	}
	return 0, err.Error()
}

// Short returns the source as cited in running text: "Emerson and others 1975".
func (s Source) Short() string {
	name := ""
	switch len(s.Authors) {
	case 0:
		name = s.Title
	case 1:
		name = s.Authors[0].Family
	case 2:
		name = s.Authors[0].Family + " and " + s.Authors[1].Family
	default:
		name = s.Authors[0].Family + " and others"
	}
	if s.Year == 0 {
		return name
	}
	return name + " " + strconv.Itoa(s.Year)
}

// Citation returns the source on one line of plain text: authors, year, title,
// where it appeared, publisher, and how to find it. Without authors the title
// comes first.
func (s Source) Citation() string {
	var b strings.Builder
	names := make([]string, len(s.Authors))
	for i, a := range s.Authors {
		names[i] = strings.TrimSpace(a.Given + " " + a.Family)
	}
	if len(names) == 0 {
		sentence(&b, s.Title+year(s.Year))
	} else {
		sentence(&b, joinNames(names)+year(s.Year))
		sentence(&b, s.Title)
	}
	where := s.Container
	for _, part := range []struct{ label, text string }{
		{"edition ", s.Edition}, {"version ", s.Version}, {"volume ", s.Volume},
		{"issue ", s.Issue}, {numberLabel(s.Number), s.Number}, {"pages ", s.Page},
	} {
		if part.text != "" {
			where = join(where, ", ", part.label+part.text)
		}
	}
	if s.Container == "" {
		where = upper(where)
	}
	sentence(&b, where)
	if s.Publisher != joinNames(names) {
		sentence(&b, s.Publisher)
	}
	switch {
	case s.DOI != "":
		sentence(&b, "doi:"+s.DOI)
	case s.URL != "":
		sentence(&b, s.URL)
	}
	return b.String()
}

// numberLabel says what a number is, unless it says so itself, as "BS 7671" does.
func numberLabel(number string) string {
	if strings.ContainsFunc(number, unicode.IsLetter) {
		return ""
	}
	return "number "
}

// upper begins a sentence.
func upper(s string) string {
	if s == "" {
		return s
	}
	r, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[size:]
}

func year(y int) string {
	if y == 0 {
		return ""
	}
	return " (" + strconv.Itoa(y) + ")"
}

func joinNames(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}

func join(a, separator, b string) string {
	if a == "" {
		return b
	}
	return a + separator + b
}

// sentence appends s, closed by a full stop unless it has its own close or is
// an address that a full stop would spoil.
func sentence(b *strings.Builder, s string) {
	s = strings.TrimSpace(s)
	if s == "" {
		return
	}
	if b.Len() > 0 {
		b.WriteByte(' ')
	}
	b.WriteString(s)
	if !strings.HasSuffix(s, ".") && !strings.HasSuffix(s, "?") && !strings.Contains(s, "://") && !strings.HasPrefix(s, "doi:") {
		b.WriteByte('.')
	}
}
