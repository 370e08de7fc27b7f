package command

import (
	"os"

	"mereleaf/cmd/mereleaf/internal/book"
	"mereleaf/cmd/mereleaf/internal/verify"
)

type verifyCommand struct {
	Verbose bool `short:"v" help:"Also print a line for each chapter's tables, and what is worth knowing."`
}

func (verifyCommand) Help() string {
	return `A fault is one line: the place, what is wrong, what was expected, what to do. There is no way to let a wrong number pass.`
}

func (c verifyCommand) Run(e *environment) error {
	root, err := e.project()
	if err != nil {
		return err
	}
	// A Root, unlike os.DirFS, does not follow links that lead out of the project.
	tree, err := os.OpenRoot(root)
	if err != nil {
		return err
	}
	defer tree.Close()
	b, _ := book.Read(tree.FS(), e.calculators) // its faults are part of the report
	report, faults := verify.Run(b)
	if err := report.Print(e.stdout, c.Verbose); err != nil {
		return err
	}
	e.result("%s", count(len(faults), "fault"))
	return faults.Err()
}
