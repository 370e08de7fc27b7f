package units_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/evanw/esbuild/pkg/api"

	"mereleaf/cmd/mereleaf/internal/website/units"
)

const root = "../../../../.."

// TestUnitScript runs the tests of the unit code of the page's script in Node,
// without a browser.
func TestUnitScript(t *testing.T) {
	node := nodeOrSkip(t)
	if out, err := exec.Command(node, "--test", compiled(t, "turned.test.ts")).CombinedOutput(); err != nil {
		t.Errorf("%v\n%s", err, out)
	}
}

// nodeOrSkip is the path of Node. In CI nothing may be skipped.
func nodeOrSkip(t *testing.T) string {
	t.Helper()
	node, err := exec.LookPath("node")
	switch {
	case err == nil:
		return node
	case os.Getenv("CI") != "":
		t.Fatal("there is no node to run the unit code with; install Node 20 or later")
	default:
		t.Skip("there is no node to run the unit code with")
	}
	return ""
}

// compiled is a file of the script's tests as Node runs it.
func compiled(t *testing.T, name string) (file string) {
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
