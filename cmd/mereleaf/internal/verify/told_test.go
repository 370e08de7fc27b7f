package verify

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"mereleaf/calculators/catalog"
	"mereleaf/cmd/mereleaf/internal/book"
)

const toldFile = "testdata/told.txt"

// TestWhatIsToldIsListed holds what no link binds. The cautions that a chapter words
// itself, and the words of a step that keep someone from harm or say how much at most,
// "take out zeolite first", "up to a fifth of the pond", stand in testdata/told.txt as
// well, a step's with the words before and behind. No command writes the file: whoever
// changes such a word thinks of it twice, and puts the line in.
func TestWhatIsToldIsListed(t *testing.T) {
	b, faults := book.Read(project(), catalog.All())
	if len(faults) > 0 {
		t.Skip("TestTheHandbookIsInOrder reports what is wrong")
	}
	data, err := os.ReadFile(toldFile)
	if err != nil {
		t.Fatal(err)
	}
	listed, told := slices.Collect(strings.Lines(string(data))), toldIn(b)
	if !slices.IsSorted(listed) || len(told) < 200 {
		t.Errorf("%s is not sorted, or the handbook tells only %d such words", toldFile, len(told))
	}
	for _, l := range missing(told, listed) {
		t.Errorf("%s does not list\n\t%s; check it, and put the line in", toldFile, strings.TrimSpace(l))
	}
	for _, l := range missing(listed, told) {
		t.Errorf("the handbook has lost\n\t%s; if that is meant take the line out of %s", strings.TrimSpace(l), toldFile)
	}
}

// missing returns the lines that others lack.
func missing(lines, others []string) []string {
	return slices.DeleteFunc(slices.Clone(lines), func(l string) bool { return slices.Contains(others, l) })
}

// keeping matches the words of a step that are listed.
var keeping = regexp.MustCompile(`(?i)\b(half|halves?|thirds?|quarters?|fourths?|fifths?|tenths?|twice|at most|at least|never|do not|only|first|slowly|unplug(?:ged)?|vet|label|electrician|alone|chlorine|dry)\b`)

// toldIn returns the cautions that chapters word themselves, and the listed words of
// their steps, as lines "chapter: words", sorted, each once.
func toldIn(b *book.Book) []string {
	var all []string
	for _, c := range b.Chapters() {
		name := strings.TrimSuffix(strings.TrimPrefix(c.File, "content/"), ".md")
		for _, own := range c.Doc.Cautions {
			all = append(all, name+": "+strings.ToUpper(own.Signal)+" "+own.Hazard+": "+own.Text+"\n")
		}
		for _, step := range stepsOf(b, c) {
			for _, at := range keeping.FindAllStringIndex(step.Text, -1) {
				before, behind := strings.Fields(step.Text[:at[0]]), strings.Fields(step.Text[at[1]:])
				words := slices.Concat(before[max(0, len(before)-3):], []string{step.Text[at[0]:at[1]]}, behind[:min(2, len(behind))])
				all = append(all, name+": "+strings.Join(words, " ")+"\n")
			}
		}
	}
	slices.Sort(all)
	return slices.Compact(all)
}
