package book

import (
	"crypto/sha256"
	"maps"
	"path"
	"slices"
	"strings"

	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/figures"
	"mereleaf/cmd/mereleaf/internal/page"
	"mereleaf/cmd/mereleaf/internal/paths"
	"mereleaf/cmd/mereleaf/internal/verify/quantities"
)

// resolution is what a file's links, tables and blocks come to, in three parts
// that stay valid as long as what they depend on does.
type resolution struct {
	place string // of the leaf
	key   string // of all of it
	*bindings
	*links
	*fragments
}

// bindings depend on the text and on all that quantities are bound to.
type bindings struct {
	binder     *quantities.Binder
	tables     [][][]figures.Bound
	quantities []quantities.Bound // for each reference; zero if it is none
	shown      [sha256.Size]byte  // of what a leaf shows of them
	faults     diag.List          // of the tables
	misquoted  diag.List          // quantities of sentences that differ from their sources
}

// links depend on the text, its place, the index, the pictures and all that
// quantities are bound to.
type links struct {
	index  [sha256.Size]byte // its digest
	links  []page.Link
	images []page.Image
	warned []page.Link // what the links of the file of cautions come to, in a chapter that shows some in full

	borrowed []*borrowed // sections of other chapters that the links take, by index; nil for other links
	faults   diag.List
}

// fragments depend on the text, its place and the calculators.
type fragments struct {
	memo   *memo[*fragment]
	html   []string
	shown  [sha256.Size]byte // of html
	faults diag.List
}

// resolve resolves every chapter and the terms.
func (b *Book) resolve(before *state) {
	s := b.state
	chapters := b.Chapters()
	type job struct {
		reading *reading
		place   string
	}
	jobs := make([]job, 0, len(chapters)+1)
	for _, c := range chapters {
		jobs = append(jobs, job{s.files[c.File], c.Place})
	}
	jobs = append(jobs, job{s.terms, paths.Terms})
	// Chapters show cautions in full and take sections of others, so these are
	// resolved before.
	s.warned = b.resolveOne(s.cautions, paths.Cautions, before.resolved[s.cautions])
	s.lenders = map[string]*bindings{}
	for _, file := range b.lenders() {
		s.lenders[file] = b.bindingsOf(s.files[file], before.resolved[s.files[file]])
	}
	done := make([]*resolution, len(jobs))
	parallel(len(jobs), func(i int) {
		done[i] = b.resolveOne(jobs[i].reading, jobs[i].place, before.resolved[jobs[i].reading])
	})
	s.resolved = make(map[*reading]*resolution, len(jobs)+1)
	jobs, done = append(jobs, job{s.cautions, paths.Cautions}), append(done, s.warned)
	for i, r := range done {
		s.resolved[jobs[i].reading] = r
		s.faults.Tables = append(s.faults.Tables, r.bindings.faults...)
		s.faults.Quantities = append(s.faults.Quantities, r.misquoted...)
		s.faults.References = append(s.faults.References, r.links.faults...)
		s.faults.Blocks = append(s.faults.Blocks, r.fragments.faults...)
	}
	b.bindDrawings()
	b.bareTexts()
}

func (b *Book) resolveOne(r *reading, where string, before *resolution) *resolution {
	x := &resolution{place: where}
	if before == nil {
		before = &resolution{bindings: &bindings{}, links: &links{}, fragments: &fragments{}}
	}
	x.bindings, x.links, x.fragments = b.bindingsOf(r, before), before.links, before.fragments
	moved := before.place != where
	if moved || before.memo != b.state.memo {
		x.fragments = b.compose(r.doc, where)
	}
	if moved || before.index != b.state.index.digest || before.binder != b.state.binder || len(r.doc.Pictures) > 0 {
		l := &linker{book: b, doc: r.doc, place: where, bound: x.bindings, out: &links{index: b.state.index.digest}}
		x.links = l.resolve()
	}
	if x.key = before.key; *x != *before {
		x.key = b.keyOf(r, x)
	}
	return x
}

// bindingsOf returns the bindings of a file, those of before if they still hold.
func (b *Book) bindingsOf(r *reading, before *resolution) *bindings {
	if found, ok := b.state.lenders[r.doc.File]; ok {
		return found
	}
	if before != nil && before.binder == b.state.binder {
		return before.bindings
	}
	return b.bind(r.doc)
}

