package book

import (
	"crypto/sha256"
	"errors"
	"io/fs"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"

	"mereleaf/calculators"
	"mereleaf/cmd/mereleaf/internal/calchtml"
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/figures"
	"mereleaf/cmd/mereleaf/internal/page"
	"mereleaf/cmd/mereleaf/internal/paths"
	"mereleaf/cmd/mereleaf/internal/ponds"
	"mereleaf/cmd/mereleaf/internal/verify/quantities"
)

// state is what a Book keeps to write its pages and to be read again quickly.
type state struct {
	pad      *calchtml.Pad
	memo     *memo[*fragment]
	config   configReading
	library  libraryReading
	ponds    pondsReading
	terms    *reading
	cautions *reading
	listings map[string]*listing  // of parts, by folder
	files    map[string]*reading  // of chapters, by file
	pictures map[string]pictureOf // by file
	binder   *quantities.Binder
	index    *index
	drawn    []quantities.Bound // quantities of drawings
	resolved map[*reading]*resolution
	warned   *resolution          // of the file of cautions
	lenders  map[string]*bindings // of chapters that others take sections of, by file
	faults   Faults
	root     fs.FS
	kept     *memo[any] // by checks of the figures and calculators
	tables   *tables
}

type configReading struct {
	config Config
	faults diag.List
}

type libraryReading struct {
	library *figures.Library
	faults  diag.List
}

type pondsReading struct {
	ponds  ponds.Ponds
	set    calculators.Set // as declared
	told   calculators.Set // with examples about the ponds
	faults diag.List
}

type pictureOf struct {
	picture Picture
	faults  diag.List
}

// reading is a parsed file. It is made once for one content of a file.
type reading struct {
	doc     *page.Document
	faults  diag.List
	digest  [sha256.Size]byte // of the text
	outline [sha256.Size]byte // of what other chapters may link to
	anchors map[string]bool   // of its headings

	terms       []page.Entry // of TermsFile
	unexplained diag.List

	cautions   []page.Warned // of CautionsFile
	incomplete diag.List
}

// Faults are all faults of a Book, by what is wrong.
type Faults struct {
	Files      diag.List // folders, names, handbook.toml, terms, pictures
	Text       diag.List // what a chapter shows by itself
	Library    diag.List // figure sets and sources
	References diag.List // links that lead nowhere
	Tables     diag.List // numbers of tables that differ from their figures, or have none
	Quantities diag.List // quantities of sentences that differ from their sources
	Blocks     diag.List // calculators that refuse what a block gives them
}

// All returns the faults together, sorted.
func (f Faults) All() diag.List {
	var all diag.List
	for _, l := range []diag.List{f.Files, f.Text, f.Library, f.References, f.Tables, f.Quantities, f.Blocks} {
		all = append(all, l...)
	}
	return all.Sorted()
}

// Faults returns the faults found while the Book was read.
func (b *Book) Faults() Faults { return b.state.faults }

// Read reads the handbook from the project's folder. It returns all faults of
// all files, sorted; the Book holds what could be read, and is never nil. Only
// a Book without faults may be published.
func Read(fsys fs.FS, set calculators.Set) (*Book, diag.List) {
	return assemble(fsys, &state{ponds: pondsReading{set: set}}, func(string) bool { return true })
}

// Reread reads the handbook again after the named files (or folders) changed.
// What did not change is not read again.
func (b *Book) Reread(fsys fs.FS, changed []string) (*Book, diag.List) {
	return assemble(fsys, b.state, func(file string) bool {
		for _, c := range changed {
			if file == c || strings.HasPrefix(file, c+"/") || strings.HasPrefix(c, file+"/") {
				return true
			}
		}
		return false
	})
}

// assemble builds a Book, taking from the state before what is not touched. A
// folder counts as touched if a file in it is.
func assemble(fsys fs.FS, before *state, touched func(string) bool) (*Book, diag.List) {
	s := &state{root: fsys, kept: before.kept, tables: before.tables, pad: before.pad, memo: before.memo, config: before.config, library: before.library, ponds: before.ponds, binder: before.binder, terms: before.terms, cautions: before.cautions, listings: map[string]*listing{}, files: map[string]*reading{}, pictures: map[string]pictureOf{}}
	if touched(ponds.Folder) {
		s.readPonds(fsys)
	}
	b := &Book{Ponds: s.ponds.ponds, Calculators: s.ponds.told, state: s}
	if touched("calculators") || touched(ponds.Folder) || touched(CautionsFile) { // fragments show the calculators' source and cautions
		s.memo, s.pad = newMemo[*fragment](), calchtml.New(b.Calculators, fsys)
	}
	if touched(figures.Folder) || touched(figures.SourcesFile) || touched("calculators") || touched(ponds.Folder) || touched(ConfigFile) {
		s.kept = newMemo[any]()
	}
	if touched(ConfigFile) {
		s.config.config, s.config.faults = ReadConfig(fsys)
	}
	if touched(figures.Folder) || touched(figures.SourcesFile) {
		s.library.library, s.library.faults = figures.Read(fsys)
		s.tables = newTables()
	}
	if touched(TermsFile) {
		s.terms = read(fsys, TermsFile)
	}
	if touched(CautionsFile) {
		s.cautions = read(fsys, CautionsFile)
		if _, err := fs.Stat(fsys, CautionsFile); errors.Is(err, fs.ErrNotExist) {
			s.cautions.faults = nil // what links to a caution, or has a hazard, misses it
		}
	}
	b.Config, b.Library = s.config.config, s.library.library
	if s.kept != before.kept {
		s.binder = quantities.New(b.Library, b.Calculators, b.Ponds, b.Config.Nouns)
	}
	files := s.list(fsys, b.Config, before, touched)
	s.readChapters(fsys, files.chapters, before, touched)
	s.readPictures(fsys, files.pictures, before, touched)
	b.arrange(files.chapters)
	s.faults = Faults{Files: slices.Concat(files.faults, s.config.faults, s.ponds.faults), Library: s.library.faults}
	s.gatherText(files)
	b.Terms, s.faults.Files = s.readTerms(s.faults.Files)
	b.Cautions, s.faults.Files = s.readCautions(s.faults.Files)
	s.index = b.newIndex()
	b.readUrgent()
	b.readCards()
	b.resolve(before)
	return b, s.faults.All()
}

