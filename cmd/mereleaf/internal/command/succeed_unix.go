//go:build unix

package command

import (
	"os"
	"syscall"
)

// succeed replaces this process by another program, which keeps the terminal,
// the process number and Ctrl-C. It returns only on failure.
func succeed(program string, args ...string) error {
	return syscall.Exec(program, append([]string{"mereleaf"}, args...), os.Environ())
}
