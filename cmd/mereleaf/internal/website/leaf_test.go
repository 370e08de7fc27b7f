package website

import (
	"encoding/xml"
	"errors"
	"io"
	"maps"
	"path"
	"slices"
	"strings"
	"testing"

	"mereleaf/calculators/catalog"
	"mereleaf/cmd/mereleaf/internal/book"
	"mereleaf/cmd/mereleaf/internal/calchtml"
	"mereleaf/cmd/mereleaf/internal/paths"
	"mereleaf/cmd/mereleaf/internal/verify/crosscheck"
	"mereleaf/cmd/mereleaf/internal/website/bundle"
)

// policy is what a page may load and run. Nothing on it may need more.
const policy = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' data:; " +
	"font-src 'none'; connect-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'"

// element is a start tag.
type element struct {
	name  string
	attrs map[string]string
	text  string // character data directly behind the tag
}

// elements reads the start tags of a page in order.
func elements(t *testing.T, file, page string) []element {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(page))
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	var all []element
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return all
		}
		if err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		switch token := token.(type) {
		case xml.StartElement:
			e := element{name: token.Name.Local, attrs: map[string]string{}}
			for _, a := range token.Attr {
				e.attrs[a.Name.Local] = a.Value
			}
			all = append(all, e)
		case xml.CharData:
			if n := len(all); n > 0 && all[n-1].text == "" {
				all[n-1].text = strings.TrimSpace(string(token))
			}
		}
	}
}

// realWeb is the handbook itself as a web site. Whether its content is right is
// for package verify to say; its pages must be in order in any case.
func realWeb(t *testing.T) (map[string]string, bundle.Assets) {
	t.Helper()
	b, _ := book.Read(project(), catalog.All())
	a := theme(t).WithWasm([]byte("module"))
	agreed, _ := crosscheck.Check(b.Library, catalog.All(), project())
	return printed(t, Web(b, a, calchtml.New(catalog.All(), project()), agreed)), a
}

// eachWeb runs a check over the small handbook and the handbook itself.
func eachWeb(t *testing.T, check func(t *testing.T, pages map[string]string, a bundle.Assets)) {
	t.Run("small", func(t *testing.T) {
		pages, a := smallWeb(t)
		check(t, pages, a)
	})
	t.Run("handbook", func(t *testing.T) {
		pages, a := realWeb(t)
		check(t, pages, a)
	})
}

// Every page states the policy and obeys it: no script or style in the page, no
// handler, nothing from another host.
func TestPolicy(t *testing.T) {
	eachWeb(t, func(t *testing.T, pages map[string]string, _ bundle.Assets) {
		for file, page := range pages {
			stated := false
			for _, e := range elements(t, file, page) {
				if e.attrs["http-equiv"] == "Content-Security-Policy" {
					stated = e.attrs["content"] == policy
				}
				if e.name == "style" || e.name == "base" || e.name == "iframe" || e.name == "script" && (e.attrs["src"] == "" || e.text != "") {
					t.Errorf("%s has a <%s> in the page", file, e.name)
				}
				for name, value := range e.attrs {
					if name == "style" || strings.HasPrefix(name, "on") || name == "action" {
						t.Errorf("%s: <%s> has the attribute %s", file, e.name, name)
					}
					if name != "xmlns" && name != "content" && value != noIcon && (strings.Contains(value, "//") || strings.HasPrefix(value, "data:") || strings.HasPrefix(value, "javascript:")) {
						t.Errorf("%s: <%s %s=%q> leaves the handbook", file, e.name, name, value)
					}
				}
			}
			if !stated {
				t.Errorf("%s does not state the policy", file)
			}
		}
	})
}