// bind looks up the numbers of a document.
func (b *Book) bind(doc *page.Document) *bindings {
	x := &bindings{binder: b.state.binder}
	var shown []byte
	for _, t := range doc.Tables {
		if !t.Bound {
			x.tables = append(x.tables, nil)
			continue
		}
		bound, faults := b.state.tables.bind(b.Library, t.Figure)
		x.tables = append(x.tables, bound.figures)
		x.faults = append(x.faults, faults...)
		shown = append(shown, bound.shown[:]...)
	}
	x.quantities = make([]quantities.Bound, len(doc.References))
	cited := make([]figures.Bound, len(doc.References))
	for i, r := range doc.References {
		bound, fault := b.state.binder.Bind(r)
		if fault != nil {
			x.misquoted.Add(*fault)
			continue
		}
		x.quantities[i], cited[i] = bound, bound.Figure
	}
	x.misquoted = append(x.misquoted, b.state.binder.Unbound(doc, doc.Stretches...)...)
	x.misquoted = append(x.misquoted, b.state.binder.Captions(doc)...)
	figures := shownDigest(b.Library, cited)
	x.shown = sha256.Sum256(append(shown, figures[:]...))
	return x
}

// linker resolves the links of one document.
type linker struct {
	book  *Book
	doc   *page.Document
	place string
	bound *bindings
	out   *links
	lent  bool // the document lends a section, and what it takes itself is not wanted
}

func (l *linker) resolve() *links {
	for i, r := range l.doc.References {
		l.out.links = append(l.out.links, l.link(i, r))
	}
	for _, p := range l.doc.Pictures {
		l.out.images = append(l.out.images, l.image(p))
	}
	if slices.ContainsFunc(l.doc.References, func(r *page.Reference) bool { return r.Panel }) {
		of := &linker{book: l.book, doc: l.book.state.cautions.doc, place: l.place, bound: l.book.state.warned.bindings, out: &links{}}
		l.out.warned = of.resolve().links // its faults are reported once, with the file
	}
	return l.out
}

func (l *linker) fault(r *page.Reference, problem, want, remedy string) page.Link {
	l.out.faults.Add(diag.Diagnostic{Position: r.Pos, Problem: problem, Want: want, Remedy: remedy})
	return page.Link{}
}

// link resolves a link with what its quantity says.
func (l *linker) link(i int, r *page.Reference) page.Link {
	link := l.lead(i, r)
	link.Quantity = l.bound.quantities[i].Quantity
	return link
}

func (l *linker) lead(i int, r *page.Reference) page.Link {
	switch r.Scheme {
	case page.ToChapter:
		return l.chapter(r)
	case page.ToSource:
		if _, ok := l.book.Library.Source(r.Target); !ok {
			return l.fault(r, "the source "+r.Target+" is unknown", "a key of "+figures.SourcesFile, didYouMean(r.Target, l.sourceKeys()))
		}
		return page.Link{Href: l.to(paths.Sources) + "#" + r.Target, Class: "source", Title: r.Locator}
	case page.ToTerm:
		slug, ok := l.book.state.index.terms[r.Target]
		if !ok {
			return l.fault(r, "the term "+r.Target+" is unknown", "a heading of "+TermsFile+", in lower case with hyphens",
				didYouMean(r.Target, slices.Collect(maps.Keys(l.book.state.index.terms))))
		}
		return page.Link{Href: l.to(paths.Terms) + "#" + slug, Class: "term"}
	case page.ToCalculator:
		return l.calculator(r)
	case page.ToPond:
		return l.pond(r)
	case page.ToLeaf:
		return l.leaf(r)
	case page.ToCaution:
		return l.caution(r)
	case page.ToTake:
		if l.lent {
			return page.Link{}
		}
		return l.take(i, r)
	}
	return l.figure(i)
}

// pond leads to the fact or the reading on the page of the ponds.
func (l *linker) pond(r *page.Reference) page.Link {
	what, ok := l.book.state.binder.Told(r)
	if !ok {
		return page.Link{} // Bind has reported it
	}
	return page.Link{Href: l.to(paths.Ponds) + "#" + paths.OfPond(r.Target, what), Class: "pond"}
}

func (l *linker) to(where string) string { return paths.Relative(l.place, where) }

func (l *linker) sourceKeys() []string {
	var keys []string
	for _, s := range l.book.Library.Sources {
		keys = append(keys, s.ID)
	}
	return keys
}

