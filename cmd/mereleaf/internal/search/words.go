package search

import (
	"cmp"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"github.com/blevesearch/snowballstem"
	"github.com/blevesearch/snowballstem/english"
	"golang.org/x/text/unicode/norm"
)

// fold is a rule that gives the spellings of one word a common form, which is no
// spelling itself. In a word that Before, From and After match one behind the
// other, To takes the place of From. All three are regular expressions that Go
// and browsers read alike; the index carries the rules, so that both sides
// apply the same.
type fold [4]string // Before, From, To, After

// folds are the rules, applied in their order, each once to a word. They are
// for British and American spelling; from memory. What they do to other words
// does no harm as long as two different words do not become one.
func folds() []fold {
	return []fold{
		{`[aeiou][a-z]*?`, `our`, `or`, ``},                             // colour, odour, vapour; not hour or four
		{`[bt]`, `re`, `er`, `s?$`},                                     // fibre, litre, metre, centre
		{`[iy]`, `z`, `s`, `(?:e|ed|es|er|ers|ing|ation|ations|able)$`}, // neutralize, analyze
		{``, `sulph`, `sulf`, ``},                                       // sulphate, thiosulphate
		{``, `aem`, `em`, ``},                                           // anaemia, haemoglobin
		{`^`, `oe`, `e`, `(?:dema|strogen)`},                            // oedema
		{`^alumin`, `i`, ``, `um$`},                                     // aluminium
		{`^gr`, `e`, `a`, `y`},                                          // grey
		{``, `mould`, `mold`, ``},                                       // mould, moulded
	}
}

// folder applies the rules.
type folder []struct {
	pattern *regexp.Regexp
	to      string
}

func newFolder() folder {
	var all folder
	for _, f := range folds() {
		all = append(all, struct {
			pattern *regexp.Regexp
			to      string
		}{regexp.MustCompile("(" + f[0] + ")" + f[1] + "(" + f[3] + ")"), f[2]})
	}
	return all
}

func (f folder) fold(word string) string {
	for _, rule := range f {
		if at := rule.pattern.FindStringSubmatchIndex(word); at != nil {
			word = word[:at[3]] + rule.to + word[at[4]:]
		}
	}
	return word
}

// words returns the words of a text: runs of letters and digits, in lower case,
// without accents and with small digits as digits ("NH₃" is "nh3").
func words(text string) []string {
	return strings.FieldsFunc(strings.ToLower(plain(text)), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsNumber(r) })
}

func plain(text string) string {
	if strings.IndexFunc(text, func(r rune) bool { return r >= 0x80 }) < 0 {
		return text
	}
	return strings.Map(func(r rune) rune {
		if unicode.IsMark(r) {
			return -1
		}
		return r
	}, norm.NFKD.String(text))
}

// rule says how the stems of some words, folded, are made from them: by taking
// letters away at the end and putting others there.
type rule struct {
	cut int
	add string
}

// stemsOf returns the stems that differ from their words, folded: for each rule
// the letters cut, those added, and the words, joined by blanks. words are
// sorted.
func (m *Maker) stemsOf(words []string) [][3]any {
	f := newFolder()
	of := map[rule][]string{}
	for _, w := range words {
		word := f.fold(w)
		stem, ok := m.stems[word]
		if !ok {
			stem = stemOf(word)
			m.stems[word] = stem
		}
		if stem == word {
			continue
		}
		same := 0
		for same < min(len(word), len(stem)) && word[same] == stem[same] {
			same++
		}
		r := rule{len(word) - same, stem[same:]}
		if list := of[r]; len(list) == 0 || list[len(list)-1] != word {
			of[r] = append(list, word)
		}
	}
	all := [][3]any{}
	for r, list := range of {
		slices.Sort(list)
		all = append(all, [3]any{r.cut, r.add, strings.Join(slices.Compact(list), " ")})
	}
	slices.SortFunc(all, func(a, b [3]any) int {
		return cmp.Or(cmp.Compare(a[0].(int), b[0].(int)), strings.Compare(a[1].(string), b[1].(string)))
	})
	return all
}

// stemOf is the stem by Porter's second English stemmer. Words that are not all
// of plain letters, such as "nh3", are their own stems.
func stemOf(word string) string {
	for _, c := range []byte(word) {
		if c < 'a' || c > 'z' {
			return word
		}
	}
	env := snowballstem.NewEnv(word)
	english.Stem(env)
	return env.Current()
}
