package units_test

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"html"
	"io"
	"io/fs"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf16"

	"mereleaf/calculators/catalog"
	"mereleaf/cmd/mereleaf/internal/build"
	"mereleaf/cmd/mereleaf/internal/website/bundle/scripttest"
	"mereleaf/cmd/mereleaf/internal/website/units"
)

const root = "../../../../.."

// mark is a marked quantity of a page.
type mark struct{ page, text, q string }

// element finds what is marked and holds one text, as the script does.
var element = regexp.MustCompile(`<[a-z]+\b[^>]*\bdata-q="([^"]+)"[^>]*>([^<]+)</`)

// marksOf lists the marked quantities of a page, those of drawings one by one.
func marksOf(page, text string) (marks []mark) {
	for _, m := range element.FindAllStringSubmatch(text, -1) {
		q, said := html.UnescapeString(m[1]), html.UnescapeString(m[2])
		if !placedMark.MatchString(q) {
			marks = append(marks, mark{page, said, q})
			continue
		}
		whole := utf16.Encode([]rune(said))
		for place := range strings.SplitSeq(q, ";") {
			part := strings.SplitN(place, ",", 3)
			from, _ := strconv.Atoi(part[0])
			length, _ := strconv.Atoi(part[1])
			marks = append(marks, mark{page, string(utf16.Decode(whole[from : from+length])), part[2]})
		}
	}
	return marks
}

// cellsOf lists the bare numbers of a page's tables, each marked "below" and its
// unit: what stands in cells outside notes, code and marked quantities.
func cellsOf(t *testing.T, page, text string) (marks []mark) {
	t.Helper()
	for _, table := range wholeTable.FindAllString(text, -1) {
		d := xml.NewDecoder(strings.NewReader(table))
		d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
		var columns []string
		row, column, body, skip := "", 0, false, 0
		for {
			token, err := d.Token()
			if errors.Is(err, io.EOF) {
				break
			}
			if err != nil {
				t.Fatalf("%s: %v", page, err)
			}
			switch e := token.(type) {
			case xml.StartElement:
				says := map[string]string{}
				for _, a := range e.Attr {
					says[a.Name.Local] = a.Value
				}
				switch _, marked := says["data-q"]; {
				case skip > 0 || marked || e.Name.Local == "sup" || e.Name.Local == "code":
					skip++
				case e.Name.Local == "table":
					columns = strings.Fields(says["data-units"])
				case e.Name.Local == "tbody":
					body = true
				case e.Name.Local == "tr":
					row, column = says["data-unit"], -1
				case e.Name.Local == "th" || e.Name.Local == "td":
					column++
				}
			case xml.EndElement:
				skip = max(0, skip-1)
				if skip == 0 && e.Name.Local == "tbody" {
					body = false
				}
			case xml.CharData:
				unit := "-"
				if row != "" && column > 0 {
					unit = row
				} else if row == "" && column < len(columns) {
					unit = columns[max(column, 0)]
				}
				if body && skip == 0 && unit != "-" && written.MatchString(string(e)) {
					marks = append(marks, mark{page, string(e), "below " + unit})
				}
			}
		}
	}
	return marks
}

var wholeTable = regexp.MustCompile(`(?s)<table\b.*?</table>`)

var placedMark = regexp.MustCompile(`^\d+,\d`)

