package verify

import (
	"maps"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/txtar"

	"mereleaf/calculators"
	"mereleaf/cmd/mereleaf/internal/book"
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/diag/diagtest"
)

// edit replaces old by new text, which may hold a mark, in a file.
type edit struct{ file, old, new string }

// handbook is the handbook of testdata/small.txtar after some edits.
func handbook(t *testing.T, edits ...edit) (*book.Book, map[string]diag.Position) {
	t.Helper()
	a, err := txtar.ParseFile("testdata/small.txtar")
	if err != nil {
		t.Fatal(err)
	}
	files, marks := fstest.MapFS{}, map[string]diag.Position{}
	for _, f := range a.Files {
		text := string(f.Data)
		for _, e := range edits {
			if e.file != f.Name {
				continue
			}
			if strings.Count(text, e.old) != 1 {
				t.Fatalf("%s does not hold %q once", f.Name, e.old)
			}
			text = strings.Replace(text, e.old, e.new, 1)
		}
		clean, found := diagtest.Strip(f.Name, []byte(text))
		maps.Copy(marks, found)
		files[f.Name] = &fstest.MapFile{Data: clean}
	}
	b, _ := book.Read(files, calculators.NewSet())
	return b, marks
}

func TestChecksAreComplete(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range Checks() {
		if c.Name == "" || c.Doc == "" || c.Run == nil || c.Look == nil || seen[c.Name] {
			t.Errorf("the check %q is incomplete or stands twice", c.Name)
		}
		if strings.HasSuffix(c.Title(), ".") || len(c.Title()) > 80 {
			t.Errorf("the title of %s is not a short line: %q", c.Name, c.Title())
		}
		seen[c.Name] = true
	}
}

func TestReport(t *testing.T) {
	b, _ := handbook(t)
	report, faults := Run(b)
	if err := faults.Err(); err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	if err := report.Print(&out, true); err != nil {
		t.Fatal(err)
	}
	want, err := os.ReadFile("testdata/small-report.txt")
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(out.String(), string(want)); diff != "" {
		t.Errorf("report (-got +want):\n%s", diff)
	}
}

const (
	water  = "content/water/10-first.md"
	koi    = "content/fish/10-koi.md"
	oxygen = "testdata/reference/oxygen.csv"
)

// TestFaultsBelongToTheirCheck spoils the handbook in one place at a time and
// demands that the checks of those names, and no others, count the fault.
func TestFaultsBelongToTheirCheck(t *testing.T) {
	for _, c := range []struct {
		checks string
		edits  []edit
		want   string
	}{
		{"files", []edit{{"content/handbook.toml", "subtitle", "«x»undertitle"}}, "«x»: the key undertitle is unknown"},
		{"text", []edit{{koi, "## Weight", "«x»#### Weight"}}, "«x»: a heading of level 4"},
		{"references", []edit{{water, "term:ph", "«x»term:pH"}}, "«x»: the term pH is unknown"},
		{"tables", []edit{{water, "| 11.3 |", "| «x»11.4 |"}}, "«x»: oxygen is 11.4 here"},
		{"tables quantities ledger", []edit{{oxygen, "20,9.09", "20,«y»9.19"}, {water, "| 9.09 |", "| «x»9.09 |"}}, "«x»: oxygen is 9.09 here; expected 9.19"},
		{"tables quantities ledger", []edit{{oxygen, "20,9.09", "20,9.19"}, {water, "figure:oxy", "«x»figure:oxy"}}, "«x»: oxygen is 9.1 mg/L here"},
		{"quantities", []edit{{water, "[9.1 mg/L](", "[9.2 mg/L](«x»"}}, "«x»: oxygen is 9.2 mg/L here"},
		{"library ledger", []edit{{oxygen, "a-1975,table 2", "«x»b-1975,table 2"}}, "«x»: the source b-1975"},
		{"agreement", []edit{{"testdata/reference/bindings.toml", "oxygen =", "«x»ozone ="}}, "«x»: "},
		{"blocks", []edit{{koi, "Heavy fish", "```chart «x»wave\n```\n\nHeavy fish"}}, "«x»: the calculator wave is unknown"},
		{"reading", []edit{{koi, "Heavy fish", "«x»Considerable nitrification necessitates alkalinity replenishment, notwithstanding denitrification, whenever temperatures invariably accelerate biological oxidation of accumulated ammonia everywhere inside established filtration apparatus.\n\nHeavy fish"}}, "«x»: the chapter reads at school grade"},
	} {
		b, marks := handbook(t, c.edits...)
		report, faults := Run(b)
		want := diagtest.Expand([]byte(c.want), marks)
		if quick := Faults(b); !slices.Equal(quick, faults) {
			t.Errorf("Faults finds %v and Run %v", quick, faults)
		}
		if !slices.ContainsFunc(faults, func(d diag.Diagnostic) bool { return strings.HasPrefix(d.String(), want) }) {
			t.Errorf("%s: got %v\nwant %s…", c.checks, faults, want)
		}
		for _, r := range report.Results {
			if (r.Faults > 0) != slices.Contains(strings.Fields(c.checks), r.Name) {
				t.Errorf("after a fault of %s the check %s counts %d", c.checks, r.Name, r.Faults)
			}
		}
	}
}

func TestFaultsAreSortedAndWhole(t *testing.T) {
	b, marks := handbook(t,
		edit{water, "| 11.3 |", "| «3»11.4 |"},
		edit{water, "term:ph", "«2»term:pH"},
		edit{koi, "## Weight", "«1»#### Weight"})
	_, faults := Run(b)
	var got []diag.Position
	for _, f := range faults {
		got = append(got, f.Position)
		if strings.Contains(f.String(), "\n") {
			t.Errorf("more than one line: %s", f)
		}
	}
	if want := []diag.Position{marks["1"], marks["2"], marks["3"]}; !slices.Equal(got, want) {
		t.Errorf("got %v\nwant %v", got, want)
	}
}
