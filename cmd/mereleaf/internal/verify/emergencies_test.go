package verify

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"mereleaf/calculators"
	"mereleaf/calculators/catalog"
	"mereleaf/cmd/mereleaf/internal/book"
	"mereleaf/cmd/mereleaf/internal/page"
)

const emergenciesFile = "content/safety/05-emergencies.md"

// rule is what all pages that talk of an emergency must say alike.
type rule struct {
	emergency string
	about     string // pattern of what is looked at: a sentence with the next
	except    string // pattern of what is not, though it is about the emergency
	says      string // pattern of a size, a dose or a time; its group is read as amount reads it
	owner     string // anchor of the section whose first such amount counts
	first     string // pattern of the text there that states it; "" for any
	needs     string // pattern that must be there
	forbids   string // pattern that may not be there

	// seeded is one copy with something else in it, which must be found.
	seeded edit
}

// share is the pattern of a part of the water.
const share = `(tenth|fifth|quarter|third|half|\d+ ?%)(?: of)?(?: the| some)? (?:water|pond)\b`

func emergencyRules() []rule {
	return []rule{
		{emergency: "fish gasp: the first change", about: `gasp`, except: `chloride|brown|second shock`, says: share, owner: "fish-gasp",
			forbids: `change (?:the )?water (?:at once|now)|part of the water|fresh water at once`,
			seeded:  edit{"content/filtration/55-maturing.md", "change a fifth of the water", "change half of the water"}},
		{emergency: "one change at most", about: `chang|water`, says: `at most (tenth|fifth|quarter|third|half|\d+ ?%) (?:of the water )?at (?:once|one time)`, owner: "ammonia",
			forbids: `unless fish are dying`,
			seeded:  edit{"content/water/30-ammonia.md", "Change no more than half at once, however bad it is: do another after it.", "Change no more than half at once unless fish are dying."}},
		{emergency: "little KH, or a pH crash: the change", about: `so little KH|low in KH|pH (?:has )?crash|where the KH is low`, except: `no large part`, says: share, owner: "the-ph-has-crashed",
			seeded: edit{emergenciesFile, "**Chloride against nitrite.**", "After a pH crash change a third of the water. **Chloride against nitrite.**"}},
		{emergency: "pH crash: the dose", about: `\bKH\b`, says: `(\d+) mg/L (?:in|of) KH a day`, owner: "the-ph-has-crashed",
			forbids: `(?:no|never) bicarbonate while (?:any )?ammonia|while ammonia shows`,
			seeded:  edit{"content/water/60-ph-and-kh.md", "Use the pad", "Give 2 doses and no bicarbonate while ammonia shows. Use the pad"}},
		{emergency: "nitrite: chloride at once", about: `nitrite|brown`, forbids: `if your vet agrees|wait a day, dose|change water, (?:then )?give chloride|until (?:ammonia and nitrite|both) are (?:both )?gone`,
			seeded: edit{"content/water/96-what-now.md", "give chloride at once if fish gasp, change water", "change water, give chloride"}},
		{emergency: "nitrite: gasping fish do not wait", about: `(?:brown|gasp).*(?:salt|chloride)`, except: `no salt yet|some salt is|then read`, needs: `at once|in the same minute|cannot wait`,
			seeded: edit{"content/water/40-nitrite-and-salt.md", "If gills are brown or fish gasp, give chloride at once, with", "If gills are brown or fish gasp, think of chloride, with"}},
		{emergency: "chlorine: one dose for all of the pond", about: `hose.*(?:ran|runs|left|straight).*\bdose`, needs: `whole (?:pond|volume)`,
			seeded: edit{"content/water/50-nitrate.md", "dose for the whole pond before you open the tap", "dose for those litres before you open the tap"}},
		{emergency: "chlorine: no second dose by habit", about: `chlorine|neutralis`, forbids: `dose (?:it )?(?:twice|a second time)|repeat the dose (?:after|in)`,
			seeded: edit{"content/water/80-tap-water.md", "So dose for the more, as far as the label lets you.", "So dose twice, as far as the label lets you."}},
		{emergency: "power cut: the hours", about: `power|hours`, forbids: `divide (?:them |it )?by four|plan with the middle`,
			seeded: edit{"content/water/94-power-cut.md", "Read it here, and **plan with it**.", "Read it here, and divide it by four."}},
		{emergency: "power cut: feed after it", about: `power`, says: `[Ff]eed nothing for (?:a |an )?(day|week|\d+ days?)`, owner: "the-power-is-back", forbids: `feed (?:little|half) for`,
			seeded: edit{"content/media/70-cleaning-and-moving.md", "Look, smell, and then feed and test as when", "Look, smell, feed half for some days, and test as when"}},
		{emergency: "power cut: how long damp media lives", about: `damp`, except: `still water|a damp place`, says: `(\d+|six|two|three|four|eight|twelve) ?(?:h\b|hours)`, owner: "the-power-is-back", first: "damp", forbids: `no one can say how many|after a day, or`,
			seeded: edit{"content/filtration/55-maturing.md", "Damp film lives for about [6 h](figure:advice-media?advice=media+that+stood+drained+and+damp+is+good+for#value), from memory: nobody has published it.", "The film lives for some hours when damp. No one can say how many."}},
		{emergency: "a tripped switch: all unplugged, then once", about: `(?:device|switch).*\btrip(?:s|ped)? again|trip(?:s|ped)\b.*(?:switch it|push it)`, needs: `unplug|nothing plugged in|its steps`,
			forbids: `push it in, and plug`,
			seeded:  edit{"content/safety/10-electricity.md", "If a device trips, do not simply push it back again and again: take [its steps](#if-the-device-has-tripped).", "If a device trips, switch it on once. If it trips again, leave it off."}},
		{emergency: "a tingle: nothing touched, the board", about: `tingl`, except: `warning, and there|^The water tingles$`, needs: `board|touch|its steps|hands out`,
			seeded: edit{"content/safety/10-electricity.md", "If the water tingles, leave it, cut the power at the board, and call", "If the water tingles, pull the plug, and call"}},
		{emergency: "water on the ground: the board where it is wet", about: `(?:spill|over the side|leans|beside the tower|lawn|falls by more).*(?:pull|by) the plug|pull the plug.*(?:lawn|spill)`, needs: `dry.*board|board.*dry`,
			seeded: edit{"content/filtration/65-faults.md", "cut the power: by the plug if plug and ground are dry, else at the board.", "pull the plug."}},
		{emergency: "too much of a treatment", about: `overdose|too much of a treatment`, forbids: `repeat it|dose (?:it )?again|antidote`,
			seeded: edit{"content/water/10-pond-volume.md", "Most overdoses are volume errors.", "Most overdoses are volume errors: give half of it, then repeat it."}},
		{emergency: "hot night: the last meal", about: `hot|heat|dusk`, says: `last meal (?:at |before |is )?(noon|evening|dusk|dark)`, owner: "a-hot-night",
			seeded: edit{"content/stocking/40-hot-night.md", "feed nothing after noon", "give the last meal before dusk"}},
		{emergency: "feeding in heat: by the oxygen", about: `(?:28 °C|≥ 28).*(?:feed|\bfood)`, except: `Hungry|In one`, needs: `oxygen`, forbids: `no feed\b|do not feed`,
			seeded: edit{"content/water/96-what-now.md", "give air and shade, feed by the oxygen at dawn", "give air and shade, no feed"}},
	}
}

