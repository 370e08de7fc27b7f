package quantities_test

import (
	"net/url"
	"strings"
	"testing"
	"testing/fstest"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/figures"
	"mereleaf/cmd/mereleaf/internal/page"
	"mereleaf/cmd/mereleaf/internal/ponds"
	"mereleaf/cmd/mereleaf/internal/verify/quantities"
)

// toy is a calculator that answers with every shape of result.
func toy() calculators.Calculator {
	return calculators.Calculator{
		ID: "toy",
		Inputs: []calculators.Input{
			{Name: "volume", Kind: quantity.Volume, Accept: calculators.Range{High: 1e6}, Default: "1000 L", Fact: "volume"},
			{Name: "temperature", Kind: quantity.Temperature, Accept: calculators.Range{High: 40}, Default: "21 Cel", Fact: "temperature"},
			{Name: "ph", Kind: quantity.PH, Accept: calculators.Range{High: 14}, Default: "8.2", Fact: "ph"},
			{Name: "box-length", Kind: quantity.Size, Accept: calculators.Range{High: 2000}, Default: "500 mm", Fact: "box-length"},
			{Name: "box-width", Kind: quantity.Size, Accept: calculators.Range{High: 2000}, Default: "300 mm", Fact: "box-width"},
			{Name: "fish", Type: calculators.Rows, Fact: "fish", Default: "koi, 30 cm, 20", Columns: []calculators.Input{
				{Name: "species", Type: calculators.Choice, Options: []calculators.Option{{Name: "koi"}, {Name: "tench"}}},
				{Name: "length", Kind: quantity.Size, Accept: calculators.Range{High: 2000}},
				{Name: "count", Kind: quantity.Count, Accept: calculators.Range{High: 500}, Default: "1"},
			}},
		},
		Outputs: []calculators.Output{
			{Name: "surface", Unit: "m2", Digits: 2},
			{Name: "water", Unit: "L", Digits: 2},
			{Name: "boxes", Unit: "1", Digits: 2, Whole: true},
			{Name: "rise", Unit: "mm", Digits: 2, Whole: true},
			{Name: "fall", Unit: "K", Digits: 2},
			{Name: "warmth", Unit: "Cel", Digits: 3},
		},
		Compute: func(in calculators.Inputs) (calculators.Result, error) {
			volume := in.In("volume", "L")
			var r calculators.Result
			r.Between("surface", 0.018*volume, 0.02234*volume, 0.027*volume)
			r.Exactly("water", 9.134*volume)
			r.Exactly("boxes", 4.6)
			r.Exactly("rise", 123.4)
			r.Exactly("fall", 2)
			r.Exactly("warmth", in.In("temperature", "Cel"))
			return r, nil
		},
	}
}

const (
	toyFigures = "limit,low [mg/L],high [mg/L],low [pH],wait [min],count [1],source,locator,basis,note\n" +
		"ammonia,0.05,0.2,,,,,,practice,\n" +
		"sour,,,6.5,,,,,practice,\n" +
		"pause,,,,10,,,,practice,\n" +
		"nets,,,,,3,,,practice,\n"
	toyAdvice = "advice,value,unit,source,locator,basis,note\n" +
		"wait after switching off,10,min,,,practice,foam holds water that long\n" +
		"repeat a water change,2–3,changes,,,practice,each takes its own share\n" +
		"let the pond warm by,2,K,,,practice,fish bear no more in a day\n"
	toyPond = `{"pond record": 1, "facts": {"volume": "9100 L", "temperature": "21 Cel", "ph": "8.2", "box-length": "560 mm", "box-width": "0.36 m",
		"fish": "koi, 30 cm, 20; tench, 30 cm, 5"}}`
)

func binder(t *testing.T) *quantities.Binder {
	t.Helper()
	files := fstest.MapFS{
		figures.SourcesFile:                {Data: []byte("[]")},
		figures.Folder + "/toy-limits.csv": {Data: []byte(toyFigures)},
		figures.Folder + "/toy-advice.csv": {Data: []byte(toyAdvice)},
		ponds.Folder + "/lower.json":       {Data: []byte(toyPond)},
	}
	set := calculators.NewSet(toy())
	library, faults := figures.Read(files)
	all, wrong := ponds.Read(files, set)
	if faults = append(faults, wrong...); len(faults) > 0 {
		t.Fatal(faults)
	}
	return quantities.New(library, set, all, quantities.Nouns{"box": "boxes", "koi": "koi", "fish": "fish", "net": "nets", "change": "changes"})
}

