package verify

import (
	"bytes"
	"io/fs"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"mereleaf/calculators/catalog"
	"mereleaf/cmd/mereleaf/internal/book"
	"mereleaf/cmd/mereleaf/internal/diag"
)

// TestSeededFaultsOfTheBookAreFound plants mistakes as a tired author makes them, one
// at a time in a copy of the real handbook, and demands each at its place. By kind:
//
//   - a caution dropped from a chapter: a line, and a paragraph that the chapter words
//     itself
//   - a limit changed in a sentence, bound or in words
//   - the year and a title changed in the list of sources
//   - words that keep fish or people from harm cut out of a step
//
// What is wanted is a fault of verify, or with the word told a line that
// TestWhatIsToldIsListed misses. Not found is a number that is changed together with
// its link, to another figure that is right: that is another claim, for a reader.
func TestSeededFaultsOfTheBookAreFound(t *testing.T) {
	if testing.Short() {
		t.Skip("reads the book once for each fault")
	}
	const sources, emergencies = "content/sources.json", "content/safety/05-emergencies.md"
	const ofEmerson = "\n        ]\n      ]\n    },\n    \"container-title\": \"Journal of the Fisheries Research Board of Canada\",\n    \"volume\": \"32\""
	files := projectFiles(t)
	b, faults := book.Read(files, catalog.All())
	if len(faults) > 0 {
		t.Skip("TestTheHandbookIsInOrder reports what is wrong")
	}
	before := toldIn(b)
	for _, c := range []struct{ file, old, new, want string }{
		{"content/filtration/40-pumps-and-pipes.md", "[Unplug before a hand goes in](caution:electricity)\n\n", "", "40-pumps-and-pipes.md:1:1: the chapter has lost its caution electricity"},
		{"content/stocking/70-winter.md", "[Nobody on the ice](caution:drowning)\n\n", "", "70-winter.md:1:1: the chapter has lost its caution drowning"},
		{emergencies, " [An engine runs outdoors only](caution:gas).", "", "05-emergencies.md:1:1: the chapter has lost its caution gas"},
		{"content/water/40-nitrite-and-salt.md", "> **Notice: [zeolite and salt](caution:fish-health).** ", "", "told water/40-nitrite-and-salt: NOTICE fish-health: zeolite and salt"},

		{"content/water/30-ammonia.md", "If it is above [0.05 mg/L]", "If it is above [0.5 mg/L]", "30-ammonia.md:3:173: low is 0.5 mg/L here; expected 0.05 mg/L"},
		{"content/stocking/60-new-fish.md", "temperature, a degree a day", "temperature, five degrees a day", "the quantity five degrees a day is bound to nothing"},
		{emergencies, "neutraliser for a fifth of the pond", "neutraliser for a third of the pond", "told safety/05-emergencies: neutraliser for a fifth of the"},
		{emergencies, "[20 %](figure:advice-emergencies?advice=water+changed+at+a+time+for+gasping+fish#value) of the water, neutralised", "[30 %](figure:advice-emergencies?advice=water+changed+at+a+time+for+gasping+fish#value) of the water, neutralised", "value is 30 % here; expected 20 %"},

		{sources, "1975" + ofEmerson, "1976" + ofEmerson, "the issued of emerson-1975 is"},
		{sources, "\"Ammonia in Aquatic Systems\"", "\"Ammonia in Aquatic Animals\"", "the title of edis-fa016 is"},
		{sources, "\"Nitrite in Fish Ponds\"", "\"Nitrate in Fish Ponds\"", "the title of srac-462 is"},

		{emergencies, "is [free of chlorine](caution:chlorine), near the pond's warmth, and no", "is near the pond's warmth, and no", `the act "change" stands without the caution chlorine`},
		{emergencies, "[neutralised first](caution:chlorine)", "neutralised first", `the act "let cool fresh water in" stands without the caution chlorine`},
		{emergencies, " Take out [zeolite](term:zeolite) first.", "", "told safety/05-emergencies: Take out zeolite first"},
	} {
		changed, found := planted(t, b, files, c.file, c.old, c.new)
		if words, told := strings.CutPrefix(c.want, "told "); told {
			lost := missing(before, toldIn(changed))
			if !slices.ContainsFunc(lost, func(l string) bool { return strings.HasPrefix(l, words) }) {
				t.Errorf("%s, %q for %q: lost %q; want %q", c.file, c.new, c.old, lost, words)
			}
			continue
		}
		found = slices.Concat(found, cautionsFaults(changed))
		if c.file == sources {
			found = append(found, ledgerFaults(changed)...)
		}
		if !slices.ContainsFunc(found, func(d diag.Diagnostic) bool { return strings.Contains(d.String(), c.want) }) {
			t.Errorf("%s, %q for %q: got %v; want %q", c.file, c.new, c.old, found, c.want)
		}
	}
}

