package book

import (
	"bytes"
	"errors"
	"io/fs"
	"strings"
	"time"

	"github.com/pelletier/go-toml/v2"

	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/page"
)

// The files of the handbook beside its chapters.
const (
	Folder     = "content"
	ConfigFile = Folder + "/handbook.toml"
	TermsFile  = Folder + "/terms.md"
	// CautionsFile holds each caution once.
	CautionsFile = page.CautionsFile
	// ChangesFile says of numbers that once disagreed which one won and why. It
	// is for contributors, and no leaf.
	ChangesFile = Folder + "/changes.md"
)

// ReadConfig reads content/handbook.toml. A key it does not know is a fault: a
// misspelt one would otherwise be lost in silence.
func ReadConfig(fsys fs.FS) (Config, diag.List) {
	text, fault := readText(fsys, ConfigFile)
	if fault != nil {
		return Config{}, diag.List{*fault}
	}
	var c Config
	err := toml.NewDecoder(bytes.NewReader(text)).DisallowUnknownFields().Decode(&c)
	if faults := tomlFaults(err); len(faults) > 0 {
		return c, faults
	}
	c.text = text
	c.locate(text)
	c.locateCards(text)
	c.locateActs(text)
	return c, append(c.check(text), c.checkActs()...)
}

func tomlFaults(err error) diag.List {
	var faults diag.List
	add := func(e *toml.DecodeError, problem, remedy string) {
		line, column := e.Position()
		faults.Add(diag.Diagnostic{Position: diag.Position{File: ConfigFile, Line: line, Column: column}, Problem: problem, Remedy: remedy})
	}
	var strict *toml.StrictMissingError
	var syntax *toml.DecodeError
	switch {
	case err == nil:
	case errors.As(err, &strict):
		for i := range strict.Errors {
			e := &strict.Errors[i]
			add(e, "the key "+strings.Join(e.Key(), ".")+" is unknown; expected title, subtitle, language, club, issued, in [[part]] folder, letter, title, about, in [[urgent]] say, leaf, [nouns], in [[card]] title, take, in [[act]] language, verbs, hazards, in [[steps]] language, columns, or in [[carry]] cautions, leaves", "correct or remove it")
		}
	case errors.As(err, &syntax):
		add(syntax, strings.TrimPrefix(syntax.Error(), "toml: "), "correct the line")
	default:
		faults.Add(diag.Diagnostic{Position: diag.Position{File: ConfigFile}, Problem: err.Error(), Remedy: "correct the file"})
	}
	return faults
}

// check looks for what is missing, double or not fit for a file name.
func (c Config) check(text []byte) diag.List {
	var faults diag.List
	fault := func(at, problem, want, remedy string) {
		p := diag.Position{File: ConfigFile, Line: 1, Column: 1}
		if i := bytes.Index(text, []byte(at)); at != "" && i >= 0 {
			p = diag.At(ConfigFile, text, i)
		}
		faults.Add(diag.Diagnostic{Position: p, Problem: problem, Want: want, Remedy: remedy})
	}
	if c.Title == "" {
		fault("", "the handbook has no title", `title = "…"`, "add it")
	}
	if c.Language == "" {
		fault("", "the handbook has no language", `language = "en-GB"`, "add it")
	}
	if _, err := time.Parse(time.DateOnly, c.Issued); c.Issued != "" && err != nil {
		fault(quoted(c.Issued), "the day of issue is "+quoted(c.Issued), "a day such as 2026-11-25", "correct it")
	}
	if len(c.Parts) == 0 {
		fault("", "the handbook has no parts", "a [[part]] with folder, letter and title", "add one for each folder of content/")
	}
	folders, letters := map[string]bool{}, map[string]bool{}
	for _, p := range c.Parts {
		if !legalName(p.Folder) || folders[p.Folder] {
			fault(quoted(p.Folder), "the part's folder "+quoted(p.Folder)+" is not legal, or stands twice", "lower-case letters, digits and hyphens, each folder once", "rename it")
		}
		if len(p.Letter) != 1 || p.Letter[0] < 'A' || p.Letter[0] > 'Z' || letters[p.Letter] {
			fault(quoted(p.Folder), "the part's letter is "+quoted(p.Letter), "one capital letter, each once", "choose another")
		}
		if p.Title == "" {
			fault(quoted(p.Folder), "the part "+p.Folder+" has no title", `title = "…"`, "add it")
		}
		folders[p.Folder], letters[p.Letter] = true, true
	}
	return faults
}

func quoted(s string) string { return `"` + s + `"` }

// legalName reports whether a name can stand in a path and an address.
func legalName(s string) bool {
	return s != "" && s[0] != '-' && strings.Trim(s, "abcdefghijklmnopqrstuvwxyz0123456789-") == ""
}
