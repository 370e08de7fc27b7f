package build

import (
	"errors"
	"fmt"

	"golang.org/x/sys/unix"
)

// exchange has two files or folders change places in one step. The error is
// errors.ErrUnsupported where the file system cannot do that.
func exchange(a, b string) error {
	err := unix.Renameat2(unix.AT_FDCWD, a, unix.AT_FDCWD, b, unix.RENAME_EXCHANGE)
	if errors.Is(err, unix.EINVAL) || errors.Is(err, unix.ENOSYS) || errors.Is(err, unix.ENOTSUP) {
		return fmt.Errorf("%w: %w", errors.ErrUnsupported, err)
	}
	return err
}
