//go:build !linux && !darwin

package build

import "errors"

// exchange would have two files or folders change places in one step, which this
// system cannot.
func exchange(string, string) error { return errors.ErrUnsupported }
