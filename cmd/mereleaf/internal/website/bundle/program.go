package bundle

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"path/filepath"
)

// Program compiles the mereleaf program of the project in the folder root into
// the file out, beside which it works. The error is a diag.List with the compiler's positions.
func Program(ctx context.Context, root, out string) error {
	cmd := exec.CommandContext(ctx, "go", "build", "-buildvcs=false", "-o", out, "./cmd/mereleaf")
	cmd.Dir = root
	cmd.Env = append(os.Environ(), "GOTMPDIR="+filepath.Dir(out))
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	if err := cmd.Run(); err != nil {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		return compilerFaults(stderr.String(), err)
	}
	return nil
}
