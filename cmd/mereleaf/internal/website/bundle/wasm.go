package bundle

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"

	"mereleaf/cmd/mereleaf/internal/diag"
)

// WasmFolder holds the module's main package.
const WasmFolder = "calculators/wasm"

// Wasm compiles the calculators of the project in the folder root to a
// WebAssembly module for WASI preview 1. What it writes on its way it writes into
// the folder workshop, or where the system has such files if that is "". The error
// is a diag.List with the compiler's positions, or says that the go tool is missing.
func Wasm(ctx context.Context, root, workshop string) ([]byte, error) {
	tool, err := exec.LookPath("go")
	if err != nil {
		return nil, diag.List{{Position: diag.Position{File: WasmFolder}, Problem: "the calculators cannot be built: no go command on the PATH", Want: "the Go tool, to compile them to WebAssembly", Remedy: "install Go from go.dev/dl, or add its bin folder to the PATH"}}
	}
	folder, err := os.MkdirTemp(workshop, "mereleaf-wasm-")
	if err != nil {
		return nil, fmt.Errorf("no temporary folder for the calculators: %w", err)
	}
	defer os.RemoveAll(folder)
	out := filepath.Join(folder, "reckon.wasm")
	overlay, err := withoutHelp(root, folder)
	if err != nil {
		return nil, fmt.Errorf("%s: cannot be copied for the compiler: %w; free the place on the disk, or make the files readable, and run it again", WasmFolder, err)
	}
	cmd := exec.CommandContext(ctx, tool, wasmArgs(out, overlay)...)
	cmd.Dir = root
	cmd.Env = append(wasmEnv(os.Environ()), "GOTMPDIR="+folder)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	if err := cmd.Run(); err != nil {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		return nil, compilerFaults(stderr.String(), err)
	}
	module, err := os.ReadFile(out)
	if err != nil {
		return nil, err
	}
	module, err = joinSegments(module)
	if err != nil {
		// The linker does not notice when the system refuses to write what it made.
		return nil, diag.List{{Position: diag.Position{File: WasmFolder}, Problem: "the module that the compiler wrote is not whole: " + err.Error(), Want: "room for it on the disk", Remedy: "free the place on the disk and run it again"}}
	}
	return module, nil
}

// wasmArgs asks for a reactor, which answers calls rather than running once,
// and for bytes that depend on nothing but the source: no paths, no build
// identity, no state of the repository. Without inlining (-l) the module weighs
// 5 % less compressed, which a phone at the pond notices more than the speed.
func wasmArgs(out, overlay string) []string {
	return []string{"build", "-buildmode=c-shared", "-trimpath", "-buildvcs=false", "-gcflags=all=-l", "-ldflags=-s -w -buildid=", "-overlay", overlay, "-o", out, "./" + WasmFolder}
}

func wasmEnv(environ []string) []string {
	// The last value of a name counts, so these override.
	return append(environ, "GOOS=wasip1", "GOARCH=wasm", "CGO_ENABLED=0", "GOWASM=", "GOEXPERIMENT=", "GOFIPS140=off")
}

var compilerLine = regexp.MustCompile(`^(.+?\.go):(\d+):(?:(\d+):)? (.+)$`)

// compilerFaults keeps the compiler's positions. What has none is joined to one
// fault of the whole package, so that nothing it said is lost.
func compilerFaults(stderr string, run error) diag.List {
	var faults diag.List
	var rest []string
	for line := range strings.Lines(stderr) {
		line = strings.TrimSpace(line)
		if m := compilerLine.FindStringSubmatch(line); m != nil {
			row, _ := strconv.Atoi(m[2]) // digits by the pattern
			column, _ := strconv.Atoi(m[3])
			file := strings.TrimPrefix(filepath.ToSlash(m[1]), "./")
			faults.Add(diag.Diagnostic{Position: diag.Position{File: file, Line: row, Column: column}, Problem: m[4], Remedy: "correct the Go code"})
		} else if line != "" && !strings.HasPrefix(line, "#") && line != "too many errors" {
			rest = append(rest, line)
		}
	}
	if len(faults) > 0 {
		return faults.Sorted()
	}
	said := strings.Join(rest, "; ")
	if said == "" {
		said = run.Error()
	}
	return diag.List{{Position: diag.Position{File: WasmFolder}, Problem: "the calculators cannot be built: " + said}}
}