// reference reads [text](scheme:target?query#fragment).
func reference(t *testing.T, link string) *page.Reference {
	t.Helper()
	text, rest, ok := strings.Cut(strings.TrimPrefix(link, "["), "](")
	scheme, rest, ok2 := strings.Cut(strings.TrimSuffix(rest, ")"), ":")
	if !ok || !ok2 {
		t.Fatalf("no link: %s", link)
	}
	rest, fragment, _ := strings.Cut(rest, "#")
	target, query, _ := strings.Cut(rest, "?")
	r := &page.Reference{Scheme: page.Scheme(scheme), Target: target, Fragment: fragment, Text: text, Pos: diag.Position{File: "x.md", Line: 1, Column: 1}}
	for part := range strings.SplitSeq(query, "&") {
		if key, value, ok := strings.Cut(part, "="); ok {
			v, err := url.QueryUnescape(value)
			if err != nil {
				t.Fatal(err)
			}
			r.Query = append(r.Query, figures.Pair{Key: key, Value: v})
		}
	}
	return r
}

// Each of these quantities is what its link leads to.
func TestBound(t *testing.T) {
	b := binder(t)
	for _, link := range []string{
		// Figures.
		"[0.05 mg/L](figure:toy-limits?limit=ammonia#low)",
		"[0.05 to 0.2 mg/L](figure:toy-limits?limit=ammonia#low)",
		"[0.05–0.2 mg/L](figure:toy-limits?limit=ammonia#low)",
		"[pH 6.5](figure:toy-limits?limit=sour#low)",
		"[10 minutes](figure:toy-limits?limit=pause#wait)",
		"[ten minutes](figure:toy-limits?limit=pause#wait)",
		"[3](figure:toy-limits?limit=nets#count)",
		"[three nets](figure:toy-limits?limit=nets#count)",
		// Advice: each row has its unit, or a noun of which there are so many.
		"[10 minutes](figure:toy-advice?advice=wait+after+switching+off#value)",
		"[two to three changes](figure:toy-advice?advice=repeat+a+water+change#value)",
		"[2](figure:toy-advice?advice=repeat+a+water+change#value-low)",
		"[3 changes](figure:toy-advice?advice=repeat+a+water+change#value-high)",
		"[3.6 °F](figure:toy-advice?advice=let+the+pond+warm+by#value)",
		"[0.2 mg/L](figure:toy-limits?limit=ammonia#high)",
		// Results: the likely value, the range, one end.
		"[22 m²](calculator:toy#surface)",
		"[200 m²](calculator:toy?pond=lower#surface)",
		"[18 to 27 m²](calculator:toy#surface)",
		"[18 m²](calculator:toy#surface-low)",
		"[27 m²](calculator:toy#surface-high)",
		"[240 ft²](calculator:toy#surface)",
		"[5 boxes](calculator:toy#boxes)",
		"[five boxes](calculator:toy#boxes)",
		"[123 mm](calculator:toy#rise)",
		"[4.9 in](calculator:toy#rise)",
		"[2 °C](calculator:toy#fall)",
		"[3.6 °F](calculator:toy#fall)",
		"[69.8 °F](calculator:toy#warmth)",
		// Noughts that end a number may stand for digits rounded away.
		"[9,100 L](calculator:toy#water)",
		"[2,000 gal (imp)](calculator:toy#water)",
		"[9 m³](calculator:toy#water)",
		// Inputs: what a sentence presumes.
		"[2,500 L](calculator:toy?volume=2500+L#volume)",
		"[9,100 L](calculator:toy?pond=lower#volume)",
		"[pH 8.2](calculator:toy#ph)",
		"[45 cm](calculator:toy?fish=koi,+45+cm,+3#fish.length)",
		// Facts of a pond.
		"[9,100 L](pond:lower#volume)",
		"[2,000 gal (imp)](pond:lower#volume)",
		"[8.2](pond:lower#ph)",
		"[21 °C](pond:lower#temperature)",
		"[70 °F](pond:lower#temperature)",
		"[560 × 360 mm](pond:lower#box-length,box-width)",
		"[25 fish](pond:lower#fish.count)",
		"[twenty koi](pond:lower#fish.1.count)",
		"[30 cm](pond:lower#fish.length)",
		// Two numbers with one name are a range, as in "between 18 and 27 m²".
		"[18 and 27 m²](calculator:toy#surface)",
		"[560 and 360 mm](pond:lower#box-length,box-width)",
		// The same again in other units.
		"[21 °C (70 °F)](pond:lower#temperature)",
	} {
		r := reference(t, link)
		bound, d := b.Bind(r)
		if d != nil {
			t.Errorf("%s: %s", link, d)
		} else if bound.Scheme != r.Scheme || bound.Quantity == nil {
			t.Errorf("%s is bound to %+v", link, bound)
		}
	}
}