// pageMarks makes the handbook and lists the quantities of its chapters, forms,
// terms and cards.
func pageMarks(t *testing.T) (marks []mark, pages int) {
	t.Helper()
	folder := filepath.Join(t.TempDir(), "web")
	whole, err := filepath.Abs(root)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := build.Make(t.Context(), build.Options{Root: whole, Out: folder, Calculators: catalog.All(), PagesOnly: true}); err != nil {
		t.Fatal(err)
	}
	err = fs.WalkDir(os.DirFS(folder), ".", func(path string, d fs.DirEntry, err error) error {
		// print.html says the other pages again, and the form of units compares them.
		if err != nil || d.IsDir() || filepath.Ext(path) != ".html" || path == "print.html" || path == "reckon/units.html" {
			return err
		}
		text, err := os.ReadFile(filepath.Join(folder, path))
		if found := append(marksOf(path, string(text)), cellsOf(t, path, string(text))...); len(found) > 0 {
			pages++
			marks = append(marks, found...)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return marks, pages
}

// TestPagesByIndependentConversion says every marked quantity of the finished
// pages in the three systems with the page's own script, and compares each with a
// conversion by published factors: value, digits, unit, and what must stay.
func TestPagesByIndependentConversion(t *testing.T) {
	node := scripttest.Node(t)
	marks, pages := pageMarks(t)
	if pages < 40 {
		t.Errorf("only %d pages hold quantities", pages)
	}
	var in [][2]string
	for _, m := range marks {
		in = append(in, [2]string{m.text, m.q})
	}
	text, err := json.Marshal(in)
	if err != nil {
		t.Fatal(err)
	}
	run := exec.Command(node, scripttest.Compile(t, root, "pages.ts"))
	var problems bytes.Buffer
	run.Stdin, run.Stderr = bytes.NewReader(text), &problems
	out, err := run.Output()
	if err != nil {
		t.Fatalf("%v\n%s", err, &problems)
	}
	var said [][3]*string
	if err := json.Unmarshal(out, &said); err != nil || len(said) != len(marks) {
		t.Fatalf("%d answers to %d marks: %v", len(said), len(marks), err)
	}
	var c checker
	c.marked, c.shown = conversions(t)
	for i, m := range marks {
		for n, system := range []units.System{units.Metric, units.Imperial, units.US} {
			if err := c.check(m, system, said[i][n]); err != nil {
				t.Errorf("%s, %s: %q, marked %q: %v", m.page, system, m.text, m.q, err)
			}
		}
	}
	t.Logf("%d marks on %d pages: %d texts turned, %d of them bare in cells, with %d numbers; %d stay", len(marks), pages, c.turned, c.cells, c.numbers, c.stay)
	if c.numbers < 5000 || c.cells < 500 {
		t.Errorf("only %d numbers were compared", c.numbers)
	}
}

// checker holds the script's texts against conversions.
type checker struct {
	marked                       map[string]independent
	shown                        map[string]float64
	turned, cells, numbers, stay int
}

func (c *checker) check(m mark, system units.System, said *string) error {
	q, below := strings.CutPrefix(m.q, "below ")
	q, stamped := strings.CutPrefix(q, "*")
	fields := strings.Fields(q)
	var values []float64
	for _, f := range fields {
		if v, err := strconv.ParseFloat(f, 64); err == nil {
			values = append(values, v)
		}
	}
	for _, n := range written.FindAllString(m.text, -1) {
		if below {
			values = append(values, plainly(n))
		}
	}
	code := fields[len(fields)-1]
	unit := c.marked[code]
	to := map[units.System]string{units.Metric: unit.metric, units.Imperial: unit.imperial, units.US: unit.us}[system]
	if strings.HasPrefix(q, "=") || to == "" || !below && fewGrams(code, values) {
		if c.stay++; said != nil {
			return fmt.Errorf("must stay, and is shown as %q", *said)
		}
		return nil
	}
	if said == nil {
		return fmt.Errorf("stays, and must be told in %s", to)
	}
	c.turned++
	if below {
		c.cells++
	}
	shown := strings.ReplaceAll(*said, "\u00a0", " ")
	if stamped {
		original := strings.ReplaceAll(m.text, "\u00a0", " ") + " ("
		if !strings.HasPrefix(shown, original) || !strings.HasSuffix(shown, ")") {
			return fmt.Errorf("is stamped, and is shown as %q", *said)
		}
		shown = shown[len(original) : len(shown)-1]
	}
	if err := checkUnit(m.text, shown, to); err != nil && !below {
		return err
	}
	return c.compare(m.text, values, stamped, code, to, shown)
}

// fewGrams: nobody weighs less than three grams in ounces.
func fewGrams(code string, values []float64) bool {
	most := 0.
	for _, v := range values {
		most = max(most, math.Abs(v))
	}
	return (code == "g" || code == "g/d" || code == "g/h") && most > 0 && most < 3
}

// checkUnit compares the unit that is shown. A bare number of a cell or a tick has
// none, "a day" may stand for "/d", and a heading may name its unit in full.
func checkUnit(text, shown, to string) error {
	text = strings.ReplaceAll(text, "\u00a0", " ")
	unit := func(s string) string { return strings.TrimSpace(s[len(s)-len(lastUnit.FindString(s)):]) }
	got := unit(shown)
	over, _, rate := strings.Cut(to, "/")
	_, per, inWords := strings.Cut(got, " ")
	long := map[string]string{"in": "inches", "ft": "feet", "lb": "pounds", "oz": "ounces"}[to]
	switch {
	case got == to, got == "" && unit(text) == "", got == long && long != "" && !number.MatchString(shown):
		return nil
	case rate && inWords && got == over+" "+per && strings.HasSuffix(text, " "+per):
		return nil
	}
	return fmt.Errorf("is shown as %q, in %q and not in %s", shown, got, to)
}

var (
	number  = regexp.MustCompile(`[-−]?\d[\d,]*(?:\.\d+)?`)
	written = regexp.MustCompile(`[-−]?(?:\d[\d,\x{a0}\x{202f}]*(?:\.\d+|[½¼¾⅓⅔⅛⅜⅝⅞]|(?:[ \x{a0}]\d+)?/\d+)?|[½¼¾⅓⅔⅛⅜⅝⅞])`)
	// lastUnit is what stands behind the last number.
	lastUnit = regexp.MustCompile(`[^\d½¼¾⅓⅔⅛⅜⅝⅞]*$`)
)

// compare holds each number that is shown against the value of the mark.
func (c *checker) compare(text string, values []float64, stamped bool, code, to, shown string) error {
	if first, _, both := strings.Cut(text, " ("); both && !stamped && len(written.FindAllString(first, -1)) == len(values) {
		text = first // "93 g/d (3.3 oz/d)"
	}
	texts, numbers := written.FindAllString(text, -1), number.FindAllString(shown, -1)
	if len(numbers) != len(values) {
		return fmt.Errorf("is shown as %q: %d numbers for %d", shown, len(numbers), len(values))
	}
	for i, v := range values {
		c.numbers++
		least, of := 2, ""
		if len(texts) == len(values) {
			of = texts[i]
		}
		if stamped || len(texts) > len(values) { // "4 ft 6 in"
			least = 3
		}
		want := v * c.marked[code].size / c.shown[to]
		got, err := strconv.ParseFloat(strings.NewReplacer(",", "", "−", "-").Replace(numbers[i]), 64)
		if err != nil {
			return err
		}
		if code == "Cel" || code == "[degF]" {
			want = map[string]float64{"Cel": v*1.8 + 32, "[degF]": (v - 32) / 1.8}[code]
			if decimals(numbers[i]) != decimals(of) || math.Abs(got-want) > 0.5000001*math.Pow(10, -float64(decimals(of))) {
				return fmt.Errorf("%g is shown as %q; it is %g", v, shown, want)
			}
			continue
		}
		claimed := max(least, significant(of))
		if s := significant(numbers[i]); s > claimed {
			return fmt.Errorf("%g is shown as %q: %d digits of %d", v, shown, s, claimed)
		}
		if want != 0 && math.Abs(got-want) > 0.50001*math.Pow(10, math.Floor(math.Log10(math.Abs(want)))-float64(claimed)+1) || want == 0 && got != 0 {
			return fmt.Errorf("%g is shown as %q; by the published factor it is %g", v, shown, want)
		}
	}
	return nil
}

// plainly is a number of print: "1,200", "−4", "1½", "1 1/2".
func plainly(text string) float64 {
	text = strings.NewReplacer(",", "", "−", "-", "\u00a0", " ", "\u202f", "").Replace(text)
	for sign, share := range map[string]string{"½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅓": " 1/3", "⅔": " 2/3"} {
		text = strings.ReplaceAll(text, sign, share)
	}
	sum := 0.0
	for _, part := range strings.Fields(text) {
		over, under, _ := strings.Cut(part, "/")
		n, _ := strconv.ParseFloat(over, 64)
		if of, err := strconv.ParseFloat(under, 64); err == nil {
			n /= of
		}
		sum += n
	}
	return sum
}

func decimals(s string) int {
	_, after, _ := strings.Cut(s, ".")
	return len(after)
}

// significant counts the digits that a number claims; noughts that end a whole
// number claim nothing, and a half is one digit more.
func significant(s string) int {
	if strings.Contains(s, "/") {
		return 2
	}
	var digits strings.Builder
	for _, r := range s {
		switch {
		case r >= '0' && r <= '9':
			digits.WriteRune(r)
		case strings.ContainsRune("½¼¾⅓⅔⅛⅜⅝⅞", r):
			digits.WriteByte('1')
		}
	}
	all := strings.TrimLeft(digits.String(), "0")
	if !strings.Contains(s, ".") {
		all = strings.TrimRight(all, "0")
	}
	return len(all)
}
