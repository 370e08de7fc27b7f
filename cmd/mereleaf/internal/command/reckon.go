package command

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"

	"mereleaf"
	"mereleaf/calculators"
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/figures"
	"mereleaf/cmd/mereleaf/internal/page"
	"mereleaf/cmd/mereleaf/internal/ponds"
	"mereleaf/cmd/mereleaf/internal/ponds/record"
	"mereleaf/cmd/mereleaf/internal/terminal"
)

type reckonCommand struct {
	Working bool     `short:"w" help:"Also show how the answer is worked out, step by step."`
	Record  string   `placeholder:"FILE" help:"A pond record, saved as a file from the handbook's leaf My pond: what the command does not say is taken from it."`
	JSON    bool     `name:"json" help:"Print the answer as JSON, for another program."`
	Name    string   `arg:"" optional:"" help:"The calculator; leave it out to list them all."`
	Input   []string `arg:"" optional:"" name:"input=value" help:"What you know, with its unit, such as volume=9100L or 'volume=2,400 gal (US)'; leave all out to see what is wanted. A dash for the value reads it from standard input."`
}

func (reckonCommand) Help() string {
	return `For example:

    mereleaf reckon free-ammonia tan=1.5mg/L ph=8.2 temperature=21C
    mereleaf reckon oxygen-night --record pond-record.json area=8m2
    mereleaf reckon free-ammonia --json --record pond-record.json`
}

func (c reckonCommand) Run(e *environment) error {
	if c.Name == "" {
		if c.JSON || c.Record != "" {
			return errors.New("no calculator is named; expected one, such as free-ammonia; see \"mereleaf reckon\" for all of them")
		}
		_, err := io.WriteString(e.stdout, terminal.List(e.calculators))
		return err
	}
	calculator, err := e.find(c.Name)
	if err != nil {
		return err
	}
	if len(c.Input) == 0 && c.Record == "" {
		if c.JSON {
			return fmt.Errorf("nothing is given to reckon with; expected input=value or --record; see \"mereleaf reckon %s\"", c.Name)
		}
		told, err := e.told(calculator)
		if err != nil {
			return err
		}
		_, err = io.WriteString(e.stdout, terminal.Describe(told, e.cite(), e.warn()))
		return err
	}
	args, err := e.inputs(c.Input)
	if err != nil {
		return err
	}
	view, err := e.ask(calculator, args, c.Record)
	if err != nil {
		return err
	}
	if c.JSON {
		text, err := terminal.JSON(calculator, view, e.warn())
		if err != nil {
			return err
		}
		_, err = e.stdout.Write(text)
		return err
	}
	_, err = io.WriteString(e.stdout, terminal.Answer(calculator, view, e.cite(), e.warn(), terminal.Options{Working: c.Working}))
	return err
}

// ask puts the inputs to a calculator, over those of a pond record if a file is
// named.
func (e *environment) ask(c calculators.Calculator, given []calculators.Arg, file string) (calculators.View, error) {
	if file == "" {
		return c.Reckon(given)
	}
	text, err := os.ReadFile(file)
	if err != nil {
		return calculators.View{}, unreadable(file, err)
	}
	kept, faults := record.Read(file, text, e.calculators)
	if len(faults) > 0 {
		return calculators.View{}, faults
	}
	view, err := c.Reckon(kept.Over(c, given))
	if err != nil {
		return view, kept.Blame(c, given, err)
	}
	return view, nil
}

// unreadable says in one line why a file cannot be read.
func unreadable(file string, err error) error {
	d := diag.Diagnostic{Position: diag.Position{File: file}, Problem: "cannot be read", Remedy: "name the file that you saved from the handbook's leaf My pond"}
	var p *fs.PathError
	if errors.As(err, &p) {
		d.Problem += ": " + p.Err.Error()
	}
	return d
}

func (e *environment) find(name string) (calculators.Calculator, error) {
	if c, ok := e.calculators.Find(name); ok {
		return c, nil
	}
	var names []string
	for _, c := range e.calculators.All() {
		names = append(names, c.ID)
	}
	expected := ""
	if near := diag.Nearest(name, names); len(near) > 0 {
		expected = "; expected perhaps " + strings.Join(near, " or ")
	}
	return calculators.Calculator{}, fmt.Errorf("there is no calculator %q%s; see \"mereleaf reckon\" for all of them", name, expected)
}

// inputs reads "name=value" words.
func (e *environment) inputs(words []string) ([]calculators.Arg, error) {
	var args []calculators.Arg
	read := false
	for _, word := range words {
		name, value, ok := strings.Cut(word, "=")
		name = strings.TrimSpace(name)
		if !ok || name == "" {
			return nil, fmt.Errorf("%q is not an input; expected input=value; if the value has a space, put quotes round all of it: \"volume=1,200 gal (US)\"", word)
		}
		if value == "-" {
			if read {
				return nil, fmt.Errorf("%s: standard input has been read for another input; give one of them in the command", name)
			}
			text, err := e.standardInput(name)
			if err != nil {
				return nil, err
			}
			value, read = text, true
		}
		args = append(args, calculators.Arg{Name: name, Value: value})
	}
	return args, nil
}

// listLimit is far above any list of fish, in bytes.
const listLimit = 1 << 20

func (e *environment) standardInput(name string) (string, error) {
	text, err := io.ReadAll(io.LimitReader(e.stdin, listLimit+1))
	if err != nil {
		return "", fmt.Errorf("%s: standard input cannot be read: %w", name, err)
	}
	if len(text) > listLimit {
		return "", fmt.Errorf("%s: standard input is longer than %s; expected a short list; check which file it comes from", name, size(listLimit))
	}
	return strings.TrimSpace(string(text)), nil
}

// warn returns the cautions of the handbook at hand. Away from a handbook they are
// those that the program was built with.
func (e *environment) warn() terminal.Warn {
	var cautions []page.Warned
	if root, err := e.project(); err == nil {
		cautions = page.ReadCautions(os.DirFS(root))
	}
	if len(cautions) == 0 {
		_, _, cautions, _ = page.ParseCautions(page.CautionsFile, mereleaf.Cautions)
	}
	return func(h calculators.Hazard) (string, bool) {
		for _, w := range cautions {
			if w.Slug == string(h) {
				return w.Says(), true
			}
		}
		return "", false
	}
}

// told returns a calculator with its examples about the ponds of the handbook at
// hand, or away from one, about those that the program brings along.
func (e *environment) told(c calculators.Calculator) (calculators.Calculator, error) {
	var known ponds.Ponds
	if root, err := e.project(); err == nil {
		var faults diag.List
		if known, faults = ponds.Read(os.DirFS(root), e.calculators); len(faults) > 0 {
			return c, faults
		}
	}
	told, wrong := e.calculators.With(known.Or(e.calculators))
	if len(wrong) > 0 {
		return c, errors.New(strings.Join(wrong, "; "))
	}
	c, _ = told.Find(c.ID)
	return c, nil
}

// cite returns the citations of the handbook at hand. Away from a handbook there
// are none, and answers show the keys alone.
func (e *environment) cite() terminal.Cite {
	none := func(string) (string, bool) { return "", false }
	root, err := e.project()
	if err != nil {
		return none
	}
	library, _ := figures.Read(os.DirFS(root)) // verify reports its faults
	if library == nil {
		return none
	}
	return func(key string) (string, bool) {
		source, ok := library.Source(key)
		if !ok {
			return "", false
		}
		return source.Citation(), true
	}
}
