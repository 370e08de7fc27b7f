// Command digits counts the numbers of finished pages, in digits and in words, that
// stand in no marked quantity, by the reason why they need none, and lists those
// for which there is no reason:
//
//	go run ./.ci/digits out/web
//
// It fails if there are any.
package main

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

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

// page goes through a page, which is well-formed as XML but for its void elements.
func (c *count) page(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	d := xml.NewDecoder(f)
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	reasons := []string{"frame"} // why numbers need no mark, of each open element; "" if nothing says
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return fmt.Errorf("%s: %w", path, err)
		}
		switch t := token.(type) {
		case xml.StartElement:
			reason := reasons[len(reasons)-1]
			if because, ok := place(t); ok && reason != "marked" {
				reason = because
			}
			reasons = append(reasons, reason)
		case xml.EndElement:
			reasons = reasons[:len(reasons)-1]
		case xml.CharData:
			if reason := reasons[len(reasons)-1]; reason != "script" {
				c.text(path, string(t), reason)
			}
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
		case "notes", "agreed", "origins", "cite", "source", "sources", "set":
			return "source", true
		}
	}
	return "", false
}

// text counts the numbers of a text. A number with a unit or a counted noun that
// nothing excuses is left; one with neither is no quantity.
func (c *count) text(path, text, reason string) {
	if reason == "" && strings.Contains(path, string(filepath.Separator)+"figures"+string(filepath.Separator)) {
		reason = "set" // its page names columns and sources as they print, and counts rows
	}
	note := func(start, end int, why string) {
		if why == "" {
			c.reasons["left"]++
			from, to := max(0, start-30), min(len(text), end+30)
			c.left = append(c.left, fmt.Sprintf("%s: %s: …%s…", path, text[start:end], strings.ToValidUTF8(strings.Join(strings.Fields(text[from:to]), " "), "")))
			return
		}
		c.reasons[why]++
	}
	for _, s := range c.grammar.Scan(text) {
		note(s.Start, s.End, reason)
	}
	for _, b := range c.grammar.ScanBare(text) {
		why := reason
		if why == "" {
			why = string(b.Reason)
		}
		note(b.Start, b.End, why)
	}
}
