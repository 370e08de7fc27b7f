package website

import (
	"strings"
	"testing"
	"testing/fstest"

	"mereleaf/cmd/mereleaf/internal/calchtml"
	"mereleaf/cmd/mereleaf/internal/paths"
	"mereleaf/cmd/mereleaf/internal/verify/crosscheck"
)

// withCard is the small handbook with a card.
func withCard(t *testing.T) fstest.MapFS {
	files := small(t)
	config := string(files["content/handbook.toml"].Data)
	files["content/handbook.toml"] = &fstest.MapFile{Data: []byte(strings.Replace(config, `club = "Lower Reach"`, "club = \"Lower Reach\"\nissued = \"2026-11-05\"", 1) + `
[[card]]
title = "Air & water"
take = ["water/10-oxygen.md", "water/10-oxygen.md#section-one", "lookup:double", "calculator:double"]
`)}
	return files
}

func TestCards(t *testing.T) {
	files := withCard(t)
	pages := printed(t, Web(read(t, files), theme(t), calchtml.New(double(), files), crosscheck.Report{}))
	cards := pages[paths.Cards]
	for _, want := range []string{
		`<section class="card large">`, "<h2>Air &amp; water</h2>", `<p class="first">Warm water holds less.`, `<h3 id="card1_2_section-one">Section one</h3>`,
		`<a href="fish/koi.html#weight">koi</a> (S` + "\u00a0" + `1)`, `<b>Lower Reach</b> · issued 5` + "\u00a0" + `November` + "\u00a0" + `2026`,
		"11.29", "Doubles", "How much is twice a length? <b>Twice a length, reckon/double.html</b>",
		`from <a href="water/oxygen.html">W` + "\u00a0" + `1 Oxygen &lt;and&gt; air</a>, <a href="reckon/double.html">`,
	} {
		if !strings.Contains(cards, want) {
			t.Errorf("the card lacks %s", want)
		}
	}
	main := cards[strings.Index(cards, "<main"):strings.Index(cards, "</main>")]
	for _, not := range []string{"<form", `class="notes"`, `class="key"`, "<sup"} {
		if strings.Contains(main, not) {
			t.Errorf("the card holds %s", not)
		}
	}
	for _, path := range []string{paths.Cover, "water/index.html"} {
		if !strings.Contains(pages[path], "cards.html") || !strings.Contains(pages[path], "print.html") {
			t.Errorf("%s does not lead to the pages for paper", path)
		}
	}
	if pages, _ := smallWeb(t); pages[paths.Cards] != "" || strings.Contains(pages[paths.Cover], "cards.html") {
		t.Error("a handbook without cards has a page of them")
	}
}

// The page of cards is set again when a chapter changes that it takes from.
func TestCardsFollowTheirChapter(t *testing.T) {
	keys := func(old, text string) string {
		files := withCard(t)
		replace("content/water/10-oxygen.md", old, text)(files, nil)
		for _, p := range Web(read(t, files), theme(t), calchtml.New(double(), files), crosscheck.Report{}) {
			if p.Path == paths.Cards {
				return p.Key
			}
		}
		return ""
	}
	if same, other := keys("Unplug first.", "Unplug first."), keys("Unplug first.", "Unplug."); same == "" || same == other {
		t.Errorf("%q, %q", same, other)
	}
}

func TestDay(t *testing.T) {
	if got := day("2026-11-25"); got != "25\u00a0November\u00a02026" {
		t.Error(got)
	}
	if got := day(""); got != "" {
		t.Error(got)
	}
}
