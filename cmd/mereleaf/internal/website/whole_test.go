package website

import (
	"maps"
	"regexp"
	"strings"
	"testing"

	"mereleaf/calculators/catalog"
	"mereleaf/cmd/mereleaf/internal/book"
	"mereleaf/cmd/mereleaf/internal/calchtml"
	"mereleaf/cmd/mereleaf/internal/paths"
	"mereleaf/cmd/mereleaf/internal/verify/crosscheck"
)

// wholeOf puts the pages of a handbook on one.
func wholeOf(t *testing.T, b *book.Book, pages map[string]string) (page, style string) {
	t.Helper()
	p, s, err := Whole(b, theme(t), func(path string) []byte { return []byte(pages[path]) })
	if err != nil {
		t.Fatal(err)
	}
	return string(p), string(s)
}

func TestWhole(t *testing.T) {
	pages, _ := smallWeb(t)
	page, style := wholeOf(t, read(t, small(t)), pages)
	for _, want := range []string{
		`<li><a href="#water-oxygen_section-one">They gasp</a> <b>W` + "\u00a0" + `1</b>`, // urgent, at the front
		`<a href="#water-oxygen">Oxygen &lt;and&gt; air</a> <b>W` + "\u00a0" + `1, at the front</b>`,
		`<h2>Oxygen &lt;and&gt; air</h2>`, `<h3 id="water-oxygen_section-one">`,
		`<a href="#fish-koi_weight">koi</a> (S` + "\u00a0" + `1)`,                          // a page reference follows a link
		`<a class="calculator" href="#reckon-double">the calculator</a> and`,               // none to its own leaf
		`<dt id="terms_ph">pH</dt>`, `<a href="#terms_ph">pH</a> <a href="#water-oxygen">`, // a word, and who uses it
		`<li id="sources_a-1975">`, `<li id="figures-oxygen"><code>oxygen</code></li>`, `<li id="reckon-double">`,
		`<link rel="stylesheet" href="print.css">`,
	} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %s", want)
		}
	}
	for _, not := range []string{"data-module", "<form", "<input", "<button", "Sources of this leaf", "Used in"} {
		if strings.Contains(page, not) {
			t.Errorf("the page holds %s", not)
		}
	}
	if n := strings.Count(page, "Warm water holds less."); n != 1 {
		t.Errorf("the urgent leaf stands %d times", n)
	}
	if want := `#fish-koi{page:fish-koi}@page fish-koi{@top-right{content:"S` + "\u00a0" + `1"}@top-left{content:"Koi"}}`; !strings.Contains(style, want) {
		t.Errorf("%s lacks %s", style, want)
	}
	if got := cssText("a \"b\" \\ c"); got != `"a \22 b\22  \5c  c"` {
		t.Error(got)
	}
}

// The handbook itself: no id stands twice, each link leads to one, and what is
// urgent comes before the table of contents.
func TestWholeHandbook(t *testing.T) {
	b, _ := book.Read(project(), catalog.All())
	pages := printed(t, Web(b, theme(t), calchtml.New(catalog.All(), project()), crosscheck.Report{}))
	page, _ := wholeOf(t, b, pages)
	ids := map[string]bool{}
	for _, e := range elements(t, paths.Print, page) {
		if id := e.attrs["id"]; id != "" {
			if ids[id] {
				t.Errorf("the id %s stands twice", id)
			}
			ids[id] = true
		}
	}
	for _, e := range elements(t, paths.Print, page) {
		if to, inside := strings.CutPrefix(e.attrs["href"], "#"); inside && !ids[to] {
			t.Errorf("a link leads to #%s, which is not there", to)
		}
	}
	contents := strings.Index(page, `id="contents"`)
	for _, u := range b.Urgent {
		if at := strings.Index(page, `id="`+inWhole(u.Chapter.Place, "")+`"`); at < 0 || at > contents {
			t.Errorf("%s is not at the front", u.Chapter.Ref)
		}
	}
	// Whatever is said of a leaf in brackets is a leaf of the handbook.
	refs := map[string]bool{}
	for _, part := range b.Parts {
		for _, c := range part.Chapters {
			refs[unbroken(c.Ref)] = true
		}
	}
	for _, m := range regexp.MustCompile(`</a> \(([A-Z]\x{a0}\d+)\)`).FindAllStringSubmatch(page, -1) {
		if !refs[m[1]] {
			t.Errorf("(%s) is no leaf", m[1])
		}
	}
	for range maps.Keys(refs) {
		return
	}
	t.Error("no leaves")
}

func TestABrokenLeafIsNamed(t *testing.T) {
	_, _, err := Whole(read(t, small(t)), theme(t), func(string) []byte { return []byte("<p>no page") })
	if err == nil || !strings.HasPrefix(err.Error(), "water/oxygen.html: is no page with") {
		t.Error(err)
	}
}