// readPonds reads the ponds and tells the calculators' examples of them.
func (s *state) readPonds(fsys fs.FS) {
	s.ponds.ponds, s.ponds.faults = ponds.Read(fsys, s.ponds.set)
	told, wrong := s.ponds.set.With(s.ponds.ponds.Or(s.ponds.set))
	s.ponds.told = told
	for _, what := range wrong {
		s.ponds.faults.Add(diag.Diagnostic{Position: diag.Position{File: ponds.Folder}, Problem: what, Remedy: "add what the calculator's example needs, or correct the example"})
	}
}

// read reads and parses a file.
func read(fsys fs.FS, file string) *reading {
	text, fault := readText(fsys, file)
	if fault != nil {
		doc, _ := page.Parse(file, nil)
		return &reading{doc: doc, faults: diag.List{*fault}}
	}
	r := &reading{digest: sha256.Sum256(text)}
	switch file {
	case TermsFile:
		r.doc, r.faults, r.terms, r.unexplained = page.ParseTerms(file, text)
	case CautionsFile:
		r.doc, r.faults, r.cautions, r.incomplete = page.ParseCautions(file, text)
	default:
		r.doc, r.faults = page.Parse(file, text)
	}
	r.outline, r.anchors = outline(r.doc), anchors(r.doc)
	return r
}

// outline digests what other chapters may show of a chapter or link to.
func outline(doc *page.Document) [sha256.Size]byte {
	h := sha256.New()
	h.Write([]byte(doc.Title))
	for _, heading := range doc.Headings {
		h.Write([]byte("\x00" + heading.Anchor))
	}
	return [sha256.Size]byte(h.Sum(nil))
}

func (s *state) readChapters(fsys fs.FS, files []chapterFile, before *state, touched func(string) bool) {
	readings := make([]*reading, len(files))
	parallel(len(files), func(i int) {
		file := files[i].file
		if r, ok := before.files[file]; ok && !touched(file) {
			readings[i] = r
			return
		}
		r := read(fsys, file)
		if old, ok := before.files[file]; ok && old.digest == r.digest && len(r.faults) == 0 {
			r = old // saved without a change
		}
		readings[i] = r
	})
	for i, r := range readings {
		s.files[files[i].file] = r
	}
}

func (s *state) readPictures(fsys fs.FS, files []pictureFile, before *state, touched func(string) bool) {
	for _, f := range files {
		if p, ok := before.pictures[f.file]; ok && !touched(f.file) {
			s.pictures[f.file] = p
			continue
		}
		picture, faults := readPicture(fsys, f)
		s.pictures[f.file] = pictureOf{picture, faults}
	}
}

// gatherText adds the faults of chapters and pictures in the order of the files.
func (s *state) gatherText(files *listing) {
	for _, f := range files.chapters {
		s.faults.Text = append(s.faults.Text, s.files[f.file].faults...)
	}
	s.faults.Text = append(append(s.faults.Text, s.terms.faults...), s.cautions.faults...)
	for _, f := range files.pictures {
		s.faults.Files = append(s.faults.Files, s.pictures[f.file].faults...)
	}
}

// arrange puts the chapters into their parts, with their references, neighbours
// and places.
func (b *Book) arrange(files []chapterFile) {
	for _, p := range b.Config.Parts {
		b.Parts = append(b.Parts, &Part{Folder: p.Folder, Letter: p.Letter, Title: p.Title, About: p.About})
	}
	for _, f := range files {
		p := b.Parts[f.part]
		doc := b.state.files[f.file].doc
		p.Chapters = append(p.Chapters, &Chapter{
			File: f.file, Part: p, Number: f.number, Slug: f.slug, Place: paths.Chapter(p.Folder, f.slug),
			Title: doc.Title, Summary: doc.Summary, Text: doc.Text, Doc: doc,
		})
	}
	var last *Chapter
	for _, p := range b.Parts {
		sortChapters(p.Chapters)
		for i, c := range p.Chapters {
			c.Ref = p.Letter + " " + strconv.Itoa(i+1)
			c.Prev = last
			if last != nil {
				last.Next = c
			}
			last = c
		}
	}
	for _, p := range b.state.pictures {
		if len(p.faults) == 0 {
			b.Pictures = append(b.Pictures, p.picture)
		}
	}
	sortPictures(b.Pictures)
}

// Chapters returns all chapters in the order of the handbook.
func (b *Book) Chapters() []*Chapter {
	var all []*Chapter
	for _, p := range b.Parts {
		all = append(all, p.Chapters...)
	}
	return all
}

// parallel calls f(0) to f(n-1) on all processors.
func parallel(n int, f func(int)) {
	var next atomic.Int64
	var wait sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		wait.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				f(i)
			}
		})
	}
	wait.Wait()
}