func TestNotBound(t *testing.T) {
	b := binder(t)
	for _, c := range []struct{ link, want string }{
		// M15: a digit of a limit.
		{"[0.5 mg/L](figure:toy-limits?limit=ammonia#low)", `low is 0.5 mg/L here; expected 0.05 mg/L by common practice`},
		{"[3 boxes](figure:toy-advice?advice=repeat+a+water+change#value-high)", `"3 boxes" does not count changes`},
		{"[2 changes](figure:toy-advice?advice=repeat+a+water+change#value-high)", "value is 2 changes here; expected"},
		{"[11 minutes](figure:toy-limits?limit=pause#wait)", "expected 10 min"},
		{"[25 m²](calculator:toy#surface)", `"25 m²" is not surface of toy; expected 22 m² (18 to 27), as the calculator says; correct the number, or the link`},
		{"[27 m²](calculator:toy#surface)", "correct the number, or the link; it is #surface-high"},
		{"[18 to 28 m²](calculator:toy#surface)", "22 m² (18 to 27)"},
		{"[22.3 m²](calculator:toy#surface)", `"22.3 m²" has more digits than surface of toy bears`},
		{"[9,134 L](calculator:toy#water)", "more digits than water of toy bears"},
		{"[9,000 L](calculator:toy#water)", "is not water of toy; expected 9,100 L"},
		{"[10,000 L](calculator:toy#water)", "is not water of toy"},
		{"[4 boxes](calculator:toy#boxes)", "is not boxes of toy; expected 5"},
		{"[120 mm](calculator:toy#rise)", "expected 123 mm"},
		{"[22 L](calculator:toy#surface)", `"22 L" is not in a unit of surface of toy`},
		{"[22](calculator:toy#surface)", "is not in a unit of surface of toy"},
		{"[36 °F](calculator:toy#fall)", "is not fall of toy; expected 2.0 K"},
		{"[2,400 L](calculator:toy?volume=2500+L#volume)", "expected 2500 L, as the link says"},
		{"[22 m²](calculator:toy#surfce)", "the calculator toy has no result surfce for these inputs; expected one of surface, "},
		{"[9,200 L](pond:lower#volume)", `"9,200 L" is not volume of the pond lower; expected 9100 L, as the pond's record says`},
		{"[2,002 gal (imp)](pond:lower#volume)", "more digits"},
		{"[9,100 L](pond:lower#volum)", "the pond lower has no fact volum; expected one of volume, "},
		{"[9,100 L](pond:upper#volume)", "the pond upper is unknown; expected one of lower"},
		{"[20 fish](pond:lower#fish)", "fish of the pond lower is no quantity"},
		{"[9,100 L](pond:lower?on=2026-05-03#volume)", "has no single reading on 2026-05-03"},
		{"[560 × 370 mm](pond:lower#box-length,box-width)", "is not box-width of the pond lower"},
		{"[18 and 28 m²](calculator:toy#surface)", "is not surface of toy"},
		{"[560 × 360 mm](pond:lower#box-length)", "are not equally many"},
		// The text of a link is one quantity and nothing else.
		{"[about 22 m²](calculator:toy#surface)", "says \"about\" beside the quantity"},
		{"[22 m² of wall](calculator:toy#surface)", `says "of wall" beside the quantity`},
		{"[9,1 L](pond:lower#volume)", "comma"},
		{"[2,000 gal](pond:lower#volume)", "does not say which gallon"},
		{"[27 to 18 m²](calculator:toy#surface)", "a range whose end is not above its start"},
		{"[surface](calculator:toy#surface)", "is no quantity"},
		{"[21 °C (71 °F)](pond:lower#temperature)", "is not temperature"},
		{"[22 m² and 3 mm](calculator:toy#surface)", "holds several quantities"},
	} {
		_, d := b.Bind(reference(t, c.link))
		switch {
		case d == nil:
			t.Errorf("%s binds; want the fault %q", c.link, c.want)
		case !strings.Contains(d.String(), c.want):
			t.Errorf("%s: %s; want %q", c.link, d, c.want)
		}
	}
}

// Whether a °C is a reading or a difference is told by what it is bound to.
func TestDifference(t *testing.T) {
	b := binder(t)
	for link, want := range map[string]bool{
		"[2 °C](calculator:toy#fall)":                                 true,
		"[2 °C](figure:toy-advice?advice=let+the+pond+warm+by#value)": true,
		"[21 °C](calculator:toy#warmth)":                              false,
		"[21 °C](calculator:toy#temperature)":                         false,
		"[21 °C](pond:lower#temperature)":                             false,
	} {
		bound, d := b.Bind(reference(t, link))
		if d != nil || bound.Quantity.Difference != want {
			t.Errorf("%s is a difference: %+v, %v; want %t", link, bound.Quantity, d, want)
		}
	}
}
