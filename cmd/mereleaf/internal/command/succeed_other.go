//go:build !unix

package command

import (
	"os"
	"os/exec"
)

// succeed runs another program in this one's terminal and waits for its end,
// because here a process cannot replace itself.
func succeed(program string, args ...string) error {
	cmd := exec.Command(program, args...)
	cmd.Stdin, cmd.Stdout, cmd.Stderr = os.Stdin, os.Stdout, os.Stderr
	return cmd.Run()
}
