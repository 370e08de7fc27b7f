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

// TestUnitScript runs the tests of the page's script that need no browser in Node: of
// units, and of what is typed.
func TestUnitScript(t *testing.T) {
	node := nodeOrSkip(t)
	for _, name := range []string{"turned.test.ts", "typed.test.ts", "logdates.test.ts", "logfile.test.ts", "hostile.test.ts"} {
		if out, err := exec.Command(node, "--test", compiled(t, name)).CombinedOutput(); err != nil {
			t.Errorf("%s: %v\n%s", name, err, out)
		}
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
