package book

import (
	"errors"
	"io"
	"io/fs"
	"path"
	"strconv"
	"strings"

	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/page"
	"mereleaf/cmd/mereleaf/internal/ponds"
)

// readText reads a file of at most page.MaxSize bytes. A larger one is refused
// without being read whole, whatever size the file system states.
func readText(fsys fs.FS, name string) ([]byte, *diag.Diagnostic) {
	fail := func(err error) *diag.Diagnostic {
		d := diag.Diagnostic{Position: diag.Position{File: name}, Problem: "the file cannot be read: " + reason(err), Remedy: "make it readable"}
		if errors.Is(err, fs.ErrNotExist) {
			d.Problem, d.Remedy = "the file is missing", "create it"
		}
		return &d
	}
	f, err := fsys.Open(name)
	if err != nil {
		return nil, fail(err)
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, fail(err)
	}
	if info.Size() > page.MaxSize {
		d := page.TooLarge(name, info.Size())
		return nil, &d
	}
	text, err := readUpTo(f, info.Size(), page.MaxSize+1)
	if err != nil {
		return nil, fail(err)
	}
	if len(text) > page.MaxSize {
		d := page.TooLarge(name, int64(len(text)))
		return nil, &d
	}
	return text, nil
}

// readUpTo reads a file that states a size, but no more than limit bytes.
func readUpTo(f io.Reader, size int64, limit int) ([]byte, error) {
	text := make([]byte, 0, size+1)
	for len(text) < limit {
		if len(text) == cap(text) { // larger than stated
			text = append(text, 0)[:len(text)]
		}
		n, err := f.Read(text[len(text):min(cap(text), limit)])
		text = text[:len(text)+n]
		if err == io.EOF {
			break
		}
		if err != nil {
			return nil, err
		}
	}
	return text, nil
}

// reason is the bare cause of a file error, without the machine's paths.
func reason(err error) string {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err.Error()
	}
	return err.Error()
}

// listing is what stands in content/, or in one part of it.
type listing struct {
	chapters []chapterFile
	pictures []pictureFile
	faults   diag.List
}

func (l *listing) add(part *listing) {
	l.chapters = append(l.chapters, part.chapters...)
	l.pictures = append(l.pictures, part.pictures...)
	l.faults = append(l.faults, part.faults...)
}

type chapterFile struct {
	file   string
	part   int // index in Config.Parts
	number int
	slug   string
}

type pictureFile struct {
	file string
	size int64
}

func (l *listing) fault(file, problem, want, remedy string) {
	l.faults.Add(diag.Diagnostic{Position: diag.Position{File: file}, Problem: problem, Want: want, Remedy: remedy})
}

// list finds the chapters and pictures of all parts, each folder in the order
// of its names. It looks again only into parts that are touched, as into all of
// them if their order may have changed.
func (s *state) list(fsys fs.FS, c Config, before *state, touched func(string) bool) *listing {
	l := &listing{}
	folders := map[string]int{}
	for i, p := range c.Parts {
		folders[p.Folder] = i
	}
	for _, e := range l.entries(fsys, Folder) {
		file := path.Join(Folder, e.Name())
		part, known := folders[e.Name()]
		switch {
		case e.IsDir() && known:
			of, ok := before.listings[file]
			if !ok || touched(file) || touched(ConfigFile) {
				of = &listing{}
				of.part(fsys, file, part)
			}
			s.listings[file] = of
			l.add(of)
		case e.IsDir() && file == ponds.Folder:
		case e.IsDir():
			l.fault(file, "the folder is not a part of the handbook", "one of the folders named in "+ConfigFile, "add a [[part]] for it, or move it away")
		case known:
			l.fault(file, "the part is a file", "a folder", "make it a folder")
		case file != ConfigFile && file != TermsFile && file != CautionsFile && file != ChangesFile && e.Name() != "sources.json":
			l.fault(file, "the file has no place in the handbook", "handbook.toml, terms.md, cautions.md, changes.md, sources.json and the parts' folders", "move it away")
		}
	}
	if len(l.chapters) == 0 && len(l.faults) == 0 {
		l.fault(Folder, "the handbook has no chapters", "files such as content/water/10-pond-volume.md", "write one")
	}
	return l
}

