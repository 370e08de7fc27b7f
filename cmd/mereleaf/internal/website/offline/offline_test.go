package offline

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"
)

// collect adds files in the order given and lists them.
func collect(t *testing.T, subjects map[string]Subject, files ...[2]string) List {
	t.Helper()
	c := Collector{Subjects: subjects}
	for _, f := range files {
		c.Add(f[0], []byte(f[1]))
	}
	l, err := c.List()
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func TestListDoesNotDependOnTheOrderOfWriting(t *testing.T) {
	a, b, c := [2]string{"index.html", "cover"}, [2]string{"assets/a.css", "p{}"}, [2]string{"water/ph.html", "pH"}
	one, two := collect(t, nil, a, b, c), collect(t, nil, c, a, b)
	if fmt.Sprint(one) != fmt.Sprint(two) {
		t.Errorf("%v and %v", one, two)
	}
	var paths []string
	for _, f := range one.Files {
		paths = append(paths, f.Path)
	}
	if got := strings.Join(paths, " "); got != "assets/a.css index.html water/ph.html" {
		t.Errorf("the paths are %s", got)
	}
	for name, other := range map[string]List{
		"one byte": collect(t, nil, a, b, [2]string{"water/ph.html", "PH"}),
		"a path":   collect(t, nil, a, b, [2]string{"water/ph2.html", "pH"}),
		"a file":   collect(t, nil, a, b),
	} {
		if other.Hash == one.Hash {
			t.Errorf("%s differs, and the edition has the same hash", name)
		}
	}
}

// The hash is that of FIPS 180-4, appendix B.1 of its edition of 2002: SHA-256
// of the message "abc". The list keeps the first half.
func TestHashIsSHA256(t *testing.T) {
	const published = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
	l := collect(t, nil, [2]string{"a.txt", "abc"})
	if got := l.Files[0].Hash; got != published[:32] || l.Files[0].Size != 3 {
		t.Errorf("%+v", l.Files[0])
	}
}

// What a chapter says stays the same when only the frame around it changes.
func TestTextIsWithoutTheFrame(t *testing.T) {
	subjects := map[string]Subject{"water/ph.html": {Kind: Chapter, Title: "pH"}, "figures/ph.html": {Kind: FigureSet, Title: "ph", Digest: "d"}}
	page := func(style, text string) List {
		return collect(t, subjects, [2]string{"water/ph.html", `<link href="` + style + `"><main id="x">` + text + `</main><footer>`}, [2]string{"figures/ph.html", text})
	}
	before, restyled, rewritten := page("a.css", "seven").Files[1], page("b.css", "seven").Files[1], page("a.css", "eight").Files[1]
	if before.Text != restyled.Text || before.Hash == restyled.Hash {
		t.Errorf("another frame: %+v, %+v", before, restyled)
	}
	if before.Text == rewritten.Text {
		t.Errorf("another text has the same digest: %+v", rewritten)
	}
	if f := page("a.css", "seven").Files[0]; f.Text != "d" || f.Kind != FigureSet {
		t.Errorf("a figure set is %+v", f)
	}
}

func TestWorkerBeginsWithTheList(t *testing.T) {
	l := collect(t, nil, [2]string{"a.txt", "</script> & \u2028"})
	worker, err := Worker(l, []byte("run()"))
	if err != nil {
		t.Fatal(err)
	}
	list, script, ok := strings.Cut(strings.TrimPrefix(string(worker), "const edition="), ";\n")
	var read List
	if err := json.Unmarshal([]byte(list), &read); err != nil || !ok || script != "run()" || fmt.Sprint(read) != fmt.Sprint(l) {
		t.Errorf("%v, %v, %q", err, read, script)
	}
}

// The members are those of the W3C's Web Application Manifest; its addresses are
// relative, so that the edition may stand at any path.
func TestManifest(t *testing.T) {
	text, err := Manifest(App{Title: "Lower Reach Pond Handbook", Language: "en-GB", Ground: "#f8f8f1", Icons: []Icon{{Source: "assets/a.svg", Sizes: "any", Type: "image/svg+xml", Purpose: "any"}}})
	if err != nil {
		t.Fatal(err)
	}
	var got map[string]any
	if err := json.Unmarshal(text, &got); err != nil {
		t.Fatal(err)
	}
	for member, want := range map[string]string{"name": "Lower Reach Pond Handbook", "short_name": "Lower Reach", "lang": "en-GB", "start_url": ".", "scope": ".", "display": "standalone", "theme_color": "#f8f8f1", "background_color": "#f8f8f1"} {
		if got[member] != want {
			t.Errorf("%s is %v; want %s", member, got[member], want)
		}
	}
	if icons, ok := got["icons"].([]any); !ok || len(icons) != 1 {
		t.Errorf("icons are %v", got["icons"])
	}
	if s := short("Pondkeeperhandbook"); s != "Pondkeeperhandbook" {
		t.Errorf("one long word became %q", s)
	}
}
