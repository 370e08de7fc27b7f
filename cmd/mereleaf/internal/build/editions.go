package build

import (
	"maps"
	"os"
	"path/filepath"
	"slices"
	"time"

	"mereleaf/cmd/mereleaf/internal/export/ebook"
	"mereleaf/cmd/mereleaf/internal/export/onefile"
	"mereleaf/cmd/mereleaf/internal/paths"
	"mereleaf/cmd/mereleaf/internal/website"
)

// The editions beside the folder of the web edition.
const (
	SingleName = "mereleaf.html"
	BookName   = "mereleaf.epub"
)

// File is an edition in one file.
type File struct {
	Path  string
	Bytes int
}

// editions makes out of the leaves that are staged the page for paper, and what
// stands beside the web edition: the single file and the e-book.
func (s *stage) editions(p *Press, b *Build) ([]File, error) {
	texts := map[string][]byte{}
	for _, page := range b.Pages {
		text, err := os.ReadFile(filepath.Join(s.folder, filepath.FromSlash(page.Path)))
		if err != nil {
			return nil, err
		}
		texts[page.Path] = text
	}
	start := time.Now()
	whole, err := b.Whole(func(path string) []byte { return texts[path] })
	if err != nil {
		return nil, err
	}
	for _, name := range slices.Sorted(maps.Keys(whole)) {
		if err := s.write(name, whole[name]); err != nil {
			return nil, err
		}
	}
	p.log.done(PhasePaper, start)
	var files []File
	for _, edition := range []struct {
		name, phase string
		make        func(*Build, map[string][]byte) ([]byte, error)
	}{{SingleName, PhaseSingle, packSingle}, {BookName, PhaseBook, bind}} {
		start := time.Now()
		content, err := edition.make(b, texts)
		if err != nil {
			return nil, err
		}
		if err := s.writeBeside(edition.name, content); err != nil {
			return nil, err
		}
		files = append(files, File{filepath.Join(filepath.Dir(s.out), edition.name), len(content)})
		p.log.done(edition.phase, start)
	}
	return files, nil
}

// Whole returns the page of the whole handbook for paper, with its style, by
// their paths in the edition. leaf returns the other pages, as they are set.
func (b *Build) Whole(leaf func(path string) []byte) (map[string][]byte, error) {
	page, style, err := website.Whole(b.Book, b.Assets, leaf)
	if err != nil {
		return nil, err
	}
	return map[string][]byte{paths.Print: page, paths.PrintStyle: style}, nil
}

func packSingle(b *Build, texts map[string][]byte) ([]byte, error) {
	o := onefile.Book{Title: b.Book.Config.Title, Language: b.Book.Config.Language, Assets: b.Assets, Files: b.Files()}
	for _, page := range b.Pages {
		// One stands for addresses, which a file has none of, one is for paper.
		if page.Path != website.Missing && page.Path != paths.Cards {
			o.Leaves = append(o.Leaves, onefile.Leaf{Path: page.Path, HTML: texts[page.Path]})
		}
	}
	return onefile.Write(o)
}

// bind puts the leaves into reading order: the parts with their chapters, then
// the words, the cautions, the calculators, the figures and the sources.
func bind(b *Build, texts map[string][]byte) ([]byte, error) {
	c := b.Book.Config
	e := ebook.Book{Title: c.Title, Subtitle: c.Subtitle, Club: c.Club, Language: c.Language, Issued: c.Issued, Style: b.Assets.BookStyle, Files: map[string][]byte{}}
	if e.Issued == "" {
		e.Issued = "1970-01-01"
	}
	add := func(path, under string, plain bool) {
		e.Pages = append(e.Pages, ebook.Page{Path: path, HTML: texts[path], Under: under, Plain: plain})
	}
	add(paths.Cover, "", false)
	for _, part := range b.Book.Parts {
		add(paths.Part(part.Folder), "", false)
		for _, chapter := range part.Chapters {
			add(chapter.Place, paths.Part(part.Folder), false)
		}
	}
	add(paths.Terms, "", false)
	if len(b.Book.Cautions) > 0 {
		add(paths.Cautions, "", false)
	}
	if len(b.Book.Ponds) > 0 {
		add(paths.Ponds, "", false)
	}
	add(paths.Reckon, "", false)
	for _, calculator := range b.Book.Calculators.All() {
		add(paths.Calculator(calculator.ID), paths.Reckon, false)
	}
	add(paths.Figures, "", false)
	for _, set := range b.Book.Library.Sets {
		add(paths.FigureSet(set.Name), paths.Figures, true) // too many for a table of contents; their list leads to them
	}
	add(paths.Sources, "", false)
	for _, u := range b.Book.Urgent {
		e.Tasks = append(e.Tasks, ebook.Link{To: u.Place, Title: u.Say})
	}
	for _, picture := range b.Book.Pictures {
		if picture.Drawing == nil {
			e.Files[picture.Place] = picture.Data
		}
	}
	return ebook.Write(e)
}
