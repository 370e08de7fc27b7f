// Package command is the command line: what each command is called, what it
// accepts, and what it prints.
//
// It touches files, other programs and the clock.
package command

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/alecthomas/kong"

	"mereleaf/calculators"
	"mereleaf/calculators/catalog"
	"mereleaf/cmd/mereleaf/internal/preview"
)

// program is the whole command line. Commands stand in the order of help.
type program struct {
	Project string   `placeholder:"DIR" help:"The handbook's folder (default: the nearest folder upwards with content/handbook.toml)."`
	Help    helpFlag `short:"h" help:"Show this help."`

	Preview previewCommand `cmd:"" help:"Build the handbook, serve it on this computer, and reload the browser when you save."`
	Make    makeCommand    `cmd:"" help:"Check everything, then print the handbook to out/web, ready to host, and as one file and an e-book beside it."`
	Verify  verifyCommand  `cmd:"" help:"Check every chapter, link, number and calculator; print nothing but faults."`
	Reckon  reckonCommand  `cmd:"" help:"Answer a pond question in the terminal; without a name, list the questions."`
	Draft   draftCommand   `cmd:"" help:"Start a chapter, with the next free number."`
	Usage   usageCommand   `cmd:"" name:"help" help:"Show help, for the program or for one command."`
}

const description = `Mereleaf prints a pond keeper's field handbook: chapters, tables checked against cited figures, and calculators that work at the pond.

A first session:

    mereleaf preview
    mereleaf reckon
    mereleaf reckon free-ammonia tan=1.5mg/L ph=8.2 temperature=21C
    mereleaf draft water/nitrite
    mereleaf verify
    mereleaf make`

// environment is what a command works with.
type environment struct {
	ctx            context.Context
	args           []string // the command line, for a program that replaces itself
	stdin          io.Reader
	stdout, stderr io.Writer
	calculators    calculators.Set
	folder         string // --project, or ""
}

// Run carries out a command line (without the program's name) and returns the
// exit code: 0 if all went well, otherwise 1. It stops early, and cleans up,
// when ctx ends.
func Run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	e := &environment{ctx: ctx, args: args, stdin: stdin, stdout: stdout, stderr: stderr, calculators: catalog.All()}
	return e.fail(e.run(args))
}

func (e *environment) run(args []string) error {
	var p program
	parser, err := kong.New(&p,
		kong.Name("mereleaf"),
		kong.Description(description),
		kong.Writers(e.stdout, e.stderr),
		kong.NoDefaultHelp(),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true, NoExpandSubcommands: true, WrapUpperBound: 80}),
		kong.Vars{"port": strconv.Itoa(preview.Port)},
		kong.Bind(e),
	)
	if err != nil {
		return err
	}
	if len(args) == 0 {
		return e.run([]string{"--help"})
	}
	call, err := parser.Parse(args)
	if err != nil {
		return usage(err)
	}
	e.folder = p.Project
	return call.Run(e)
}

// usage prints help if that was asked for; otherwise it adds the remedy to a
// refused command line.
func usage(err error) error {
	var parse *kong.ParseError
	if !errors.As(err, &parse) {
		return err
	}
	if errors.Is(err, errHelp) {
		return parse.Context.PrintUsage(false)
	}
	about := "mereleaf help"
	if node := parse.Context.Selected(); node != nil {
		about += " " + node.Name
	}
	return fmt.Errorf("%s; see \"%s\"", strings.TrimSuffix(err.Error(), "."), about)
}

// errHelp ends the reading of a command line that asks for help.
var errHelp = errors.New("help")

type helpFlag bool

// BeforeReset runs before anything else is judged, so that help is to be had
// for an incomplete command line.
func (helpFlag) BeforeReset() error { return errHelp }

type usageCommand struct {
	Command string `arg:"" optional:"" help:"The command to explain."`
}

func (c usageCommand) Run(e *environment) error {
	if c.Command == "" {
		return e.run([]string{"--help"})
	}
	return e.run([]string{c.Command, "--help"})
}
