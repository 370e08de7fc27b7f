package bundle

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"

	"github.com/evanw/esbuild/pkg/api"

	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/website/units"
)

// Where the theme keeps what a page is made of.
const (
	StyleFile       = "theme/style/leaf.css"
	ScriptFile      = "theme/script/main.ts"
	SingleFile      = "theme/script/single.ts"
	FinderFile      = "theme/script/find/main.ts"
	LogFile         = "theme/script/log/main.ts"
	BookStyleFile   = "theme/ebook.css"
	LogStyleFile    = "theme/style/log.css"
	PaperStyleFile  = "theme/style/paper.css"
	ThreadFile      = "theme/thread/reckoner.ts"
	KeeperFile      = "theme/script/keep/main.ts"
	UnitsFile       = "theme/script/units/main.ts"
	WorkerFile      = "theme/offline/worker.ts"
	IconFile        = "theme/icons/leaf.svg"
	TouchFile       = "theme/icons/leaf.png"
	TemplatesFolder = "theme/templates"
)

// Theme bundles the theme of the project in the folder root: the style sheet
// with all it imports, the script, the icon, and the templates as they are.
// Assets.Wasm is empty; see Wasm and WithWasm.
func Theme(root string) (Assets, diag.List) {
	var a Assets
	var faults diag.List
	css, errs := compile(root, StyleFile)
	faults = append(faults, errs...)
	script, errs := compile(root, ScriptFile)
	faults = append(faults, errs...)
	finder, errs := compile(root, FinderFile)
	faults = append(faults, errs...)
	log, errs := compile(root, LogFile)
	faults = append(faults, errs...)
	a.Single, errs = compile(root, SingleFile)
	faults = append(faults, errs...)
	a.BookStyle, errs = compile(root, BookStyleFile)
	faults = append(faults, errs...)
	logStyle, errs := compile(root, LogStyleFile)
	faults = append(faults, errs...)
	paper, errs := compile(root, PaperStyleFile)
	faults = append(faults, errs...)
	thread, errs := compile(root, ThreadFile)
	faults = append(faults, errs...)
	keeper, errs := compile(root, KeeperFile)
	faults = append(faults, errs...)
	turner, errs := compile(root, UnitsFile)
	faults = append(faults, errs...)
	a.Worker, errs = compile(root, WorkerFile)
	faults = append(faults, errs...)
	icon, errs := read(root, IconFile)
	faults = append(faults, errs...)
	touch, errs := read(root, TouchFile)
	faults = append(faults, errs...)
	a.Ground, errs = ground(css)
	faults = append(faults, errs...)
	a.Templates, errs = templates(os.DirFS(root))
	faults = append(faults, errs...)
	if len(faults) > 0 {
		return Assets{}, faults.Sorted()
	}
	a.CSS = a.add("leaf.css", css)
	a.Script = a.add("leaf.js", script)
	a.Finder = a.add("find.js", finder)
	a.Log = a.add("log.js", log)
	a.LogStyle = a.add("log.css", logStyle)
	a.Paper = a.add("paper.css", paper)
	a.Icon = a.add("leaf.svg", icon)
	a.Thread = a.add("reckon.js", thread)
	a.Keeper = a.add("keep.js", keeper)
	a.Units = a.add("units.js", turner)
	a.Touch = a.add("leaf.png", touch)
	return a, nil
}

var paperColour = regexp.MustCompile(`--paper:\s*(#[0-9a-f]{3,6})\b`)

// ground finds the colour of the paper in a compiled style sheet; the light
// scheme stands first. Without a style sheet there is another fault to report.
func ground(css []byte) (string, diag.List) {
	m := paperColour.FindSubmatch(css)
	if m == nil && css != nil {
		return "", diag.List{{Position: diag.Position{File: StyleFile}, Problem: "sets no colour --paper", Want: "one such as --paper: #f8f8f1", Remedy: "set it; home screens show it"}}
	}
	if m == nil {
		return "", nil
	}
	return string(m[1]), nil
}

