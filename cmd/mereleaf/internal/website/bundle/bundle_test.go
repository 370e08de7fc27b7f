package bundle

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"mereleaf/cmd/mereleaf/internal/diag"
)

// write makes a project of the given files in a temporary folder.
func write(t *testing.T, files map[string]string) string {
	t.Helper()
	root := t.TempDir()
	for name, text := range files {
		path := filepath.Join(root, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return root
}

// smallTheme is a theme without fault, to spoil one file at a time.
func smallTheme() map[string]string {
	return map[string]string{
		StyleFile:                      "@import \"./ground.css\";\nmain { color: var(--ink) }\n",
		"theme/style/ground.css":       ":root { --ink: #123; --paper: #f8f8f1 }\n",
		KeeperFile:                     "console.log(4);\n",
		UnitsFile:                      "console.log(5);\n",
		WorkerFile:                     "console.log(3);\n",
		ThreadFile:                     "console.log(5);\n",
		TouchFile:                      "picture",
		ScriptFile:                     "import { greet } from \"./greet.ts\";\ngreet(\"pond\");\n",
		BookStyleFile:                  "p { margin: 0 }\n",
		PaperStyleFile:                 "p { margin: 0 }\n",
		SingleFile:                     "console.log(1);\n",
		FinderFile:                     "console.log(2);\n",
		LogFile:                        "console.log(5);\n",
		LogStyleFile:                   "p { margin: 0 }\n",
		"theme/script/greet.ts":        "export function greet(name: string): void { console.log(name) }\n",
		IconFile:                       "<svg xmlns=\"http://www.w3.org/2000/svg\"/>\n",
		TemplatesFolder + "/leaf.html": "<p>{{.Title}}</p>\n",
	}
}

func TestThemeBundlesEverything(t *testing.T) {
	a, faults := Theme(write(t, smallTheme()))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	css := string(a.Files[a.CSS])
	if !strings.Contains(css, "--ink: #123") || !strings.Contains(css, "main{") {
		t.Errorf("style sheet %q lacks its import or its own rule", css)
	}
	script := string(a.Files[a.Script])
	if !strings.Contains(script, "console.log") || strings.Contains(script, "import") || strings.Contains(script, ": string") {
		t.Errorf("script %q is not one plain script", script)
	}
	if a.Templates["leaf.html"] != "<p>{{.Title}}</p>\n" {
		t.Errorf("templates = %q", a.Templates)
	}
	if a.Wasm != "" {
		t.Errorf("Wasm = %q before the module is built", a.Wasm)
	}
}

func TestNamesChangeWithContentOnly(t *testing.T) {
	files := smallTheme()
	first, _ := Theme(write(t, files))
	again, _ := Theme(write(t, files)) // another folder, same content
	if first.CSS != again.CSS || first.Script != again.Script || first.Key() != again.Key() {
		t.Errorf("the folder shows in the names: %v and %v", first, again)
	}
	for path, content := range first.Files {
		if !bytes.Equal(content, again.Files[path]) {
			t.Errorf("%s differs between two folders", path)
		}
	}
	files["theme/style/ground.css"] = ":root { --ink: #321; --paper: #f8f8f1 }\n"
	changed, _ := Theme(write(t, files))
	if changed.CSS == first.CSS || changed.Key() == first.Key() {
		t.Error("an imported sheet changed, the name did not")
	}
	if changed.Script != first.Script {
		t.Error("a sheet changed the script's name")
	}
	files[TemplatesFolder+"/leaf.html"] = "<p>{{.Ref}}</p>"
	if other, _ := Theme(write(t, files)); other.Key() == changed.Key() {
		t.Error("a template changed, the key did not")
	}
}

func TestThemeFaults(t *testing.T) {
	for _, test := range []struct {
		name, file, text, want string
	}{
		{"script", ScriptFile, "let pond = 1;\nlet pond = 2;\n", ScriptFile + ":2:5: "},
		{"imported script", "theme/script/greet.ts", "export function greet(name: string {\n", "theme/script/greet.ts:1:36: "},
		{"import not there", ScriptFile, "import \"./tide.ts\";\n", ScriptFile + ":1:8: "},
		{"style", "theme/style/ground.css", ":root {\n  --ink: #123;\n}}\n", "theme/style/ground.css:3:2: "},
		{"misspelt property", "theme/style/ground.css", "main { heigth: 1px }\n", "theme/style/ground.css:1:8: "},
		{"style not there", StyleFile, "@import \"./sky.css\";\n", StyleFile + ":1:9: "},
		{"no icon", IconFile, "", IconFile + ": is missing; restore it"},
		{"no entry", StyleFile, "", StyleFile + ": is missing; restore it"},
	} {
		t.Run(test.name, func(t *testing.T) {
			files := smallTheme()
			if files[test.file] = test.text; test.text == "" {
				delete(files, test.file)
			}
			a, faults := Theme(write(t, files))
			if len(faults) == 0 || !strings.HasPrefix(faults[0].String(), test.want) {
				t.Fatalf("got %v, want %s…", faults, test.want)
			}
			if len(a.Files) > 0 {
				t.Error("a faulty theme gives files")
			}
		})
	}
}

func TestThemeReportsEveryFile(t *testing.T) {
	files := smallTheme()
	files[StyleFile] = "main { heigth: 1px }"
	files[ScriptFile] = "let let = 1"
	delete(files, IconFile)
	_, faults := Theme(write(t, files))
	got := map[string]bool{}
	for _, f := range faults {
		got[f.File] = true
	}
	if !got[StyleFile] || !got[ScriptFile] || !got[IconFile] {
		t.Errorf("one run tells only %v", faults)
	}
}

func TestSizes(t *testing.T) {
	var a Assets
	text := bytes.Repeat([]byte("water "), 1000)
	p := a.add("leaf.css", text)
	sizes := a.Sizes()
	if len(sizes) != 1 || sizes[0].Path != p || sizes[0].Raw != len(text) {
		t.Fatalf("sizes = %v", sizes)
	}
	if sizes[0].Gzip <= 0 || sizes[0].Gzip >= len(text)/10 {
		t.Errorf("repeated text of %d bytes compresses to %d", len(text), sizes[0].Gzip)
	}
}

// moduleFiles is the smallest project with a module to build.
func moduleFiles(code string) map[string]string {
	return map[string]string{"go.mod": "module mereleaf\n\ngo 1.26\n", WasmFolder + "/main.go": code}
}

const emptyModule = "package main\n\nfunc main() {}\n"

func TestWasmIsAReactorWithTheSameBytesAnywhere(t *testing.T) {
	first, err := Wasm(t.Context(), write(t, moduleFiles(emptyModule+"\nvar kept = struct{ Help string }{Help: \"a word\"}\n")), "")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.HasPrefix(first, []byte("\x00asm")) || !bytes.Contains(first, []byte("_initialize")) {
		t.Error("not a WebAssembly reactor")
	}
	again, err := Wasm(t.Context(), write(t, moduleFiles(emptyModule+"\nvar kept = struct{ Help string }{Help: \"a word\"}\n")), "")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(first, again) {
		t.Error("the folder shows in the module")
	}
	a := Assets{}.WithWasm(first)
	if !bytes.Equal(a.Files[a.Wasm], first) || !strings.HasSuffix(a.Wasm, ".wasm") {
		t.Errorf("module kept as %q", a.Wasm)
	}
}

func TestWasmKeepsTheCompilersPositions(t *testing.T) {
	_, err := Wasm(t.Context(), write(t, moduleFiles("package main\n\nfunc main() {\n\tvar depth int = \"deep\"\n}\n")), "")
	var faults diag.List
	if !errors.As(err, &faults) {
		t.Fatalf("err = %v, want a diag.List", err)
	}
	for _, f := range faults {
		if f.File != WasmFolder+"/main.go" || f.Line != 4 || f.Column == 0 {
			t.Errorf("fault at %v", f.Position)
		}
	}
}

func TestWasmWithoutGo(t *testing.T) {
	root := write(t, moduleFiles(emptyModule))
	t.Setenv("PATH", t.TempDir())
	_, err := Wasm(t.Context(), root, "")
	if err == nil || strings.Contains(err.Error(), "\n") || !strings.Contains(err.Error(), "install Go") {
		t.Errorf("err = %v, want one line that says to install Go", err)
	}
}

func TestWasmWithoutItsFolder(t *testing.T) {
	_, err := Wasm(t.Context(), write(t, map[string]string{"go.mod": "module mereleaf\n\ngo 1.26\n"}), "")
	if err == nil || strings.Contains(err.Error(), "\n") || !strings.HasPrefix(err.Error(), WasmFolder+": ") {
		t.Errorf("err = %v, want one line about %s", err, WasmFolder)
	}
}
