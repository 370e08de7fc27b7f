package crosscheck_test

import (
	"errors"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/figures"
	"mereleaf/cmd/mereleaf/internal/verify/crosscheck"
)

// The sets and calculators here are invented; they test the walker only.

// toyBox is the volume of a box, between nine and eleven tenths of it.
func toyBox() calculators.Calculator {
	length := func(name string) calculators.Input {
		return calculators.Input{Name: name, Kind: quantity.Length, Accept: calculators.Range{Low: 0, High: 100, Origin: "sanity limit"}}
	}
	return calculators.Calculator{
		ID:     "toy-box",
		Inputs: []calculators.Input{length("length"), length("width"), length("height"), {Name: "filled", Kind: quantity.Share, Default: "100 %", Accept: calculators.Range{Low: 0, High: 100, Origin: "sanity limit"}}},
		Outputs: []calculators.Output{
			{Name: "volume", Unit: "L", Digits: 3},
			{Name: "weight", Unit: "kg", Digits: 3},
		},
		Compute: func(in calculators.Inputs) (calculators.Result, error) {
			v := 1000 * in.In("length", "m") * in.In("width", "m") * in.In("height", "m") * in.In("filled", "1")
			if v > 5000 {
				return calculators.Result{}, errors.New("the box bursts")
			}
			return calculators.Result{Values: []calculators.Value{calculators.Between("volume", 0.9*v, v, 1.1*v), calculators.Exactly("weight", v)}}, nil
		},
	}
}

// toyPile is the sum of the sizes of a list.
func toyPile() calculators.Calculator {
	return calculators.Calculator{
		ID: "toy-pile",
		Inputs: []calculators.Input{{Name: "sizes", Type: calculators.Rows, Columns: []calculators.Input{
			{Name: "size", Kind: quantity.Size, Accept: calculators.Range{Low: 0, High: 100, Origin: "sanity limit"}},
			{Name: "count", Kind: quantity.Count, Default: "1", Accept: calculators.Range{Low: 0, High: 100, Origin: "sanity limit"}},
		}}},
		Outputs: []calculators.Output{{Name: "sum", Unit: "mm", Digits: 3}},
		Compute: func(in calculators.Inputs) (calculators.Result, error) {
			sum := 0.0
			for _, row := range in.Rows("sizes") {
				sum += row.In("size", "mm") * row.In("count", "1")
			}
			return calculators.Result{Values: []calculators.Value{calculators.Exactly("sum", sum)}}, nil
		},
	}
}

const origin = ",source,locator,basis,note\n"

const boxes = "kind,length [m],width [cm],height [m],fill [1],low [L],volume [m3],high [L],per [kg/g]" + origin +
	"crate,1,50,0.5,,225,0.25,275,0.25,,,practice,\n" +
	"crate,2,50,0.5,0.5,,0.25,,,,,practice,\n" +
	"odd crate,1,50,0.5,,,0.26,,,,,practice,\n"

const words = "measurements,volume [L]" + origin + "\"length 1 m, radius 0.25 m, height 0.5 m\",250,,,practice,\n"

const piles = "first [mm],first count [1],second [mm],second count [1],sum [mm]" + origin +
	"1,3,10,2,23,,,practice,\n" +
	"1,4,,,4,,,practice,\n"

func toyProject(sets map[string]string, bindings string) fstest.MapFS {
	files := fstest.MapFS{
		figures.SourcesFile:     {Data: []byte("[]\n")},
		crosscheck.BindingsFile: {Data: []byte(bindings)},
	}
	for name, text := range sets {
		files[figures.Folder+"/"+name+".csv"] = &fstest.MapFile{Data: []byte(text)}
	}
	return files
}

func check(t *testing.T, sets map[string]string, bindings string) (crosscheck.Report, diag.List) {
	t.Helper()
	files := toyProject(sets, bindings)
	lib, list := figures.Read(files)
	if err := list.Err(); err != nil {
		t.Fatal(err)
	}
	return crosscheck.Check(lib, calculators.NewSet(toyBox(), toyPile()), files)
}

const given = `given = { length = "length", width = "width", height = "height", filled = "fill" }
`