// said is one text of the finished handbook, with its place.
type said struct{ at, text string }

// everythingSaid is what chapters, terms and cautions say, and what the calculators do
// in their examples, in their help and in the questions of emergencies.
func everythingSaid(t *testing.T, b *book.Book) []said {
	t.Helper()
	var all []said
	passages := func(file string, doc *page.Document) {
		for _, p := range doc.Passages {
			all = append(all, said{file + "#" + p.Anchor, p.Text})
		}
		for _, table := range doc.Tables {
			if table.Bound { // the words of the others are passages
				all = append(all, rowsSaid(file, table)...)
			}
		}
	}
	for _, c := range b.Chapters() {
		passages(c.File, c.Doc)
	}
	passages("content/terms.md", b.TermsDoc())
	passages("content/cautions.md", b.CautionsDoc())
	return append(all, calculatorsSay(t, b)...)
}

func rowsSaid(file string, table *page.Table) []said {
	var all []said
	for _, row := range table.Figure.Rows {
		var cells []string
		for _, cell := range row {
			cells = append(cells, cell.Text)
		}
		all = append(all, said{file, strings.Join(cells, " · ")})
	}
	return all
}

func calculatorsSay(t *testing.T, b *book.Book) []said {
	t.Helper()
	var all []said
	add := func(id string, texts ...string) {
		for _, text := range texts {
			all = append(all, said{"calculator " + id, text})
		}
	}
	ask := func(c calculators.Calculator, given []calculators.Arg) {
		v, err := c.Reckon(given)
		if err != nil {
			t.Errorf("%s: %v", c.ID, err)
		}
		add(c.ID, v.Advice...)
		add(c.ID, v.Flags...)
		for _, s := range v.Sheet {
			add(c.ID, s.Steps...)
		}
	}
	for _, c := range b.Calculators.All() {
		add(c.ID, c.Cautions...)
		for _, i := range c.Inputs {
			add(c.ID, i.Help)
		}
		ask(c, c.Example.Given)
	}
	for _, question := range emergencyQuestions() {
		id, inputs, _ := strings.Cut(question, " ")
		c, ok := b.Calculators.Find(id)
		if !ok {
			t.Errorf("there is no calculator %s", id)
		}
		var args []calculators.Arg
		for part := range strings.SplitSeq(inputs, "; ") {
			name, value, _ := strings.Cut(part, "=")
			args = append(args, calculators.Arg{Name: name, Value: value})
		}
		ask(c, args)
	}
	return all
}

