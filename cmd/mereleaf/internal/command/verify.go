package command

import (
	"fmt"
	"io/fs"
	"os"
	"strings"

	"mereleaf/cmd/mereleaf/internal/book"
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/figures"
	"mereleaf/cmd/mereleaf/internal/verify"
)

type verifyCommand struct {
	Verbose bool   `short:"v" help:"Also print a line for each chapter's tables, and what is worth knowing."`
	Ledger  string `placeholder:"SET" help:"Only print the ledger's line for a figure set as it is now, to enter by hand once you have checked its figures against their source; for a source, name source:KEY."`
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
	if c.Ledger != "" {
		return e.ledgerLine(tree.FS(), c.Ledger)
	}
	b, _ := book.Read(tree.FS(), e.calculators) // its faults are part of the report
	report, faults := verify.Run(b)
	if err := report.Print(e.stdout, c.Verbose); err != nil {
		return err
	}
	e.result("%s", count(len(faults), "fault"))
	return faults.Err()
}

// ledgerLine prints and does not write: a line that a program enters proves
// nothing.
func (e *environment) ledgerLine(fsys fs.FS, name string) error {
	library, faults := figures.Read(fsys)
	if key, ok := strings.CutPrefix(name, "source:"); ok {
		if s, ok := library.Source(key); ok {
			e.result("%s", figures.SourceLine(s))
			return nil
		}
		return fmt.Errorf("there is no source %q in %s", key, figures.SourcesFile)
	}
	var names []string
	for _, s := range library.Sets {
		if s.Name == name {
			e.result("%s", figures.LedgerLine(s))
			return nil
		}
		names = append(names, s.Name)
	}
	if err := faults.Err(); err != nil {
		return err // perhaps it is the set that cannot be read
	}
	if near := diag.Nearest(name, names); len(near) > 0 {
		return fmt.Errorf("there is no figure set %q; expected perhaps %s; the sets are the files of %s", name, strings.Join(near, " or "), figures.Folder)
	}
	return fmt.Errorf("there is no figure set %q; the sets are the files of %s", name, figures.Folder)
}