func TestCheck(t *testing.T) {
	report, list := check(t, map[string]string{"boxes": boxes, "words": words, "piles": piles, "others": words}, `
# every key of an entry once
[[boxes]]
calculator = "toy-box"
where = { kind = ["crate"] }
`+given+`expect = { volume = "volume", low = "volume.low", high = "volume.high" }

[[boxes]]
calculator = "toy-box"
where = { kind = "odd crate" }
`+given+`expect = { volume = "volume" }
tolerance = 0.04
reason = "it bulges"

[[words]]
calculator = "toy-box"
read = { measurements = "length {long}, radius {r}, height {high} m" }
given = { length = "long", width = "={2*r}", height = "={high} m" }
expect = { volume = "volume" }

[[piles]]
calculator = "toy-pile"
given = { sizes = "={first}, {first count}; {second}, {second count}" }
expect = { sum = "sum" }

[uncomputed]
others = "the same again"
`)
	if err := list.Err(); err != nil {
		t.Fatal(err)
	}
	want := []crosscheck.SetReport{
		{Set: "boxes", Calculator: "toy-box", Rows: 2, Figures: 4},
		{Set: "boxes", Calculator: "toy-box", Rows: 1, Figures: 1, Tolerance: 0.04, Reason: "it bulges", Largest: 0.01 / 0.26, At: diag.Position{File: figures.Folder + "/boxes.csv", Line: 4, Column: 22}},
		{Set: "words", Calculator: "toy-box", Rows: 1, Figures: 1},
		{Set: "piles", Calculator: "toy-pile", Rows: 2, Figures: 2},
	}
	if len(report.Sets) != len(want) {
		t.Fatalf("report: %v", report.Sets)
	}
	for i, got := range report.Sets {
		near := math.Abs(got.Largest-want[i].Largest) < 1e-9
		if got.Largest < 1e-9 {
			got.At = diag.Position{}
		}
		got.Largest = want[i].Largest
		if !reflect.DeepEqual(got, want[i]) || !near {
			t.Errorf("report %d: got %+v, want %+v", i, report.Sets[i], want[i])
		}
	}
	if len(report.Uncomputed) != 1 || report.Uncomputed[0].Reason != "the same again" {
		t.Errorf("uncomputed: %v", report.Uncomputed)
	}
}

// A report names the rows that may miss the printed digit, and why.
func TestExceptionsAreReported(t *testing.T) {
	report, list := check(t, map[string]string{"boxes": boxes}, `
[[boxes]]
calculator = "toy-box"
`+given+`expect = { volume = "volume" }
except = [ { where = { kind = "odd crate" }, tolerance = 0.04, reason = "it bulges" } ]
`)
	if err := list.Err(); err != nil {
		t.Fatal(err)
	}
	r := report.Sets[0]
	if want := []crosscheck.Exception{{Rows: 1, Tolerance: 0.04, Reason: "it bulges"}}; r.Excepted != 1 || !slices.Equal(r.Exceptions, want) {
		t.Errorf("%+v", r)
	}
	if text := r.String(); !strings.HasSuffix(text, "; 1 rows excepted; 4 % allowed in 1: it bulges") {
		t.Error(text)
	}
}

// A figure per gram of something equals the answer for a stated mass of it.
func TestTimes(t *testing.T) {
	_, list := check(t, map[string]string{"boxes": boxes}, `
[[boxes]]
calculator = "toy-box"
`+given+`expect = { per = "weight" }
times = "1000 g"
`)
	if err := list.Err(); err != nil {
		t.Error(err)
	}
}

func TestCases(t *testing.T) {
	files := toyProject(map[string]string{"piles": piles}, `
[[piles]]
calculator = "toy-pile"
given = { sizes = "={first}, {first count}; {second}, {second count}" }
expect = { sum = "sum" }
`)
	lib, _ := figures.Read(files)
	cases, list := crosscheck.Cases(lib, calculators.NewSet(toyPile()), files)
	if err := list.Err(); err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, c := range cases {
		got = append(got, c.Calculator.ID+" "+c.Args[0].Name+"="+c.Args[0].Value)
	}
	if want := "toy-pile sizes=1 mm, 3; 10 mm, 2|toy-pile sizes=1 mm, 4"; strings.Join(got, "|") != want {
		t.Errorf("got %q, want %q", strings.Join(got, "|"), want)
	}
}