// emergencyQuestions are questions that calculators answer with steps of emergencies.
func emergencyQuestions() []string {
	return []string{
		"readings fish=gasping; volume=9100 L",
		"readings fish=gasping; nitrite=0.3 mg/L; volume=9100 L",
		"readings nitrite=1 mg/L; volume=9100 L",
		"readings tan=3 mg/L; ph=5.8; kh=5; temperature=21 Cel; volume=9100 L",
		"readings tan=3 mg/L; ph=8.4; kh=150; temperature=29 Cel; volume=9100 L",
		"readings chlorine=0.1 mg/L; volume=9100 L",
		"readings temperature=29 Cel; oxygen=4 mg/L; volume=9100 L",
		"free-ammonia tan=3 mg/L; ph=8.4; temperature=21 Cel",
		"ammonia-after-ph tan=3 mg/L; ph=6.5; ph-after=7.5; temperature=21 Cel",
		"nitrite reading=1 mg/L; volume=9100 L; chloride=0 mg/L",
		"nitrite reading=0.3 mg/L; volume=9100 L; chloride=0 mg/L",
		"hose-left-on volume=9100 L; flow=600 L/h; time=9 h",
		"bicarbonate-dose volume=9100 L; now=10 mg/L; wanted=50 mg/L",
		"feed-waste weight=8 kg; temperature=29 Cel",
		"power-cut fish=koi, 45 cm, 20; volume=9100 L; area=8 m2; temperature=28 Cel; start=7 mg/L",
	}
}

var sentenceEnd = regexp.MustCompile(`([.?!]["”]?) `)

// windows are the sentences of a text, each with the one behind it: what is about an
// emergency often says its size in the next.
func windows(text string) []string {
	all := strings.Split(sentenceEnd.ReplaceAllString(strings.ReplaceAll(text, "\u00a0", " "), "$1\n"), "\n")
	for i := range all[:len(all)-1] {
		all[i] += " " + all[i+1]
	}
	return all
}

// amount reads a part as per cent, a number as it stands, and any other word as itself.
func amount(words string) string {
	words, _ = strings.CutSuffix(strings.ReplaceAll(strings.ToLower(words), " ", ""), "%")
	named := map[string]string{"tenth": "10", "fifth": "20", "quarter": "25", "third": "33", "half": "50", "six": "6", "1day": "day", "1week": "week"}
	if n, ok := named[words]; ok {
		return n
	}
	return words
}

// broken returns where texts say something else than a rule.
func (r rule) broken(all []said) []string {
	pattern := func(s string) *regexp.Regexp { return regexp.MustCompile("(?i)" + s) }
	about, wanted, found := pattern(r.about), "", []string(nil)
	if r.says != "" {
		for _, s := range all {
			m := pattern(r.says).FindStringSubmatch(s.text)
			if m != nil && wanted == "" && s.at == emergenciesFile+"#"+r.owner && pattern(r.first).MatchString(s.text) {
				wanted = amount(m[1])
			}
		}
		if wanted == "" {
			return []string{"the section #" + r.owner + " states no " + strconv.Quote(r.says)}
		}
	}
	for _, s := range all {
		for _, w := range windows(s.text) {
			if !about.MatchString(w) || r.except != "" && pattern(r.except).MatchString(w) {
				continue
			}
			wrong := r.needs != "" && !pattern(r.needs).MatchString(w) || r.forbids != "" && pattern(r.forbids).MatchString(w)
			if r.says != "" {
				wrong = wrong || slices.ContainsFunc(pattern(r.says).FindAllStringSubmatch(w, -1), func(m []string) bool { return amount(m[1]) != wanted })
			}
			if wrong {
				found = append(found, s.at+": "+w)
			}
		}
	}
	return found
}

// TestEmergenciesHaveOneRule goes over every page, term, caution and calculator for
// each emergency and demands the size, dose, time and order of the chapter that owns
// them. Then it plants another one in a single copy, and demands that this is found.
func TestEmergenciesHaveOneRule(t *testing.T) {
	if testing.Short() {
		t.Skip("reads the book once for each planted contradiction")
	}
	files := projectFiles(t)
	b, faults := book.Read(files, catalog.All())
	if len(faults) > 0 {
		t.Skip("TestTheHandbookIsInOrder reports what is wrong")
	}
	all := everythingSaid(t, b)
	for _, r := range emergencyRules() {
		t.Run(r.emergency, func(t *testing.T) {
			for _, wrong := range r.broken(all) {
				t.Error(wrong)
			}
			changed, _ := planted(t, b, files, r.seeded.file, r.seeded.old, r.seeded.new)
			if found := r.broken(everythingSaid(t, changed)); !slices.ContainsFunc(found, func(s string) bool { return strings.HasPrefix(s, r.seeded.file) }) {
				t.Errorf("%q for %q in %s is not found", r.seeded.new, r.seeded.old, r.seeded.file)
			}
		})
	}
}
