// Package scripttest runs the tests of the page's scripts that need no browser, in
// Node.
//
// It touches files and other programs.
package scripttest

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/evanw/esbuild/pkg/api"

	"mereleaf/cmd/mereleaf/internal/website/units"
)

// Run runs a file of theme/script/test with Node's own runner of tests. root leads to
// the repository. A test that keeps Node running is ended in time to say what it printed.
func Run(t *testing.T, root, name string) {
	t.Helper()
	ctx := t.Context()
	if end, ok := t.Deadline(); ok {
		early, cancel := context.WithDeadline(ctx, end.Add(-time.Until(end)/10))
		defer cancel()
		ctx = early
	}
	if out, err := exec.CommandContext(ctx, Node(t), "--test", Compile(t, root, name)).CombinedOutput(); err != nil {
		t.Errorf("%s: %v\n%s", name, err, out)
	}
}

// Node is the path of Node. Without it the test is skipped, but never in CI.
func Node(t *testing.T) string {
	t.Helper()
	node, err := exec.LookPath("node")
	switch {
	case err == nil:
		return node
	case os.Getenv("CI") != "":
		t.Fatal("there is no node to run scripts with; install Node 20 or later")
	default:
		t.Skip("there is no node to run scripts with")
	}
	return ""
}

// Compile is a file of theme/script/test as Node runs it.
func Compile(t *testing.T, root, name string) (file string) {
	t.Helper()
	entry, err := filepath.Abs(filepath.Join(root, "theme/script/test", name))
	if err != nil {
		t.Fatal(err)
	}
	file = filepath.Join(t.TempDir(), name+".mjs")
	r := api.Build(api.BuildOptions{
		EntryPoints: []string{entry},
		Bundle:      true,
		Platform:    api.PlatformNode,
		Format:      api.FormatESModule,
		Target:      api.ES2022,
		Charset:     api.CharsetUTF8,
		Define:      units.Defines(),
		Outfile:     file,
		Write:       true,
	})
	for _, e := range append(r.Errors, r.Warnings...) {
		t.Fatalf("%+v: %s", e.Location, e.Text)
	}
	return file
}