// A reader who cannot see the page finds a way through it.
func TestStructure(t *testing.T) {
	eachWeb(t, func(t *testing.T, pages map[string]string, _ bundle.Assets) {
		for file, page := range pages {
			count, ids, level := map[string]int{}, map[string]bool{}, 0
			for _, e := range elements(t, file, page) {
				count[e.name]++
				if len(e.name) == 2 && e.name[0] == 'h' && e.name[1] >= '1' && e.name[1] <= '6' {
					if next := int(e.name[1] - '0'); next > level+1 {
						t.Errorf("%s: a heading of level %d follows one of level %d", file, next, level)
					} else {
						level = next
					}
				}
				if e.name == "body" && count["title"] != 1 { // drawings have titles too, further down
					t.Errorf("%s has %d <title>, want 1", file, count["title"])
				}
				if id := e.attrs["id"]; id != "" && ids[id] {
					t.Errorf("%s has the id %s twice", file, id)
				} else if id != "" {
					ids[id] = true
				}
				if e.name == "nav" && e.attrs["aria-label"] == "" {
					t.Errorf("%s has a nav without a name", file)
				}
				if e.attrs["class"] == "table" && e.attrs["role"] == "region" && (e.attrs["tabindex"] != "0" || e.attrs["aria-label"]+e.attrs["aria-labelledby"] == "") {
					t.Errorf("%s has a table that cannot be scrolled by keys, or has no name", file)
				}
				if e.name == "html" && e.attrs["lang"] == "" {
					t.Errorf("%s states no language", file)
				}
				if e.attrs["name"] == "description" && e.attrs["content"] == "" {
					t.Errorf("%s has no description", file)
				}
			}
			for _, once := range []string{"html", "h1", "main", "body"} {
				if count[once] != 1 {
					t.Errorf("%s has %d <%s>, want 1", file, count[once], once)
				}
			}
		}
	})
}

// Every labelled part of a page names an element that is there.
func TestLabels(t *testing.T) {
	eachWeb(t, func(t *testing.T, pages map[string]string, _ bundle.Assets) {
		for file, page := range pages {
			all := elements(t, file, page)
			ids := map[string]bool{}
			for _, e := range all {
				ids[e.attrs["id"]] = true
			}
			for _, e := range all {
				for _, name := range []string{"for", "aria-labelledby", "aria-describedby"} {
					for id := range strings.FieldsSeq(e.attrs[name]) {
						if !ids[id] {
							t.Errorf("%s: <%s %s=%q> names nothing", file, e.name, name, id)
						}
					}
				}
			}
		}
	})
}

// noIcon keeps a browser from asking the host for an icon.
const noIcon = "data:,"

// Every link leads to a page or a file of the edition, and to a place in it
// that is there.
func TestLinksResolve(t *testing.T) {
	eachWeb(t, func(t *testing.T, pages map[string]string, a bundle.Assets) {
		tags, ids := map[string][]element{}, map[string]bool{}
		for file, page := range pages {
			tags[file] = elements(t, file, page)
			for _, e := range tags[file] {
				ids[file+"#"+e.attrs["id"]] = true
			}
		}
		for _, file := range slices.Sorted(maps.Keys(tags)) {
			for _, e := range tags[file] {
				for _, name := range []string{"href", "src", "data-module", "data-sources"} {
					link, ok := e.attrs[name]
					if !ok || link == noIcon {
						continue
					}
					target, fragment, _ := strings.Cut(link, "#")
					target, _, _ = strings.Cut(target, "?")
					to := path.Join(path.Dir(file), target)
					switch {
					case target == "":
						to = file
					case file == Missing: // stands for leaves, which are at most one folder deep
						to = path.Join("/", target)[1:]
					}
					switch _, isPage := pages[to]; {
					case !isPage && a.Files[to] == nil && to != paths.Print: // which is made of these pages
						t.Errorf("%s: <%s %s=%q> leads nowhere", file, e.name, name, link)
					case fragment != "" && !ids[to+"#"+fragment]:
						t.Errorf("%s: <%s %s=%q> leads to a place that is not there", file, e.name, name, link)
					}
				}
			}
		}
	})
}

// A chapter with its style sheet and script is light enough for a bad
// connection. The module comes later, when a calculator is used.
func TestPageBudget(t *testing.T) {
	const most = 40_000 // bytes, compressed
	pages, a := realWeb(t)
	shared := bundle.Gzipped(a.Files[a.CSS]) + bundle.Gzipped(a.Files[a.Script])
	chapters := 0
	for file, page := range pages {
		folder := path.Dir(file)
		if folder == "." || folder == "figures" || folder == "reckon" {
			continue
		}
		chapters++
		if n := bundle.Gzipped([]byte(page)) + shared; n > most {
			t.Errorf("%s weighs %d bytes compressed, want at most %d", file, n, most)
		}
	}
	if chapters < 6 {
		t.Errorf("only %d chapters were weighed", chapters)
	}
}
