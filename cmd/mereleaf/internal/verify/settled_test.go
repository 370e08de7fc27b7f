package verify

import (
	"bytes"
	"fmt"
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
	"mereleaf/cmd/mereleaf/internal/calchtml"
)

// settled is a contradiction of two places, or a dangerous sentence, that was decided.
type settled struct {
	name  string
	was   string                  // what never catches, as it stood or might return
	files string                  // below content/, separated by blanks, that must say it; "" for none
	says  string                  // pattern that each of them must hold, as written
	never string                  // pattern that no text of the handbook or of a calculator may hold
	holds func(*book.Book) string // what is wrong with the numbers behind it; "" for nothing
}

// settledOnes are all of them. Each catches the return of what it names first.
func settledOnes() []settled {
	return []settled{
		// An outlet of 51 mm that drops to the pond, for a pump of 3,100 L/h.
		{"the outlet is tested for its drop", "An outlet of 51 mm is twice what is needed.", "filtration/30-bar-collector-outlet.md", `kind=drop#capacity`, `(?:outlet|drop)[^.]*\b51 mm[^.]*(?:is enough|is twice|do(?:es)?\b)`, outletDrops},
		// The middle of the hours of a power cut, on the card for the wall.
		{"the ready table of the power cut shows the low end", "If you are frightened, divide it by four.", "water/94-power-cut.md", `The table prints the low end`, `divide (?:it |them )?by four`, lowHours},
		// A lid tried by leaning on it, which carries hundreds of kilograms for years.
		{"a lid is tried with its real load for a week", "Lean on the box with all your weight.", "filtration/15-boxes-and-lids.md", `Drill it as it will be drilled.*load it for a week`, `with all your weight`, nil},
		// A notch through the rim of the box that carries all others.
		{"the overflow leaves the rim whole", "Cut a level notch, its crest below the rim.", "filtration/30-bar-collector-outlet.md filtration/50-first-run.md", `(?i)leave the rim(?: over it)? whole`, `level notch.*rim`, nil},
		// Air slots that let the splash run out.
		{"air slots slope up outwards", "A row of slots, sloping outwards and down.", "filtration/05-how-a-tower-works.md filtration/25-drilling-and-assembling.md", `(?i)slope (?:the slots|them) (?:\*\*)?up`, `(?:slop|lean)\w* (?:outwards? and )?down(?: outwards?)?\b`, nil},
		// A plug pulled with wet feet, in the chapter of faults.
		{"water on the ground: the board first", "Pull the plug. Then look.", "filtration/65-faults.md", `(?:wet|dry).*at the board first`, `(?:^|\. )[Pp]ull the plug\.? (?:Then|and) (?:look|run)`, nil},
		// A leaking tower that runs through a night alone.
		{"a leak is sought by day", "Then run a night with the pump and a night without.", "filtration/65-faults.md water/92-evaporation-or-leak.md", `by day`, `run a night with the pump`, nil},
		{"the first night comes after the tests", "Leave it on for the night only if a leak cannot hurt.", "filtration/50-first-run.md", `for the night only when every joint has stayed dry`, `only if a leak cannot hurt`, nil},
		// A top box lifted off an untied stack, and tape on wet plastic.
		{"blocked holes are tried on a low box, with bungs", "Lift the box off and tape a third of the holes.", "filtration/25-drilling-and-assembling.md filtration/50-first-run.md", `bungs or golf tees`, `tape (?:up )?(?:over )?(?:the|a third of the|half of the) holes`, nil},
		{"a stack that was untied is tied again", "", "filtration/50-first-run.md filtration/60-care.md media/70-cleaning-and-moving.md", `(?i)tie (?:it|the stack) (?:again|before)`, "", nil},
		// "Open one box, leave the others as they are": the third of a strapped stack.
		{"a middle box is reached from the top down", "Open one box. Leave the others as they are.", "filtration/60-care.md media/70-cleaning-and-moving.md", `from the top.*only then the strap off`, `[Oo]pen one box\. Leave the others`, nil},
		// One strap for two jobs on the sheet, two in the chapter of safety.
		{"two straps", "Strap all boxes together and tie the strap near the top to the wall.", "filtration/25-drilling-and-assembling.md safety/30-lifting-and-toppling.md", `[Tt]ie a second strap near the top`, `tie the strap near the top`, nil},
		// A story that neutralises the new litres only, with the hose straight in.
		{"the story of ammonia treats its tubs first", "The water was neutralised by the label for those 4,500 L.", "water/30-ammonia.md", `Each tub of tap water was neutralised`, `by the label for those`, nil},
		// The tower as five falls of 0.3 m and 3,900 L/h on a hot night.
		{"the hot night counts the falls of the sheet", "Five free falls of 0.3 m and 3,900 L/h.", "stocking/40-hot-night.md", `short falls from box to box`, `five free falls|3,900 L/h`, nil},
		// Toxic ammonia on a card that hangs where no calculator is.
		{"the toxic part can be found on paper", "", "water/96-what-now.md", `counts the whole NO2, divide`, "", ammoniaOnPaper},
		// Splash of 45 to 270 L a day, beside a leak of 48.
		{"a closed tower loses litres", "For her that is 45 to 270 L a day.", "filtration/05-how-a-tower-works.md", `litres in a day, and not buckets`, `45 to 270`, nil},

		// Two finish lines: nothing for two weeks, and 0.25 and 0.15 for one.
		{"mature is said once", "It is mature when both stay at nothing for two weeks.", "filtration/55-maturing.md terms.md", `media-mature-filter`, `(?:at )?nothing for two weeks|in their good bands? for a week|good bands for a week`, nil},
		// A filter that works as designed and may never be fed.
		{"feed follows the bands", "Feed nothing when ammonia or nitrite shows.", "stocking/30-feeding.md", `in the bands below`, `[Ff]eed nothing (?:when|while) ammonia or nitrite shows`, nil},
		// A pipe through the top lid.
		{"the inlet is in the wall", "The pipe comes in through the lid.", "filtration/25-drilling-and-assembling.md", `(?s)Inlet:\*\* in a wall of the top box.*The top lid stays whole`, `(?:pipe|hose|inlet)[^.]*through the (?:top )?lid`, nil},
		// Other boxes and litres in sentences than the calculator has.
		{"variants follow the sheet", "", "filtration/20-sizing.md filtration/45-variants.md", `\[[^\]]+\]\(calculator:tower\?pond=(?:ines|weir-end)[^)]*#(?:boxes|stacks)\)`, "", nil},
		// 0.91, 180 N and 110 N beside 0.76 and 150 N.
		{"tipping takes the low weight", "", "safety/30-lifting-and-toppling.md filtration/15-boxes-and-lids.md", `calculator:stack-tipping\?`, "", nil},
		// A lift without the foot of the stack.
		{"the lift is that of the sheet", "Her tower has a lift of 1.3 m.", "filtration/40-pumps-and-pipes.md", `#lift|pond:ines#lift|head`, `lift of 1\.3 m`, nil},
		// 80 g of feed, and 210 g of bicarbonate for it.
		{"the feed of the worked pond", "Ines feeds 80 g a day.", "water/70-oxygen.md filtration/60-care.md", `calculator:tower\?pond=ines#eaten`, `\b80 g a day\b`, nil},
		// A lamp behind the foam and before the tower, which holds the foam.
		{"the lamp stands between pump and tower", "After the foam, where the water is clean, and before the tower.", "water/90-green-water.md", `Between pump and tower`, `After the foam[^.]*before the tower`, nil},
		// A thickness of ice that bears.
		{"no ice bears", "Clear ice: 10 cm of ice bears a person.", "stocking/70-winter.md", `print none of them`, `\d+ (?:cm|mm)(?: of ice)? (?:bears|carries|holds) (?:a|one|you)`, nil},
		// Flat rules for feed at 28 °C.
		{"feed in heat goes by the oxygen", "From 28 °C up, feed nothing.", "stocking/30-feeding.md", `take:\.\./safety/05-emergencies\.md#feeding-in-heat`, `28 °C[^.]*(?:feed nothing\.|no feed\.)`, nil},
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
				if !never.MatchString(s.was) {
					t.Errorf("%q does not catch %q", s.never, s.was)
				}
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

// outletDrops compares the outlet of the worked pond with what a pipe straight down takes
// without gulping, by the formula of hydraulics-vertical-drain (hills-1983): a speed of
// 0.3 √(g D) over the whole bore D.
func outletDrops(b *book.Book) string {
	tower, _ := b.Calculators.Find("tower")
	bore, flow := math.NaN(), math.NaN()
	for _, in := range tower.Example.Given {
		if in.Name == "outlet-bore" {
			bore = leading(in.Value) / 1000
		}
	}
	v, err := tower.Reckon(tower.Example.Given)
	if err != nil {
		return err.Error()
	}
	for _, value := range v.Values {
		if value.Name == "flow" {
			flow = leading(value.Text)
		}
	}
	const g, seconds = 9.80665, 3600
	carries := 1000 * seconds * 0.3 * math.Sqrt(g*bore) * math.Pi * bore * bore / 4
	if !(carries > flow) {
		return fmt.Sprintf("a drop of %.3g m bore carries %.0f L/h, and the pump brings %.0f", bore, carries, flow)
	}
	return ""
}

// leading is the number that a text such as "3,100 L/h" begins with.
func leading(text string) float64 {
	number, _, _ := strings.Cut(strings.ReplaceAll(text, "\u00a0", " "), " ")
	value, err := strconv.ParseFloat(strings.ReplaceAll(number, ",", ""), 64)
	if err != nil {
		return math.NaN()
	}
	return value
}

// lowHours compares each cell of the ready table, as printed, with the low end of the
// answer to its own question.
func lowHours(b *book.Book) string {
	c, _ := b.Calculators.Find("power-cut")
	table, err := calchtml.New(b.Calculators, project()).Lookup(c, c.Lookup)
	if err != nil {
		return err.Error()
	}
	var cells []string
	for _, m := range regexp.MustCompile(`<td[^>]*>(.*?)</td>`).FindAllStringSubmatch(table, -1) {
		cells = append(cells, regexp.MustCompile(`<[^>]*>`).ReplaceAllString(m[1], ""))
	}
	l := c.Lookup
	if want := len(l.Rows.Values) * len(l.Columns.Values); len(cells) != want {
		return fmt.Sprintf("the ready table has %d cells; want %d", len(cells), want)
	}
	for i, cell := range cells {
		given := slices.DeleteFunc(slices.Clone(l.Given), func(a calculators.Arg) bool { return a.Name == l.Rows.Input || a.Name == l.Columns.Input })
		given = append(given, calculators.Arg{Name: l.Rows.Input, Value: l.Rows.Values[i/len(l.Columns.Values)]},
			calculators.Arg{Name: l.Columns.Input, Value: l.Columns.Values[i%len(l.Columns.Values)]})
		v, err := c.Reckon(given)
		if err != nil {
			return err.Error()
		}
		for _, value := range v.Values {
			if low := strings.TrimSuffix(value.Low, "\u00a0h"); value.Name == "until-act" && low != cell {
				return fmt.Sprintf("%v: the table prints %s h; the low end is %s h, the likely value %s", given, cell, low, value.Text)
			}
		}
	}
	return ""
}

// ammoniaOnPaper looks for the table of toxic ammonia on a card.
func ammoniaOnPaper(b *book.Book) string {
	for _, card := range b.Config.Cards {
		if slices.Contains(card.Take, "lookup:free-ammonia") {
			return ""
		}
	}
	return "no card has the table of the toxic ammonia"
}
