package search

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"mereleaf/calculators"
	"mereleaf/calculators/catalog"
	"mereleaf/cmd/mereleaf/internal/book"
	"mereleaf/cmd/mereleaf/internal/paths"
	"mereleaf/cmd/mereleaf/internal/website/bundle"
)

func small() fstest.MapFS {
	files := fstest.MapFS{}
	for name, text := range map[string]string{
		"content/handbook.toml": "title = \"Small\"\nlanguage = \"en-GB\"\nclub = \"Lower Reach\"\n[[part]]\nfolder = \"water\"\nletter = \"W\"\ntitle = \"Water\"\nabout = \"Readings.\"\n" +
			"[[urgent]]\nsay = \"They gasp\"\nleaf = \"water/10-air.md\"\n",
		"content/terms.md":     "# Terms\n\nWords.\n\n## Alkalinity\n\nIt holds the [pH](term:alkalinity) steady.\n\nAlso: KH, carbonate hardness.\n",
		"content/sources.json": "[]", "testdata/reference/none.md": "",
		"content/water/10-air.md": "# Air\n\nBring air. Do it at 3 p.m. or earlier.\n\n## Foam & co.\n\n" +
			"> **Warning: slippery stones.** Wear boots.\n\n| Foam | Why |\n|---|---|\n| white | feed |\n\n- Pumping fibres\n\n```math\nx\n```\n\n### Last\n",
	} {
		files[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return files
}

func read(t testing.TB, files fstest.MapFS) *book.Book {
	t.Helper()
	b, faults := book.Read(files, calculators.NewSet(calculators.Calculator{ID: "double", Title: "Twice", Question: "How much is twice?", Part: "water"}))
	if err := faults.Err(); err != nil {
		t.Fatal(err)
	}
	return b
}

type index struct {
	Leaves []leaf   `json:"leaves"`
	Folds  []fold   `json:"folds"`
	Stems  [][3]any `json:"stems"`
}

func parse(t testing.TB, text []byte) index {
	t.Helper()
	var x index
	if err := json.Unmarshal(text, &x); err != nil {
		t.Fatal(err)
	}
	return x
}

func TestIndexOfASmallBook(t *testing.T) {
	var m Maker
	x := parse(t, m.Make(read(t, small())))
	want := []leaf{
		{To: "water/air.html", Title: "Air", Ref: "W 1", Part: "W", Text: []section{
			{Says: []string{"Bring air.", "Do it at 3 p.m. or earlier."}},
			{Heading: "Foam & co.", Says: []string{"slippery stones", "Wear boots.", "white · feed", "Pumping fibres"}},
			{Heading: "Last"},
		}},
		{Kind: "urgent", To: "water/air.html", Title: "They gasp", Ref: "W 1", Part: "W", Text: saying("Air")},
		{Kind: "part", To: "water/index.html", Title: "Water", Ref: "W", Part: "W", Text: saying("Readings.")},
		{Kind: "term", To: "terms.html#alkalinity", Title: "Alkalinity", Also: []string{"KH", "carbonate hardness"}, Text: saying("It holds the pH steady.")},
		{Kind: "tool", To: "log.html", Title: paths.LogTitle, Also: []string{"log", "diary", "logbook", "readings"}, Text: saying(paths.LogSays)},
		{Kind: "calculator", To: "reckon/double.html", Title: "Twice", Part: "W", Text: saying("How much is twice?")},
	}
	if diff := cmp.Diff(x.Leaves, want); diff != "" {
		t.Errorf("leaves (-got +want):\n%s", diff)
	}
	if !slices.Equal(x.Folds, folds()) {
		t.Errorf("the index has the folds %q", x.Folds)
	}
	stems := fmt.Sprint(x.Stems)
	for _, want := range []string{"[1  boots charts fibers holds limits stones]", "[3  alkalinity carbonate pumping]"} {
		if !strings.Contains(stems, want) {
			t.Errorf("the stems %s lack %q", stems, want)
		}
	}
}

// A Maker that has seen another state of the book makes what a new one makes.
func TestTheSameBookTheSameIndex(t *testing.T) {
	files := small()
	before := read(t, files)
	var m Maker
	first := m.Make(before)
	const file = "content/water/10-air.md"
	files[file] = &fstest.MapFile{Data: append(slices.Clone(files[file].Data), "\nCold springs.\n"...)}
	after, faults := before.Reread(files, []string{file})
	if err := faults.Err(); err != nil {
		t.Fatal(err)
	}
	second := m.Make(after)
	if bytes.Equal(first, second) || !bytes.Contains(second, []byte("Cold springs.")) {
		t.Error("a new sentence is not in the index")
	}
	var fresh Maker
	if !bytes.Equal(second, fresh.Make(read(t, files))) {
		t.Error("another maker makes another index of the same book")
	}
}

func TestFold(t *testing.T) {
	f := newFolder()
	for _, pair := range [][2]string{
		{"fibre", "fiber"}, {"fibres", "fibers"}, {"litres", "liters"}, {"metre", "meter"}, {"centre", "center"},
		{"colour", "color"}, {"coloured", "colored"}, {"odour", "odor"}, {"vapour", "vapor"}, {"behaviour", "behavior"},
		{"neutralise", "neutralize"}, {"neutralisers", "neutralizers"}, {"acclimatisation", "acclimatization"}, {"analyse", "analyze"},
		{"sulphate", "sulfate"}, {"thiosulphate", "thiosulfate"}, {"anaemia", "anemia"}, {"oedema", "edema"}, {"aluminium", "aluminum"},
		{"grey", "gray"}, {"greyish", "grayish"}, {"mould", "mold"},
	} {
		if a, b := f.fold(pair[0]), f.fold(pair[1]); a != b {
			t.Errorf("%s is folded to %s, %s to %s", pair[0], a, pair[1], b)
		}
	}
	for _, pair := range [][2]string{{"four", "for"}, {"hour", "hor"}, {"our", "or"}, {"aerobic", "erobic"}, {"there", "theer"}, {"acre", "acer"}} {
		if a, b := f.fold(pair[0]), f.fold(pair[1]); a == b {
			t.Errorf("%s and %s are both folded to %s", pair[0], pair[1], a)
		}
	}
}

func TestWords(t *testing.T) {
	if got, want := words("The pond's NH₃, 0.2 mg/L: Café–bar"), []string{"the", "pond", "s", "nh3", "0", "2", "mg", "l", "cafe", "bar"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

func handbook(t testing.TB) *book.Book {
	t.Helper()
	b, faults := book.Read(os.DirFS("../../../.."), catalog.All())
	if err := faults.Err(); err != nil {
		t.Fatal(err)
	}
	return b
}

// The index is what a phone loads before it can look for anything.
func TestIndexIsLight(t *testing.T) {
	const most = 150_000 // bytes, compressed
	b := handbook(t)
	var m Maker
	text := m.Make(b)
	weight := bundle.Gzipped(text)
	t.Logf("the index weighs %d bytes compressed, with %d chapters, %d terms and %d calculators", weight, len(b.Chapters()), len(b.Terms), len(b.Calculators.All()))
	if weight > most {
		t.Errorf("the index weighs %d bytes compressed; at most %d", weight, most)
	}
}

// BenchmarkMake makes the index of the whole handbook from nothing, and again
// after nothing changed.
func BenchmarkMake(b *testing.B) {
	book := handbook(b)
	b.Run("first", func(b *testing.B) {
		for b.Loop() {
			var m Maker
			m.Make(book)
		}
	})
	b.Run("again", func(b *testing.B) {
		var m Maker
		m.Make(book)
		for b.Loop() {
			m.Make(book)
		}
	})
}