// Each sample of bindings marks with ¦ where its fault is to be reported; those
// without a mark name the place in a set.
var faulty = []struct{ name, bindings, want string }{
	{"figure that departs", "[[boxes]]\ncalculator = \"toy-box\"\n" + given + "expect = { volume = \"volume\" }\n",
		figures.Folder + "/boxes.csv:4:22: toy-box computes volume as 0.25 from length=1 m, width=50 cm, height=0.5 m; expected 0.26 by practice; 3.8 % off"},
	{"row that nothing speaks for", "[[boxes]]\nwhere = { kind = \"crate\" }\nskip = \"dull\"\n", figures.Folder + "/boxes.csv:4:1: the row is in no entry of the bindings"},
	{"set that nothing speaks for", "[uncomputed]\n", figures.Folder + "/boxes.csv:1:1: no calculator is compared with the set"},
	{"refused row", "[[boxes]]\ncalculator = \"toy-box\"\ngiven = { length = \"=50 m\", width = \"=50 m\", height = \"=50 m\" }\nexpect = { volume = \"volume\" }\n", "toy-box refuses this row: toy-box: the box bursts"},
	{"missing input", "[[boxes]]\ncalculator = \"toy-box\"\ngiven = { length = \"length\" }\nexpect = { volume = \"volume\" }\n", "width: is missing"},
	{"units that do not convert", "[[boxes]]\ncalculator = \"toy-box\"\nwhere = { kind = \"crate\" }\n" + given + "expect = { volume = \"weight\" }\n\n[[boxes]]\nwhere = { kind = \"odd crate\" }\nskip = \"dull\"\n", "the figure is in m3 and weight in kg"},
	{"tolerance too narrow", "[[boxes]]\ncalculator = \"toy-box\"\n" + given + "expect = { volume = \"volume\" }\ntolerance = 0.01\nreason = \"it bulges\"\n", "boxes.csv:4:22: toy-box computes"},
	{"tolerance too wide", "[[boxes]]\ncalculator = \"toy-box\"\n" + given + "expect = { volume = \"volume\" }\ntolerance = ¦0.5\nreason = \"it bulges\"\n", "the tolerance is 0.5; expected at most twice the largest deviation, 0.038; narrow it"},
	{"tolerance without need", "[[boxes]]\ncalculator = \"toy-box\"\n" + given + "expect = { low = \"volume.low\" }\ntolerance = ¦0.01\nreason = \"it bulges\"\n", "the tolerance is not needed"},
	{"tolerance without reason", "[[boxes]]\ncalculator = \"toy-box\"\n" + given + "expect = { volume = \"volume\" }\ntolerance = ¦0.04\n", "the tolerance has no reason"},
	{"tolerance that is no share", "[[boxes]]\ncalculator = \"toy-box\"\n" + given + "expect = { volume = \"volume\" }\ntolerance = ¦4\nreason = \"it bulges\"\n", "the tolerance is 4; expected a share"},
	{"exception without need", "[[boxes]]\ncalculator = \"toy-box\"\n" + given + "expect = { low = \"volume.low\" }\nexcept = [ { where = { kind = \"crate\" }, tolerance = ¦0.04, reason = \"it bulges\" } ]\n", "the tolerance is not needed"},
	{"exception for no row", "[[boxes]]\ncalculator = \"toy-box\"\nwhere = { kind = \"crate\" }\n" + given + "expect = { volume = \"volume\" }\nexcept = [ { where = { kind = \"odd crate\" }, tolerance = ¦0.04, reason = \"it bulges\" } ]\n", "the exception is for no row of its entry"},
	{"exception without rows", "[[boxes]]\ncalculator = \"toy-box\"\n" + given + "expect = { volume = \"volume\" }\nexcept = [ ¦{ tolerance = 0.04, reason = \"it bulges\" } ]\n", "the exception names no rows"},
	{"conditions that no row meets", "[[¦boxes]]\nwhere = { kind = \"odd crate\", length = \"2\" }\nskip = \"dull\"\n", "no row of boxes meets the conditions together"},
	{"unknown text", "[[boxes]]\nwhere = { ¦kind = \"barrel\" }\nskip = \"dull\"\n", `no row of boxes has kind = "barrel"`},
	{"unknown set", "[[¦barrels]]\nskip = \"dull\"\n", "there is no figure set barrels"},
	{"single brackets", "[¦boxes]\nskip = \"dull\"\n", "the entry stands in single brackets"},
	{"unknown key", "[[boxes]]\n¦calculater = \"toy-box\"\nskip = \"dull\"\n", "the key calculater is unknown"},
	{"key twice", "[[boxes]]\nskip = \"dull\"\n¦skip = \"duller\"\n", "the key skip stands twice"},
	{"unknown calculator", "[[boxes]]\ncalculator = ¦\"toy-barrel\"\nexpect = { volume = \"volume\" }\n", "there is no calculator toy-barrel; expected one of toy-box, toy-pile"},
	{"no calculator", "[[¦boxes]]\nexpect = { volume = \"volume\" }\n", "the entry names no calculator"},
	{"calculator and skip", "[[boxes]]\n¦calculator = \"toy-box\"\nskip = \"dull\"\n", "both computed and skipped"},
	{"unknown input", "[[boxes]]\ncalculator = \"toy-box\"\ngiven = { ¦depth = \"height\" }\nexpect = { volume = \"volume\" }\n", "toy-box has no input depth; expected one of length, width, height, filled"},
	{"unknown column", "[[boxes]]\ncalculator = \"toy-box\"\ngiven = { length = ¦\"breadth\" }\nexpect = { volume = \"volume\" }\n", "the set boxes has no column breadth"},
	{"unknown output", "[[boxes]]\ncalculator = \"toy-box\"\n" + given + "expect = { volume = ¦\"contents\" }\n", "toy-box has no output contents"},
	{"unknown end", "[[boxes]]\ncalculator = \"toy-box\"\n" + given + "expect = { volume = ¦\"volume.middle\" }\n", "has no output volume.middle"},
	{"nothing expected", "[[¦boxes]]\ncalculator = \"toy-box\"\n" + given, "the entry expects nothing"},
	{"pattern without names", "[[boxes]]\ncalculator = \"toy-box\"\nread = { kind = ¦\"crate\" }\n" + given + "expect = { volume = \"volume\" }\n", "the pattern names nothing"},
	{"pattern that does not fit", "[[boxes]]\ncalculator = \"toy-box\"\nread = { kind = \"box of {wood}\" }\n" + given + "expect = { volume = \"volume\" }\n", `"crate" is not of the form "box of {wood}"`},
	{"bad times", "[[boxes]]\ncalculator = \"toy-box\"\n" + given + "expect = { volume = \"volume\" }\ntimes = ¦\"a lot\"\n", "times is a lot"},
	{"set listed twice", "[[boxes]]\nskip = \"dull\"\n[uncomputed]\n¦boxes = \"dull\"\n", "the set boxes is bound, or listed twice"},
	{"no reason", "[uncomputed]\n¦boxes = \"\"\n", "no reason is given"},
	{"unknown set listed", "[uncomputed]\n¦barrels = \"dull\"\nboxes = \"dull\"\n", "there is no figure set barrels"},
	{"key before any entry", "¦skip = \"dull\"\n", "belongs to no entry"},
	{"no TOML", "[[boxes]]\nskip = ¦dull\n", "this is not TOML"},
}

