package main

import (
	"bytes"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"strings"
	"testing"
)

// TestPackageDocsSayWhatTheyTouch holds the last sentence of each package's doc comment
// against the package's imports.
func TestPackageDocsSayWhatTheyTouch(t *testing.T) {
	root := os.DirFS(".")
	uses, docs := map[string]map[string]bool{}, map[string]string{}
	eachImport(t, root, func(place, _, imported string) {
		file, _, _ := strings.Cut(place, ":")
		dir := path.Dir(file)
		if uses[dir] == nil {
			uses[dir] = map[string]bool{}
		}
		uses[dir][imported] = true
		if imported != "" {
			return
		}
		text, err := fs.ReadFile(root, file)
		if err != nil {
			t.Fatal(err)
		}
		uses[dir]["clock"] = uses[dir]["clock"] || bytes.Contains(text, []byte("time.Now("))
		f, err := parser.ParseFile(token.NewFileSet(), file, text, parser.PackageClauseOnly|parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		docs[dir] += f.Doc.Text()
	})
	for dir, used := range uses {
		if want := touches(used); dir != "." && !strings.HasSuffix(docs[dir], want+"\n") {
			t.Errorf("%s: the package's doc comment ends otherwise; let it end with %q", dir, want)
		}
	}
}

// touches says what a package that uses these imports has to do with the world outside.
func touches(used map[string]bool) string {
	var all []string
	for _, one := range []struct {
		what string
		by   bool
	}{
		{"files", used["os"]},
		{"other programs", used["os/exec"]},
		{"the network", used["net"] || used["net/http"]},
		{"the clock", used["clock"]},
	} {
		if one.by {
			all = append(all, one.what)
		}
	}
	switch last := len(all) - 1; {
	case last == 0:
		return "It touches " + all[0] + "."
	case last > 0:
		return "It touches " + strings.Join(all[:last], ", ") + " and " + all[last] + "."
	case used["io/fs"]:
		return "It reads no files but those of an fs.FS that it is given."
	}
	return "It touches nothing outside the program."
}