// entries lists a folder without the files that editors and systems leave.
// Links are refused: what they point to may lie outside the project.
func (l *listing) entries(fsys fs.FS, folder string) []fs.DirEntry {
	info, err := fs.Lstat(fsys, folder)
	if err == nil && info.Mode()&fs.ModeSymlink != 0 {
		l.refuseLink(folder)
		return nil
	}
	entries, err := fs.ReadDir(fsys, folder)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		l.fault(folder, "the folder is missing", "the handbook's text", "create it, or run in the project's folder")
		return nil
	case err != nil:
		l.fault(folder, "the folder cannot be read: "+reason(err), "", "make it readable")
		return nil
	}
	kept := entries[:0]
	for _, e := range entries {
		name := path.Join(folder, e.Name())
		switch {
		case strings.HasPrefix(e.Name(), ".") || strings.HasSuffix(e.Name(), "~"):
		case e.Type()&fs.ModeSymlink != 0:
			l.refuseLink(name)
		case !e.IsDir() && !e.Type().IsRegular():
			l.fault(name, "this is not a plain file", "a file", "move it away")
		default:
			kept = append(kept, e)
		}
	}
	return kept
}

func (l *listing) refuseLink(name string) {
	l.fault(name, "this is a symbolic link, which may lead out of the project", "a file or folder", "put a copy in its place")
}

func (l *listing) part(fsys fs.FS, folder string, part int) {
	slugs, numbers := map[string]string{}, map[int]string{}
	for _, e := range l.entries(fsys, folder) {
		file := path.Join(folder, e.Name())
		switch ext := strings.ToLower(path.Ext(e.Name())); {
		case e.IsDir():
			l.fault(file, "there is a folder in a part", "chapters and pictures", "move its files up")
		case ext == ".svg" || ext == ".png" || ext == ".jpg" || ext == ".jpeg":
			l.picture(e, file)
		case ext != ".md":
			l.fault(file, "the file is neither a chapter nor a picture", "NN-name.md, .svg, .png or .jpg", "move it away")
		default:
			l.chapter(file, part, slugs, numbers)
		}
	}
}

func (l *listing) chapter(file string, part int, slugs map[string]string, numbers map[int]string) {
	number, slug, ok := splitName(path.Base(file))
	if !ok {
		l.fault(file, "the chapter's name does not give its order", "two digits and a name, such as 20-ammonia.md", "rename it")
		return
	}
	if other, twice := slugs[slug]; twice {
		l.fault(file, "the chapter has the name of another", "each name once in a part", "rename it or "+other)
		return
	}
	if other, twice := numbers[number]; twice {
		l.fault(file, "the chapter has the number of another", "each number once in a part", "give it another number than "+other)
		return
	}
	slugs[slug], numbers[number] = file, file
	l.chapters = append(l.chapters, chapterFile{file, part, number, slug})
}

// splitName takes "20-ammonia.md" apart. "index" would take the place of the
// part's own leaf.
func splitName(base string) (number int, slug string, ok bool) {
	digits, slug, ok := strings.Cut(strings.TrimSuffix(base, ".md"), "-")
	if !ok || len(digits) < 2 || len(digits) > 4 || strings.Trim(digits, "0123456789") != "" || !legalName(slug) || slug == "index" {
		return 0, "", false
	}
	number, err := strconv.Atoi(digits)
	return number, slug, err == nil
}

func (l *listing) picture(e fs.DirEntry, file string) {
	info, err := e.Info()
	if err != nil {
		l.fault(file, "the picture cannot be read: "+reason(err), "", "make it readable")
		return
	}
	l.pictures = append(l.pictures, pictureFile{file, info.Size()})
}
