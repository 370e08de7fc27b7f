package calchtml_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"mereleaf/calculators"
	"mereleaf/calculators/markup/markuptest"
	"mereleaf/calculators/pondtest"
	"mereleaf/cmd/mereleaf/internal/calchtml"
)

func TestDrawingOfTheTower(t *testing.T) {
	c, ok := pondtest.All(t).Find("tower")
	if !ok {
		t.Fatal("there is no tower")
	}
	v, err := c.Reckon(c.Example.Given)
	if err != nil {
		t.Fatal(err)
	}
	drawings := 0
	for _, s := range v.Sheet {
		if s.Drawing == "" {
			continue
		}
		drawings++
		html, err := newPad().Drawing(c, calchtml.Drawn{Given: c.Example.Given, Section: strings.ToUpper(s.Title)})
		if err != nil {
			t.Fatal(err)
		}
		all := markuptest.Elements(t, html)
		if got := texts(all, "figcaption", ""); !slices.Equal(got, []string{s.Title}) || !strings.Contains(html, s.Drawing) {
			t.Errorf("%s: the captions are %q", s.Title, got)
		}
	}
	if drawings < 2 {
		t.Errorf("the tower has %d drawings", drawings)
	}
}

func TestDrawingRefuses(t *testing.T) {
	for _, c := range []struct {
		calc    string
		drawn   calchtml.Drawn
		blamed  string
		problem string
	}{
		{"tower", calchtml.Drawn{Section: "To buy"}, calchtml.Section, `is "To buy"`},
		{"tower", calchtml.Drawn{Given: []calculators.Arg{{Name: "flow", Value: "x"}}}, "flow", ""},
		{"free-ammonia", calchtml.Drawn{}, "free-ammonia", "draws nothing"},
	} {
		calc, _ := pondtest.All(t).Find(c.calc)
		c.drawn.Given = calchtml.Given(calc, c.drawn.Given)
		_, err := newPad().Drawing(calc, c.drawn)
		var refused calculators.InputErrors
		if !errors.As(err, &refused) || refused[0].Input != c.blamed || !strings.Contains(refused[0].Problem, c.problem) {
			t.Errorf("%s %+v: %v", c.calc, c.drawn, err)
		}
	}
}
