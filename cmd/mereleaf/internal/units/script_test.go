package units

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/evanw/esbuild/pkg/api"
)

// TestUnitScript runs the tests of the unit code of the page's script in Node,
// without a browser.
func TestUnitScript(t *testing.T) {
	node, err := exec.LookPath("node")
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("there is no node to run the script's tests with; install Node 20 or later")
		}
		t.Skip("there is no node to run the script's tests with")
	}
	tests, err := filepath.Abs(filepath.Join(root, "theme/script/test/turned.test.ts"))
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "turned.test.mjs")
	r := api.Build(api.BuildOptions{
		EntryPoints: []string{tests},
		Bundle:      true,
		Platform:    api.PlatformNode,
		Format:      api.FormatESModule,
		Target:      api.ES2022,
		Charset:     api.CharsetUTF8,
		Define:      Defines(),
		Outfile:     file,
		Write:       true,
	})
	for _, e := range append(r.Errors, r.Warnings...) {
		t.Errorf("%+v: %s", e.Location, e.Text)
	}
	if t.Failed() {
		return
	}
	if out, err := exec.Command(node, "--test", file).CombinedOutput(); err != nil {
		t.Errorf("%v\n%s", err, out)
	}
}
