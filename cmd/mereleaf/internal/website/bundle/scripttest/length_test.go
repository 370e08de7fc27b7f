package scripttest

import (
	"regexp"
	"strings"
	"testing"
)

// longest is how many lines a function may have, from its head to its last brace.
const longest = 60

// may is the head of what may be longer: it holds functions, or no code.
var may = regexp.MustCompile(`^(?:export )?(?:abstract )?(?:class|interface|enum|type) `)

// TestFunctionsOfScriptsAreShort counts what stands in braces, so that a long list
// of values is found as well: it belongs into a table of its own.
func TestFunctionsOfScriptsAreShort(t *testing.T) {
	found := 0
	for _, s := range scripts(t) {
		lines := strings.Split(s.text, "\n")
		for _, b := range blocks(t, s) {
			found++
			if head := strings.TrimSpace(lines[b.from]); b.to-b.from+1 > longest && !may.MatchString(head) {
				t.Errorf("theme/%s:%d: %q has %d lines; at most %d; part it", s.name, b.from+1, head, b.to-b.from+1, longest)
			}
		}
	}
	if found < 500 {
		t.Errorf("only %d blocks were found", found)
	}
}

// block is what stands between two braces, by its lines from 0.
type block struct{ from, to int }

// blocks finds what stands between braces, by leaving out what is no code: comments,
// texts and patterns. A template may hold code in braces, which may hold templates.
func blocks(t *testing.T, s script) (all []block) {
	t.Helper()
	var open []int // lines of open braces; less than 0 for that of a template
	line, before := 0, ""
	for rest := s.text; rest != ""; {
		if part := noCode.FindString(rest); part != "" && (part[0] != '/' || part[1] == '/' || part[1] == '*' || pattern.MatchString(before)) {
			line, before, rest = line+strings.Count(part, "\n"), "text", rest[len(part):]
			if strings.HasSuffix(part, "${") {
				open = append(open, -1)
			}
			continue
		}
		switch rest[0] {
		case '\n':
			line++
		case '{':
			open = append(open, line)
		case '}':
			if len(open) == 0 {
				t.Fatalf("theme/%s:%d: a brace too many is counted here", s.name, line+1)
			}
			from := open[len(open)-1]
			open = open[:len(open)-1]
			if from >= 0 {
				all = append(all, block{from, line})
				break
			}
			part := template.FindString(rest)
			rest, before = rest[len(part):], "text"
			if strings.HasSuffix(part, "${") {
				open = append(open, -1)
			}
			continue
		}
		before, rest = before+rest[:1], rest[1:]
	}
	if len(open) > 0 {
		t.Fatalf("theme/%s: the brace of line %d is never closed, as this test counts", s.name, open[0]+1)
	}
	return all
}

var (
	noCode = regexp.MustCompile("^(?:" + strings.Join([]string{
		`//[^\n]*`,
		`/\*(?s:.*?)\*/`,
		`"(?:[^"\\\n]|\\.)*"`,
		`'(?:[^'\\\n]|\\.)*'`,
		"`(?:[^`\\\\$]|\\\\.|\\$[^{])*(?:`|\\$\\{)",
		`/(?:[^/\\\[\n]|\\.|\[(?:[^\]\\\n]|\\.)*\])+/[a-z]*`,
	}, "|") + ")")
	// template is what follows code in a template.
	template = regexp.MustCompile("^\\}(?:[^`\\\\$]|\\\\.|\\$[^{])*(?:`|\\$\\{)")
	// pattern ends what a pattern may follow; behind anything else a stroke divides.
	pattern = regexp.MustCompile(`(?:[(,=:\[!&|?{};>]|\breturn|^)\s*$`)
)
