package book

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/rogpeppe/go-internal/txtar"

	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/page"
)

// bounded is how long reading one hostile file may take, on a busy machine too.
const bounded = time.Minute

// refuses reads a handbook and demands that it comes to an end, and that each of
// its faults is one line about the file which says want; want "" demands that
// there is no fault.
func refuses(t *testing.T, fsys fs.FS, file, want string) *Book {
	t.Helper()
	type result struct {
		book   *Book
		faults diag.List
	}
	ended := make(chan result, 1)
	go func() {
		b, faults := Read(fsys, double())
		ended <- result{b, faults}
	}()
	var r result
	select {
	case r = <-ended:
	case <-time.After(bounded):
		t.Fatalf("%s: not read in %s", file, bounded)
	}
	if want == "" {
		if len(r.faults) > 0 {
			t.Errorf("%s: it is refused: %.500s", file, r.faults)
		}
		return r.book
	}
	if len(r.faults) == 0 {
		t.Fatalf("%s: it is accepted", file)
	}
	said := false
	for _, d := range r.faults {
		text := d.String()
		said = said || strings.Contains(text, want)
		if !strings.HasPrefix(d.File, file) || d.Want == "" && d.Remedy == "" || len(text) > 2000 {
			t.Errorf("%s: the fault %.300q", file, text)
		}
		if i := strings.IndexFunc(text, func(r rune) bool { return r < ' ' && r != '\t' || r == 0x7f || r == 0x2028 || r == 0x2029 }); i >= 0 {
			t.Errorf("%s: the fault holds a control character: %.300q", file, text)
		}
	}
	if !said {
		t.Errorf("%s: the faults are %.500s; want one with %q", file, r.faults, want)
	}
	return nil
}

// over is the small handbook with a file laid over it.
func over(t *testing.T, file string, text []byte) fstest.MapFS {
	t.Helper()
	files, _, _ := tree(t, "")
	files[file] = &fstest.MapFile{Data: text}
	return files
}

const hostileChapter, hostileDrawing = "content/water/20-in.md", "content/water/in.svg"

// generated are chapters that no editor saves: too large, too deep, or of bytes
// that a file of test data does not keep.
func generated() map[string]struct{ text, want string } {
	opening := "# Title\n\nSummary.\n\n"
	// whole fills a chapter to the most it may have, in one paragraph or in many.
	whole := func(s string) string { return opening + strings.Repeat(s, (page.MaxSize-100)/len(s)) + "x\n" }
	const paragraph, line = ":5:", ":5:1: the line opens "
	return map[string]struct{ text, want string }{
		"NUL":                   {opening + "a\x00b\n", ":5:2: there is a NUL byte here"},
		"byte order mark":       {"\uFEFF" + opening + "Text.\n", ""},
		"mark in the middle":    {opening + "a\uFEFFb.\n", ""},
		"UTF-16":                {"\xff\xfe#\x00 \x00T\x00", ":1:1: the byte 0xff is not UTF-8"},
		"returns alone":         {strings.ReplaceAll(opening, "\n", "\r"), ":1:8: there is the control character 0x0d here"},
		"not UTF-8":             {opening + "caf\xe9\n", ":5:4: the byte 0xe9 is not UTF-8"},
		"overlong UTF-8":        {opening + "\xc0\xbc\n", ":5:1: the byte 0xc0 is not UTF-8"},
		"surrogate":             {opening + "\xed\xa0\x80\n", ":5:1: the byte 0xed is not UTF-8"},
		"escape":                {opening + "\x1b[2J\n", ":5:1: there is the control character 0x1b here"},
		"10 MB in a line":       {opening + strings.Repeat("x", 10_000_000), ": the file has 10000019 bytes; expected at most "},
		"1 MB in a line":        {opening + strings.Repeat("x", 1_000_000) + "\n", ""},
		"1 MB of blank lines":   {opening + strings.Repeat("\n", 1_000_000), ""},
		"deep quotation":        {whole("> "), line},
		"deep list":             {whole("- "), line},
		"deep numbers":          {whole("1. "), line},
		"deep mixture":          {whole("> - 1) "), line},
		"deep by steps":         {opening + steps(700), ""},
		"quotations":            {opening + strings.Repeat(strings.Repeat(">", 50)+" x\n\n", 10_000), ""},
		"brackets":              {whole("["), paragraph},
		"images":                {whole("!["), paragraph},
		"emphasis":              {whole("*a _b "), paragraph},
		"stars":                 {whole("*"), paragraph},
		"backquotes":            {whole("` `` "), paragraph},
		"links of links":        {opening + strings.Repeat("[", 5_000) + "a" + strings.Repeat("](term:ph)", 5_000) + "\n", paragraph},
		"brackets, parens":      {whole("[a]("), paragraph},
		"many such paragraphs":  {whole(strings.Repeat("[a](", 950) + "\n\n"), ""},
		"emphasised paragraphs": {whole(strings.Repeat("*a _b ", 450) + "\n\n"), ""},
		"closing brackets":      {whole("]"), ""},
		"parentheses":           {whole("("), ""},
		"entities":              {whole("&amp;"), ""},
		"backslashes":           {whole("\\"), ""},
		"tags":                  {whole("<a "), paragraph},
		"broken tags":           {whole("<!-"), paragraph},
		"definitions":           {whole("[a]: b\n\n"), ""},
		"tildes":                {whole("~~~\n"), ""},
		"pipes":                 {opening + "|a|b|\n|-|-|\n" + strings.Repeat("|", 1_000_000) + "\n", ""},
		"nothing":               {"", ":1:1: "},
		"blanks":                {" \t \n", "the chapter has no title"},
		"a table of many cols":  {opening + "|" + strings.Repeat("a|", 5_000) + "\n|" + strings.Repeat("-|", 5_000) + "\n|" + strings.Repeat("b|", 5_000) + "\n", ""},
	}
}

