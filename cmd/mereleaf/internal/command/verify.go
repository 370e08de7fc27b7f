package command

import (
	"os"

	"mereleaf/cmd/mereleaf/internal/book"
	"mereleaf/cmd/mereleaf/internal/verify"
)

type verifyCommand struct{}

func (verifyCommand) Run(e *environment) error {
	root, err := e.project()
	if err != nil {
		return err
	}
	tree, err := os.OpenRoot(root)
	if err != nil {
		return err
	}
	defer tree.Close()
	b, faults := book.Read(tree.FS(), e.calculators)
	if len(faults) == 0 {
		_, faults = verify.Run(b)
	}
	e.result("chapters   %6d", len(b.Chapters()))
	e.result("faults     %6d", len(faults))
	return faults.Err()
}
