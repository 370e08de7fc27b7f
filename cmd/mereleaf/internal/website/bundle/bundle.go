// Package bundle turns the theme's TypeScript and style sheets and the
// calculators' Go code into the files that a page loads.
//
// Every file is named after a hash of its content, so that a browser may keep
// it for ever, and the same sources give the same bytes on any machine.
//
// It touches files and other programs.
package bundle

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"maps"
	"path"
	"slices"
	"strings"
)

// Assets are the files that pages load, and the templates they are made from.
type Assets struct {
	CSS      string // path of the style sheet in the edition: "assets/leaf-1a2b3c4d.css"
	Script   string // path of the script, "assets/main-….js"; "" if the theme has none
	Wasm     string // path of the calculators' module, "assets/reckon-….wasm"; "" without one
	Thread   string // path of the script of the thread that the module lives in, "assets/reckon-….js"
	Icon     string // path of the icon, "assets/leaf-….svg"
	Keeper   string // path of the script that has the edition kept offline, "assets/keep-….js"
	Units    string // path of the script that shows other units, "assets/units-….js"
	Touch    string // path of the icon for home screens, "assets/leaf-….png"
	Paper    string // path of the style of pages that are for paper, "assets/paper-….css"
	Find     string // path of the index of words, "assets/find-….json"; "" without one
	Finder   string // path of the script that looks into it, "assets/find-….js"
	LogStyle string // path of its style sheet, "assets/log-….css"
	Log      string // path of the script of the log of readings, "assets/log-….js"

	// Paths of the web app manifest and the offline worker, which know all files
	// and so are written last; "" where a browser is to keep nothing.
	Manifest, Offline string

	Files     map[string][]byte // everything above by its path
	Single    []byte            // script of the single file, which stands in it
	BookStyle []byte            // style sheet of the e-book
	Worker    []byte            // script of the offline worker
	Ground    string            // CSS colour of the light scheme's paper, "#f8f8f1"
	Templates map[string]string // file name in theme/templates → its text
}

// WithWasm returns the assets with the calculators' module added.
func (a Assets) WithWasm(module []byte) Assets {
	a.Files = maps.Clone(a.Files)
	a.Wasm = a.add("reckon.wasm", module)
	return a
}

// WithFind returns the assets with an index of words in the place of another.
func (a Assets) WithFind(index []byte) Assets {
	a.Files = maps.Clone(a.Files)
	delete(a.Files, a.Find)
	a.Find = a.add("find.json", index)
	return a
}

// Key changes whenever a page made with these assets may change, but for the one
// leaf that loads the index of words, which changes with every chapter.
func (a Assets) Key() string {
	h := sha256.New()
	for _, s := range []string{a.CSS, a.Script, a.Wasm, a.Thread, a.Icon, a.Keeper, a.Units, a.Touch, a.Manifest, a.Offline, a.Paper} {
		h.Write([]byte(s + "\n"))
	}
	for _, name := range slices.Sorted(maps.Keys(a.Templates)) {
		h.Write([]byte(name + "\n" + a.Templates[name] + "\x00"))
	}
	return hex.EncodeToString(h.Sum(nil)[:16])
}

// add keeps a file under a name that carries its hash and returns the path.
func (a *Assets) add(name string, content []byte) string {
	if a.Files == nil {
		a.Files = map[string][]byte{}
	}
	sum := sha256.Sum256(content)
	ext := path.Ext(name)
	hashed := "assets/" + strings.TrimSuffix(name, ext) + "-" + hex.EncodeToString(sum[:4]) + ext
	a.Files[hashed] = content
	return hashed
}

// Size is how heavy a file is.
type Size struct {
	Path      string
	Raw, Gzip int // bytes
}

// Sizes lists the files by path, with their sizes as they are and compressed as
// a server sends them.
func (a Assets) Sizes() []Size {
	var sizes []Size
	for _, p := range slices.Sorted(maps.Keys(a.Files)) {
		sizes = append(sizes, Size{p, len(a.Files[p]), Gzipped(a.Files[p])})
	}
	return sizes
}

// Gzipped returns the count of bytes of content after compression by gzip at
// its best level.
func Gzipped(content []byte) int {
	var b bytes.Buffer
	// The level is legal and a Buffer cannot fail, so neither can this.
	w, _ := gzip.NewWriterLevel(&b, gzip.BestCompression)
	_, _ = w.Write(content)
	_ = w.Close()
	return b.Len()
}
