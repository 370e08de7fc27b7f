// Command digits counts the numbers of finished pages, in digits and in words, that
// stand in no marked quantity, by the reason why they need none, and lists those
// for which there is no reason:
//
//	go run ./.ci/digits out/web
//
// It fails if there are any.
package main

import (
	"cmp"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"github.com/pelletier/go-toml/v2"

	"mereleaf/calculators/quantity"
)

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "digits: name the folder of the finished pages, out/web")
		os.Exit(2)
	}
	grammar, err := prose("content/handbook.toml")
	if err != nil {
		fmt.Fprintln(os.Stderr, "digits:", err)
		os.Exit(2)
	}
	c := count{grammar: grammar, reasons: map[string]int{}}
	err = filepath.WalkDir(os.Args[1], func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(path) != ".html" || d.Name() == "print.html" { // which holds the others again
			return err
		}
		return c.page(path)
	})
	if err != nil {
		fmt.Fprintln(os.Stderr, "digits:", err)
		os.Exit(2)
	}
	for _, reason := range slices.Sorted(maps.Keys(c.reasons)) {
		fmt.Printf("%-10s %6d\n", reason, c.reasons[reason])
	}
	for _, left := range c.left {
		fmt.Println(left)
	}
	fmt.Printf("%d numbers left without a reason\n", len(c.left))
	if len(c.left) > 0 {
		os.Exit(1)
	}
}

// prose is the grammar of the handbook's sentences, which counts the nouns that it
// lists.
func prose(file string) (quantity.Grammar, error) {
	text, err := os.ReadFile(file)
	if err != nil {
		return quantity.Grammar{}, err
	}
	var config struct {
		Nouns map[string]string `toml:"nouns"`
	}
	if err := toml.Unmarshal(text, &config); err != nil {
		return quantity.Grammar{}, fmt.Errorf("%s: %w", file, err)
	}
	singular := map[string]string{}
	for one, many := range config.Nouns {
		singular[one], singular[many] = one, one
	}
	return quantity.Grammar{Words: true, Nouns: func(word string) (string, bool) {
		one, ok := singular[word]
		return one, ok
	}}, nil
}

type count struct {
	grammar quantity.Grammar
	reasons map[string]int
	left    []string
}

// inline are the elements that part no sentence: a number may stand in one and its
// unit behind it. The theme's <b>, <i> and <small> stand apart, as cells of a list.
var inline = map[string]bool{"a": true, "abbr": true, "cite": true, "em": true, "output": true, "q": true, "span": true, "strong": true}

// date is a day, and perhaps its hour, as the log prints it.
var date = regexp.MustCompile(`\b\d{4}-\d\d-\d\d( \d\d:\d\d)?\b`)

// page goes through the page in the file.
func (c *count) page(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	if err := c.read(path, f); err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	return nil
}

// read goes through a page, which is well-formed as XML but for its void elements.
// It scans as one text what has one reason and no edge of a block in it.
func (c *count) read(path string, page io.Reader) error {
	d := xml.NewDecoder(page)
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	reasons := []string{"frame"} // why numbers need no mark, of each open element; "" if nothing says
	var run strings.Builder
	end := func() {
		c.text(path, run.String(), reasons[len(reasons)-1])
		run.Reset()
	}
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			end()
			return nil
		}
		if err != nil {
			return err
		}
		switch t := token.(type) {
		case xml.StartElement:
			reason := reasons[len(reasons)-1]
			if because, ok := place(t); ok && reason != "marked" {
				reason = because
			}
			if reason != reasons[len(reasons)-1] || reason == "marked" || !inline[t.Name.Local] {
				end()
			}
			reasons = append(reasons, reason)
		case xml.EndElement:
			if reason := reasons[len(reasons)-1]; reason != reasons[len(reasons)-2] || reason == "marked" || !inline[t.Name.Local] {
				end()
			}
			reasons = reasons[:len(reasons)-1]
		case xml.CharData:
			run.Write(t)
		}
	}
}

// place is the reason that an element gives for the numbers in it.
func place(e xml.StartElement) (reason string, ok bool) {
	at := map[string]string{}
	for _, a := range e.Attr {
		at[a.Name.Local] = a.Value
	}
	if at["data-q"] != "" {
		return "marked", true
	}
	if at["data-calculator"] == "units" {
		return "converter", true // it shows all units at once, and is not turned
	}
	switch e.Name.Local {
	case "main":
		return "", true
	case "title":
		return "title", true // the page's sign and name, "F 3 Boxes and lids"
	case "script", "style":
		return "script", true
	case "code", "pre":
		return "code", true
	case "math":
		return "formula", true
	case "sup", "nav":
		return "note", true
	case "td", "th":
		return "column", true // its heading has the mark, or no unit
	case "text":
		return "drawing", true // a tick, or a number that its axis explains
	}
	for class := range strings.FieldsSeq(at["class"]) {
		switch class {
		case "tex", "formula":
			return "formula", true
		case "working":
			return "working", true
		case "notes", "agreed", "origins", "cite", "source", "sources", "set", "links":
			return "source", true
		}
	}
	return "", false
}

// bareOnly are the reasons that excuse a number alone, not one with a unit or a
// counted noun: its heading or its axis has these, with their mark.
var bareOnly = map[string]bool{"column": true, "drawing": true, "frame": true, "note": true}

// text counts the numbers of a text. A number with a unit or a counted noun that
// nothing excuses is left; one with neither is no quantity.
func (c *count) text(path, text, reason string) {
	if reason == "script" {
		return
	}
	text = date.ReplaceAllStringFunc(text, func(day string) string {
		c.reasons["date"]++
		return strings.Repeat("_", len(day))
	})
	for _, s := range c.grammar.Scan(text) {
		why := reason
		if bareOnly[why] {
			why = ""
		}
		if why == "" && filepath.Base(filepath.Dir(path)) == "figures" {
			why = "set" // its page names columns and sources as they print, and counts rows
		}
		if why == "" {
			from, to := max(0, s.Start-30), min(len(text), s.End+30)
			c.left = append(c.left, fmt.Sprintf("%s: %s: …%s…", path, text[s.Start:s.End], strings.ToValidUTF8(strings.Join(strings.Fields(text[from:to]), " "), "")))
			continue
		}
		c.reasons[why]++
	}
	for _, b := range c.grammar.ScanBare(text) {
		c.reasons[cmp.Or(reason, because(b, text))]++
	}
}

// because is why a number without unit and noun is no quantity.
func because(b quantity.Bare, text string) string {
	if b.Reason == quantity.Loose && unicode.IsLetter(rune(text[b.Start])) {
		return "word" // "one of them", "half of it"
	}
	return string(b.Reason)
}