func didYouMean(name string, candidates []string) string {
	if near := nearest(name, candidates); near != "" {
		return "did you mean " + near + "? Correct the link"
	}
	return "correct the link, or add it there"
}

func (l *linker) chapter(r *page.Reference) page.Link {
	x := l.book.state.index
	file := l.doc.File
	if r.Target != "" {
		file = path.Join(path.Dir(file), r.Target)
	}
	c, ok := x.chapters[file]
	switch {
	case file == TermsFile && l.doc.File != TermsFile:
		return l.fault(r, "the link leads to the list of terms", "term:SLUG, or leaf:terms for all of them", "name the term")
	case !ok:
		return l.fault(r, "the chapter "+file+" does not exist", "the relative path of a chapter", didYouMean(file, slices.Collect(maps.Keys(x.chapters))))
	case r.Fragment == "":
		return page.Link{Href: l.to(c.Place), Leaf: c.Ref}
	case !x.anchors[file][r.Fragment]:
		return l.fault(r, file+" has no heading #"+r.Fragment, "a heading in lower case with hyphens", didYouMean(r.Fragment, slices.Collect(maps.Keys(x.anchors[file]))))
	case r.Target == "" && c.Place == l.place:
		return page.Link{Href: "#" + r.Fragment}
	}
	return page.Link{Href: l.to(c.Place) + "#" + r.Fragment, Leaf: c.Ref}
}

func (l *linker) caution(r *page.Reference) page.Link {
	w, ok := l.book.state.index.cautions[r.Target]
	if !ok {
		return l.fault(r, "the caution "+r.Target+" is unknown", "a heading of "+CautionsFile+", in lower case with hyphens",
			didYouMean(r.Target, slices.Collect(maps.Keys(l.book.state.index.cautions))))
	}
	return page.Link{Href: l.to(paths.Cautions) + "#" + w.Slug, Class: "hazard " + w.Caution.Signal, Title: w.Says(), Alert: w.Caution.Injures()}
}

// leaf resolves a link to a leaf that is no chapter.
func (l *linker) leaf(r *page.Reference) page.Link {
	named := map[string]string{"cover": paths.Cover, "terms": paths.Terms, "cautions": paths.Cautions, "ponds": paths.Ponds, "sources": paths.Sources, "figures": paths.Figures, "calculators": paths.Reckon, "record": paths.Record, "log": paths.Log, "find": paths.Find}
	if where, ok := named[r.Target]; ok {
		return page.Link{Href: l.to(where)}
	}
	set, ok := strings.CutPrefix(r.Target, "figures/")
	if !ok {
		return l.fault(r, "the leaf "+r.Target+" is unknown", "cover, terms, cautions, ponds, sources, figures, calculators, record, log, find or figures/SET", "correct the link")
	}
	if _, ok := l.book.Library.Set(set); !ok {
		var names []string
		for _, s := range l.book.Library.Sets {
			names = append(names, s.Name)
		}
		return l.fault(r, "the figure set "+set+" is unknown", "a file of "+figures.Folder+" without .csv", didYouMean(set, names))
	}
	return page.Link{Href: l.to(paths.FigureSet(set))}
}

func (l *linker) figure(i int) page.Link {
	b := l.bound.quantities[i].Figure
	if b.Set == nil {
		return page.Link{} // bind has reported it
	}
	return page.Link{Href: rowHref(l.place, b.Set, b.Row), Class: page.Mark(b.Set.Rows[b.Row].Basis)}
}

func (l *linker) image(p *page.Picture) page.Image {
	file := path.Join(path.Dir(l.doc.File), p.Target)
	found, ok := l.book.state.pictures[file]
	if !ok {
		l.out.faults.Add(diag.Diagnostic{Position: p.Pos, Problem: "the picture " + file + " does not exist", Want: "a file in the part's folder",
			Remedy: didYouMean(file, slices.Collect(maps.Keys(l.book.state.pictures)))})
		return page.Image{}
	}
	if len(found.faults) > 0 {
		f := found.faults[0]
		f.Position, f.Related = p.Pos, f.Position
		l.out.faults.Add(f)
	}
	if found.picture.Drawing != nil {
		return page.Image{Drawing: found.picture.Drawing}
	}
	return page.Image{Src: l.to(strings.TrimPrefix(file, Folder+"/")), Width: found.picture.Width, Height: found.picture.Height}
}