// planted reads the handbook again with one mistake in it.
func planted(t *testing.T, b *book.Book, files fstest.MapFS, file, old, replacement string) (*book.Book, diag.List) {
	t.Helper()
	before := files[file]
	defer func() { files[file] = before }()
	if n := bytes.Count(before.Data, []byte(old)); n != 1 {
		t.Errorf("%s holds %q %d times; plant the mistake elsewhere", file, old, n)
	}
	files[file] = &fstest.MapFile{Data: bytes.Replace(before.Data, []byte(old), []byte(replacement), 1)}
	return b.Reread(files, []string{file})
}

// TestSeededFaultsInGoHaveTheirTests lists mistakes that cannot be planted without
// compiling, tried by hand, with the test that found each: that test must be there.
func TestSeededFaultsInGoHaveTheirTests(t *testing.T) {
	if testing.Short() {
		t.Skip("reads the book once for each fault")
	}
	const (
		catalogTests = "calculators/catalog/"
		said         = "calculators/said_test.go TestWhatIsSaidIsListed"
		complete     = catalogTests + "set_test.go TestDeclarationsAreComplete"
		possible     = catalogTests + "possible_test.go TestRangesArePossible"
		marks        = catalogTests + "mark_test.go TestMarksHaveTheOriginOfAFigure"
		formulas     = "cmd/mereleaf/internal/verify/formulas/formulas_test.go TestTheCalculatorsFormulasAreWhatRuns"
		workings     = "cmd/mereleaf/internal/verify/workings/workings_test.go TestWorkingsComeOut"
		anyWorkings  = "cmd/mereleaf/internal/verify/workings/workings_test.go TestWorkingsOfAnyInputsComeOut"
	)
	for _, c := range []struct{ fault, by string }{
		{"a pump's calculator without the hazard electricity", complete},
		{"a bag of fish without the hazard lifting", complete},
		{"the steps of the tower's care without the hazard infection", "cmd/mereleaf/internal/verify/handbook_test.go TestTheHandbookIsInOrder"},

		{"advice that takes the limit of an emergency for that of acting, in the readings", said},
		{"the same, in the night's oxygen", said},
		{"ultraviolet off for two days in place of two weeks", said},

		{"salt accepted to 4,000 g/kg where the formula ends at 40", catalogTests + "ends_test.go TestEndsOfEveryRangeAreAnswered"},
		{"temperature accepted from -500 °C", possible},
		{"blocked holes accepted to 950 %", possible},

		{"the thread G 1 a centimetre wider", "calculators/tower/constants_test.go TestThreadsOfConnectors"},
		{"the density of air with two digits turned", "cmd/mereleaf/internal/verify/crosscheck/handbook_test.go TestTheHandbooksCalculatorsAgreeWithItsFigures"},
		{"300 lifts an hour for 30", said},

		{"nitrate for nitrogen counted as nitrite, in a caution", said},
		{"watts of a lamp ten times too many, in help", said},
		{"half a colour step of 0.02 for 0.2, in help", said},

		{"“and stay off the ice” cut from advice", said},

		{"-193.3 for -139.3 in the printed formula of oxygen", formulas},
		{"79.00 for 70.90 in the printed formula of chloramine", formulas},
		{"0.0872 for 0.0782 in the printed formula of evaporation", formulas},

		{"the mark of stress by the source of another limit", "calculators/limits/limits_test.go TestLimitsAreThoseOfTheirSources"},
		{"the least dose against bacteria by the source of the most", marks},
		{"the evenness of a bar by the source of another rule", marks},

		{"a working with 54.00 for 50.04", workings},
		{"a working with 1.86 for 1.68", anyWorkings},
		{"a working with 9.08665 for 9.80665", workings},
	} {
		file, name, _ := strings.Cut(c.by, " ")
		if text, err := fs.ReadFile(project(), file); err != nil || !bytes.Contains(text, []byte("\nfunc "+name+"(t *testing.T)")) {
			t.Errorf("%s: %s has no %s, %v", c.fault, file, name, err)
		}
	}
}
