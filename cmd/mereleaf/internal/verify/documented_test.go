package verify

import (
	"io/fs"
	"path"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"mereleaf/calculators/catalog"
	"mereleaf/cmd/mereleaf/internal/book"
)

const contributorsPage = "DEVELOPERS.md"

// snippet is a fenced block of the contributors' page without its indent.
type snippet struct {
	language, text string
	line           int
}

// snippets returns the blocks that are fenced with a language. A block of a list's
// item is indented like the item.
func snippets(page string) []snippet {
	var all []snippet
	lines := strings.Split(page, "\n")
	for i := 0; i < len(lines); i++ {
		indent := lines[i][:len(lines[i])-len(strings.TrimLeft(lines[i], " "))]
		language, fenced := strings.CutPrefix(lines[i][len(indent):], "```")
		if !fenced {
			continue
		}
		s := snippet{language: language, line: i + 1}
		for i++; i < len(lines) && lines[i] != indent+"```"; i++ {
			s.text += strings.TrimPrefix(lines[i], indent) + "\n"
		}
		all = append(all, s)
	}
	return all
}

// shownLink is a link in the running text of the page, as something to write. The
// links of headings and rows stand in tables only, and other chapters are not there.
var shownLink = regexp.MustCompile("`(\\[[^`\\]]+\\]\\((?:term|source|calculator|figure|pond|caution):[^`]+\\))`")

// TestExamplesOfTheContributorsPage puts every example of a chapter and every such
// link that the page shows into a chapter of the real handbook, and demands that
// nothing is wrong with them.
func TestExamplesOfTheContributorsPage(t *testing.T) {
	text, err := fs.ReadFile(project(), contributorsPage)
	if err != nil {
		t.Fatal(err)
	}
	files := projectFiles(t)
	added := map[string]string{} // by file, where it comes from
	chapter := func(name, body, from string) {
		file := "content/water/" + strconv.Itoa(900+len(added)) + "-" + name + ".md"
		files[file] = &fstest.MapFile{Data: []byte("# An example\n\nAs the page says.\n\n" + body)}
		added[file] = from
	}
	count := map[string]int{}
	for _, s := range snippets(string(text)) {
		from := "line " + strconv.Itoa(s.line)
		count[s.language]++
		kind, _, _ := strings.Cut(s.language, " ")
		switch kind {
		case "markdown":
			chapter("example-"+strconv.Itoa(s.line), s.text, from)
		case "calculator":
			chapter("example-"+strconv.Itoa(s.line), "```"+s.language+"\n"+s.text+"```\n", from)
		case "svg":
			name := "example-" + strconv.Itoa(s.line) + ".svg"
			files["content/water/"+name] = &fstest.MapFile{Data: []byte(s.text)}
			added["content/water/"+name] = from
			chapter("drawing-"+strconv.Itoa(s.line), "![As the page draws it]("+name+")\n", from)
		case "go":
			if !inTests(t, s.text) {
				t.Errorf("%s, %s: no test of the project reads like this:\n%s", contributorsPage, from, s.text)
			}
		case "sh": // .ci/documented runs it
		default:
			t.Errorf("%s, %s: nothing checks a block of %q; expected markdown, calculator, svg, go or sh", contributorsPage, from, s.language)
		}
	}
	links := shownLink.FindAllStringSubmatch(string(text), -1)
	for i, link := range links {
		chapter("link-"+strconv.Itoa(i), "See "+link[1]+".\n", link[1])
	}
	if count["markdown"] == 0 || count["svg"] == 0 || count["go"] == 0 || len(links) < 3 {
		t.Errorf("the page shows %v and %d links", count, len(links))
	}
	_, faults := book.Read(files, catalog.All())
	for _, f := range faults {
		if from, ok := added[f.File]; ok {
			t.Errorf("%s, %s: %s", contributorsPage, from, f)
		}
	}
}

// inTests reports whether a file of tests of the calculators holds the text, with
// spaces for tabs.
func inTests(t *testing.T, text string) bool {
	t.Helper()
	found := false
	err := fs.WalkDir(project(), calculatorsFolder, func(name string, _ fs.DirEntry, err error) error {
		if err != nil || found || !strings.HasSuffix(path.Base(name), "_test.go") {
			return err
		}
		source, err := fs.ReadFile(project(), name)
		found = strings.Contains(strings.ReplaceAll(string(source), "\t", "    "), text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return found
}
