package website

import (
	"bytes"
	"html/template"
	"path"
	"slices"
	"strconv"
	"strings"
	"sync"

	"mereleaf/calculators/markup"
	"mereleaf/cmd/mereleaf/internal/book"
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/paths"
	"mereleaf/cmd/mereleaf/internal/verify/quantities"
	"mereleaf/cmd/mereleaf/internal/website/bundle"
)

// at is the leaf that something stands on. Templates link from it with
// {{.To "terms.html"}}.
type at string

// To returns the link to another path of the edition.
func (a at) To(path string) string { return paths.Relative(string(a), path) }

// link leads to a leaf.
type link struct {
	Path, Title string
	Code        bool   // the title is a name out of the handbook's sources
	Ref         string // "W 2"; "" for leaves outside the parts
	Summary     string // plain text
}

// thumb is a notch of the thumb index.
type thumb struct {
	link
	Hue, Letter string
	Current     string // value of aria-current; "" on other leaves
}

// frame is what stands around the text of a leaf. theme/templates/leaf.html
// prints it, with Loads and Foot printed beforehand.
type frame struct {
	at
	Handbook, Language string
	Assets             bundle.Assets

	Cover       bool // it bears its title itself, without a running head
	Title, Ref  string
	Description string
	Hue         string // class that sets the part's colour; "" outside the parts
	Part        *link  // for the running head
	Before      *link
	After       *link
	Thumbs      []thumb

	Styles      []string // paths of style sheets that this leaf needs beside the common one; mostly none
	Body        template.HTML
	Loads, Foot template.HTML
	Script      string // path of a script that this leaf needs beside the common one; mostly ""
}

// hues is how many colours the theme has for parts.
const hues = 6

// hue is the class of the part in the given place; a handbook with more parts
// than there are colours begins again.
func hue(index int) string { return "hue-" + strconv.Itoa(index%hues+1) }

// frame begins a leaf. folder is the part's, or "" outside the parts.
func (w *web) frame(where, title, description, folder string) frame {
	if description == "" {
		description = title
	}
	f := frame{
		at: at(where), Handbook: w.book.Config.Title, Language: w.book.Config.Language, Assets: w.assets,
		Title: title, Description: shorten(description, 200),
	}
	for i, p := range w.book.Parts {
		t := thumb{link: partLink(p), Hue: hue(i), Letter: p.Letter}
		if p.Folder == folder {
			f.Hue, f.Part, t.Current = t.Hue, &t.link, "true"
		}
		if t.Path == where {
			t.Current = "page"
		}
		f.Thumbs = append(f.Thumbs, t)
	}
	return f
}

func partLink(p *book.Part) link {
	return link{Path: paths.Part(p.Folder), Title: p.Title, Ref: p.Letter, Summary: p.About}
}

func chapterLink(c *book.Chapter) link {
	return link{Path: c.Place, Title: c.Title, Ref: unbroken(c.Ref), Summary: c.Summary}
}

// unbroken keeps a reference such as "W 3" on one line.
func unbroken(ref string) string { return strings.ReplaceAll(ref, " ", "\u00a0") }

// neighbour is chapterLink for a chapter that may not be there.
func neighbour(c *book.Chapter) *link {
	if c == nil {
		return nil
	}
	l := chapterLink(c)
	return &l
}

// firstSentence is enough where many leaves stand in one list.
func firstSentence(s string) string {
	for _, end := range []string{". ", "? ", "! "} {
		if i := strings.Index(s, end); i >= 0 {
			s = s[:i+1]
		}
	}
	return s
}

// shorten cuts a text between words so that it is no longer than a search
// result or a link preview shows.
func shorten(s string, most int) string {
	if len(s) <= most {
		return s
	}
	cut := strings.LastIndexByte(s[:most], ' ')
	if cut < 0 {
		return s
	}
	return strings.TrimRight(s[:cut], ",;:") + "…"
}

// bodyHere stands for the content in a printed frame. No text of a handbook has
// such a byte.
const bodyHere = "\x00"

var buffers = sync.Pool{New: func() any { return new(bytes.Buffer) }}

// print puts the content, printed by the template of the given name, into the
// frame.
func (w *web) print(f frame, name string, content any) ([]byte, error) {
	if w.fault != nil {
		return nil, w.fault
	}
	if err := w.printCommon(&f); err != nil {
		return nil, err
	}
	body, around := buffers.Get().(*bytes.Buffer), buffers.Get().(*bytes.Buffer)
	defer buffers.Put(body)
	defer buffers.Put(around)
	body.Reset()
	around.Reset()
	if err := w.templates.ExecuteTemplate(body, name, content); err != nil {
		return nil, templateFault(err)
	}
	f.Body = bodyHere
	if err := w.templates.ExecuteTemplate(around, "leaf.html", f); err != nil {
		return nil, templateFault(err)
	}
	before, after, ok := bytes.Cut(around.Bytes(), []byte(bodyHere))
	if !ok {
		return nil, diag.Diagnostic{Position: diag.Position{File: path.Join(bundle.TemplatesFolder, "leaf.html")}, Problem: "the text of the leaf has no place", Remedy: "put {{.Body}} there"}
	}
	marked := markup.Mark(body.String(), quantities.Nouns(w.book.Config.Nouns).Grammar())
	return slices.Concat(before, []byte(marked), after), nil
}

// common is what the frames of many leaves share: those in one folder that
// belong to one part.
type common struct {
	once        sync.Once
	loads, foot template.HTML
	fault       error
}

// commonContent is all that the templates of it may look at.
type commonContent struct {
	at
	Assets bundle.Assets
	Thumbs []thumb
	Warns  bool // there is a page of cautions
	Tells  bool // there is one of ponds
}

// printCommon fills in what the leaf shares with others. It is printed once,
// because templates are slow and it holds most of a frame's links.
func (w *web) printCommon(f *frame) error {
	same, _ := path.Split(string(f.at))
	same += "\x00" + f.Assets.Script
	for _, t := range f.Thumbs {
		same += "\x00" + t.Current
	}
	v, _ := w.printed.LoadOrStore(same, &common{})
	c := v.(*common)
	c.once.Do(func() {
		content := commonContent{f.at, f.Assets, f.Thumbs, len(w.book.Cautions) > 0, len(w.book.Ponds) > 0}
		if c.loads, c.fault = w.fragment("loads", content); c.fault == nil {
			c.foot, c.fault = w.fragment("foot", content)
		}
	})
	f.Loads, f.Foot = c.loads, c.foot
	return c.fault
}

func (w *web) fragment(name string, content commonContent) (template.HTML, error) {
	var b strings.Builder
	if err := w.templates.ExecuteTemplate(&b, name, content); err != nil {
		return "", templateFault(err)
	}
	return template.HTML(b.String()), nil
}

// listing is links in a list on the leaf at.
type listing struct {
	at
	Links []link
}

// List prepares links for the template "leaves".
func (a at) List(links []link) listing { return listing{a, links} }