func TestCheckReportsFaultsWhereTheyAre(t *testing.T) {
	for _, c := range faulty {
		t.Run(c.name, func(t *testing.T) {
			before, after, marked := strings.Cut(c.bindings, "¦")
			_, list := check(t, map[string]string{"boxes": boxes}, before+after)
			if len(list) == 0 {
				t.Fatal("no fault")
			}
			found := false
			for _, d := range list {
				if d.Remedy == "" || d.Position.Line == 0 {
					t.Errorf("%s has no remedy or no place", d)
				}
				if !strings.Contains(d.String(), c.want) {
					continue
				}
				found = true
				if at := diag.At(crosscheck.BindingsFile, []byte(before+after), len(before)); marked && d.Position != at {
					t.Errorf("%s, want it at %s", d, at)
				}
			}
			if !found {
				t.Errorf("got %v, want %q", list, c.want)
			}
		})
	}
}

func TestCheckWithoutBindings(t *testing.T) {
	files := toyProject(map[string]string{"boxes": boxes}, "")
	lib, _ := figures.Read(files)
	delete(files, crosscheck.BindingsFile)
	_, list := crosscheck.Check(lib, calculators.NewSet(), files)
	if len(list) != 1 || !strings.Contains(list[0].String(), crosscheck.BindingsFile+": the file is missing") {
		t.Errorf("faults: %v", list)
	}
}
