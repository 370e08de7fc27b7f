// Package scripttest runs the tests of the page's scripts that need no browser, in
// Node.
package scripttest

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/evanw/esbuild/pkg/api"

	"mereleaf/cmd/mereleaf/internal/website/units"
)

// Run runs a file of theme/script/test with Node's own runner of tests. root leads to
// the repository.
func Run(t *testing.T, root, name string) {
	t.Helper()
	if out, err := exec.Command(Node(t), "--test", Compile(t, root, name)).CombinedOutput(); err != nil {
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