// steps is a list in a list and so on, each in a line of its own.
func steps(count int) string {
	var b strings.Builder
	for i := range count {
		b.WriteString(strings.Repeat(" ", 2*i) + "- x\n")
	}
	return b.String()
}

func TestHostileChapters(t *testing.T) {
	if testing.Short() {
		t.Skip("the race detector takes ten times as long")
	}
	for name, c := range generated() {
		t.Run(name, func(t *testing.T) {
			files := over(t, hostileChapter, []byte(c.text))
			if c.want != "" {
				refuses(t, files, hostileChapter, c.want)
				return
			}
			harmless(t, refuses(t, files, hostileChapter, ""))
		})
	}
}

// harmless writes all chapters of a book and looks for what could run or load.
func harmless(t *testing.T, b *Book) {
	t.Helper()
	if b == nil {
		return
	}
	for _, c := range b.Chapters() {
		html, err := b.Body(c)
		if err != nil {
			t.Errorf("%s: %v", c.File, err)
		}
		for _, mark := range []string{"<script", "<iframe", "<object", "<style", "onload=", "onerror=", "javascript:", "<foreignObject"} {
			if strings.Contains(strings.ToLower(string(html)), strings.ToLower(mark)) {
				t.Errorf("%s: the page holds %s", c.File, mark)
			}
		}
	}
}

// TestHostileFiles lays each file of testdata/hostile over the small handbook. The
// comment of an archive is what a fault must say; without one the file is harmless.
func TestHostileFiles(t *testing.T) {
	for _, name := range archives(t, "testdata/hostile/*.txtar") {
		a, err := txtar.ParseFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if len(a.Files) == 0 {
			t.Errorf("%s holds no file", name)
		}
		for _, f := range a.Files {
			title, want, _ := strings.Cut(f.Name, " | ")
			t.Run(strings.TrimSuffix(filepath.Base(name), ".txtar")+"/"+title, func(t *testing.T) {
				file := strings.TrimSpace(string(a.Comment))
				b := refuses(t, over(t, file, f.Data), file, want)
				harmless(t, b)
			})
		}
	}
}