// compile bundles and minifies one entry file. The script is a classic one, not
// a module: browsers refuse modules from a folder without a server.
func compile(root, entry string) ([]byte, diag.List) {
	abs, err := filepath.Abs(root)
	if err != nil {
		return nil, diag.List{{Position: diag.Position{File: entry}, Problem: err.Error()}}
	}
	if _, errs := read(root, entry); errs != nil {
		return nil, errs
	}
	r := api.Build(api.BuildOptions{
		EntryPoints:       []string{filepath.Join(abs, filepath.FromSlash(entry))},
		AbsWorkingDir:     abs,
		Bundle:            true,
		MinifyWhitespace:  true,
		MinifyIdentifiers: true,
		MinifySyntax:      true,
		Target:            api.ES2022,
		Format:            api.FormatIIFE,
		Charset:           api.CharsetUTF8,
		LegalComments:     api.LegalCommentsNone,
		Define:            units.Defines(),
		// A theme that reaches outside the project would not build elsewhere.
		TsconfigRaw: `{"compilerOptions":{"strict":true}}`,
		Outdir:      filepath.Join(abs, "out"),
		Write:       false,
		LogLevel:    api.LogLevelSilent,
	})
	// A warning of esbuild's is a mistake such as a misspelt property: it stops
	// the build like an error, because nobody reads warnings twice.
	faults := append(messages(entry, r.Errors), messages(entry, r.Warnings)...)
	if len(faults) > 0 {
		return nil, faults
	}
	if len(r.OutputFiles) != 1 {
		return nil, diag.List{{Position: diag.Position{File: entry}, Problem: "makes more than one file", Want: "one", Remedy: "import nothing but style sheets here, or scripts there"}}
	}
	return r.OutputFiles[0].Contents, nil
}

// messages turns esbuild's reports into diagnostics. Its lines count from 1 and
// its columns, in bytes, from 0.
func messages(entry string, all []api.Message) diag.List {
	var faults diag.List
	for _, m := range all {
		d := diag.Diagnostic{Position: diag.Position{File: entry}, Problem: lowerFirst(m.Text)}
		if l := m.Location; l != nil {
			d.Position = diag.Position{File: filepath.ToSlash(l.File), Line: l.Line, Column: l.Column + 1}
			if l.Suggestion != "" {
				d.Remedy = "write " + l.Suggestion
			}
		}
		for _, n := range m.Notes {
			if n.Location != nil && d.Related.File == "" {
				d.Related = diag.Position{File: filepath.ToSlash(n.Location.File), Line: n.Location.Line, Column: n.Location.Column + 1}
			}
		}
		faults.Add(d)
	}
	return faults
}

// lowerFirst makes a sentence the continuation of "file:line:col: ".
func lowerFirst(s string) string {
	if len(s) > 1 && s[1] >= 'a' && s[1] <= 'z' {
		return strings.ToLower(s[:1]) + s[1:]
	}
	return s
}

func read(root, file string) ([]byte, diag.List) {
	text, err := fs.ReadFile(os.DirFS(root), file)
	if err != nil {
		return nil, diag.List{unreadable(file, err)}
	}
	return text, nil
}

func unreadable(file string, err error) diag.Diagnostic {
	d := diag.Diagnostic{Position: diag.Position{File: file}}
	if errors.Is(err, fs.ErrNotExist) {
		d.Problem, d.Remedy = "is missing", "restore it from the repository"
		return d
	}
	d.Problem = "cannot be read"
	var p *fs.PathError
	if errors.As(err, &p) {
		d.Problem += ": " + p.Err.Error()
	}
	return d
}

// templates reads all of theme/templates.
func templates(root fs.FS) (map[string]string, diag.List) {
	entries, err := fs.ReadDir(root, TemplatesFolder)
	if err != nil {
		return nil, diag.List{unreadable(TemplatesFolder, err)}
	}
	texts := map[string]string{}
	var faults diag.List
	for _, e := range entries {
		if e.IsDir() || filepath.Ext(e.Name()) != ".html" {
			continue
		}
		text, err := fs.ReadFile(root, TemplatesFolder+"/"+e.Name())
		if err != nil {
			faults.Add(unreadable(TemplatesFolder+"/"+e.Name(), err))
			continue
		}
		texts[e.Name()] = string(text)
	}
	return texts, faults
}