// TestHostileNames: names that a page could not have, or that two systems do not
// tell apart, are refused, with nothing in the line that moves a terminal.
func TestHostileNames(t *testing.T) {
	chapter := []byte("# Title\n\nSummary.\n")
	drawing := []byte(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 344 60"><path d="M0 0h9"/></svg>`)
	for _, c := range []struct{ name, want string }{
		{"content/water/20-In.md", "the chapter's name does not give its order"},
		{"content/water/20-FIRST.md", "the chapter's name does not give its order"},
		{"content/water/20-first.MD", "the chapter's name does not give its order"},
		{"content/water/20-a b.md", "the chapter's name does not give its order"},
		{"content/water/20-a\nb.md", "the chapter's name does not give its order"},
		{"content/water/20-a\x1b[2J.md", "the chapter's name does not give its order"},
		{"content/water/20-\u202egnp.md", "the chapter's name does not give its order"},
		{"content/water/20-caf\xe9.md", "the chapter's name does not give its order"},
		{"content/water/20-<script>.md", "the chapter's name does not give its order"},
		{"content/water/20-index.md", "the chapter's name does not give its order"},
		{"content/water/99999999999999999999-a.md", "the chapter's name does not give its order"},
		{"content/water/20-first.md", "the chapter has the name of another"},
		{"content/water/10-other.md", "the chapter has the number of another"},
		{"content/water/CON.txt", "the file is neither a chapter nor a picture"},
		{"content/Water/20-in.md", "the folder is not a part of the handbook"},
		{"content/evil/20-in.md", "the folder is not a part of the handbook"},
	} {
		if runtime.GOOS == "windows" && strings.ContainsAny(c.name, "\n\x1b<>") {
			continue // there is no such file
		}
		file := c.name
		if strings.Contains(c.want, "folder") {
			file = filepath.ToSlash(filepath.Dir(c.name))
		}
		if c.want == "the chapter has the number of another" {
			file = "content/water/10-" // of the two the later one by name
		}
		refuses(t, over(t, c.name, chapter), file, c.want)
	}
	for _, name := range []string{"a b.svg", "a\nb.svg", "a\x1b.svg", "<b>.svg", "\" onload=\".svg", "A.SVG"} {
		files := over(t, "content/water/"+name, drawing)
		harmless(t, refuses(t, files, "content/water", ""))
	}
	refuses(t, over(t, "content/water/caf\xe9.svg", drawing), "content/water/caf", "the picture cannot be read")
}

// TestHostileLinks: what a symbolic link points to is not read, whatever in the
// handbook is one.
func TestHostileLinks(t *testing.T) {
	outside := t.TempDir()
	const secret = "# Not for the handbook\n\nA secret.\n"
	for _, name := range []string{"secret.md", "secret.csv", "secret.svg", "ines.json"} {
		if err := os.WriteFile(filepath.Join(outside, name), []byte(secret), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []struct{ name, to string }{
		{"content/water/20-in.md", "secret.md"},
		{"content/water/in.svg", "secret.svg"},
		{"content/water/in.png", "none"},
		{"content/terms.md", "secret.md"},
		{"content/handbook.toml", "secret.md"},
		{"content/sources.json", "secret.md"},
		{"content/cautions.md", "secret.md"},
		{"content/ponds", ""},
		{"content/ponds/ines.json", "ines.json"},
		{"content/fish", ""},
		{"content/water/20-loop.md", "loop"},
		{"testdata/reference/other.csv", "secret.csv"},
		{"testdata/reference", ""},
	} {
		root := t.TempDir()
		files, _, _ := tree(t, "")
		if err := os.CopyFS(root, files); err != nil {
			t.Fatal(err)
		}
		link := filepath.Join(root, filepath.FromSlash(c.name))
		target := filepath.Join(outside, c.to)
		if c.to == "loop" {
			target = link
		}
		if err := os.RemoveAll(link); err != nil {
			t.Fatal(err)
		}
		if err := os.MkdirAll(filepath.Dir(link), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.Symlink(target, link); err != nil {
			t.Fatal(err)
		}
		tree, err := os.OpenRoot(root)
		if err != nil {
			t.Fatal(err)
		}
		b, faults := Read(tree.FS(), double())
		if len(faults) == 0 {
			t.Errorf("%s: a link is accepted", c.name)
		}
		said := false
		for _, d := range faults {
			said = said || strings.HasPrefix(d.File, c.name) || strings.HasPrefix(c.name, d.File)
			if text := d.String(); strings.ContainsAny(text, "\n\r") || strings.Contains(text, outside) || strings.Contains(text, "secret") && !strings.Contains(c.to, "secret") {
				t.Errorf("%s: the fault %q", c.name, text)
			}
		}
		if !said {
			t.Errorf("%s: no fault names it: %v", c.name, faults)
		}
		for _, chapter := range b.Chapters() {
			if bytes.Contains(chapter.Text, []byte("A secret")) {
				t.Errorf("%s: what it points to was read", c.name)
			}
		}
		if err := tree.Close(); err != nil {
			t.Error(err)
		}
	}
}

// TestHostileSize: a file that is larger than it says is not read whole.
func TestHostileSize(t *testing.T) {
	files := over(t, hostileDrawing, bytes.Repeat([]byte("<g>"), 10_000))
	refuses(t, files, hostileDrawing, "the picture has 30000 bytes; expected at most ")
	files = over(t, "content/terms.md", bytes.Repeat([]byte("x"), page.MaxSize+1))
	refuses(t, files, "content/", "the file has 1048577 bytes")
}
