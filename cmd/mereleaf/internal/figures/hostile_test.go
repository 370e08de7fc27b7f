package figures

import (
	"strings"
	"testing"
	"time"
	"unicode"

	"mereleaf/cmd/mereleaf/internal/diag"
)

// TestHostileSets: a table that no spreadsheet of ours has saved is refused at its
// place, in one line and in bounded time, or read without harm.
func TestHostileSets(t *testing.T) {
	row := func(cell string) string { return "a [m],b" + origin + cell + ",x,,,practice,\n" }
	for name, c := range map[string]struct{ text, want string }{
		"UTF-16":             {"\xff\xfea\x00,\x00", ":1:1: "},
		"returns alone":      {strings.ReplaceAll(row("1"), "\n", "\r"), ":1:"},
		"10 MB in a line":    {row("1" + strings.Repeat("0", 10_000_000)), ": the file has "},
		"4 MB in a cell":     {"a [m],b" + origin + "1," + strings.Repeat("x", 4_000_000) + ",,,practice,\n", ""},
		"quote not closed":   {row("\"1"), ":2:"},
		"quote in the midst": {row("1\"2"), ":2:2: "},
		"only quotes":        {row(strings.Repeat("\"", 10_001)), ":2:"},
		"a million commas":   {row(strings.Repeat(",", 1_000_000)), ":2:"},
		"a million columns":  {"a [m]" + strings.Repeat(",b", 1_000_000) + origin, ":1:"},
		"a million rows":     {"a [m]" + origin + strings.Repeat("\n", 1_000_000), ":1:"},
		"1e308":              {row("1e308"), ""},
		"1e999":              {row("1e999"), ""},
		"NaN":                {row("NaN"), ""},
		"infinite":           {row("Inf"), ""},
		"hexadecimal":        {row("0x1p-2"), ""},
		"formula for number": {row("=1+1"), ""},
		"formula as a word":  {"a [m],b" + origin + "1,\"=HYPERLINK(\"\"https://pond.example\"\")\",,,practice,\n", ""},
		"HTML":               {"a [m],b" + origin + "1,<script>alert(1)</script>,,,practice,\n", ""},
		"escape":             {"a [m],b" + origin + "1,\x1b[2J,,,practice,\n", ":2:"},
		"escape in heading":  {"a [m],\x1b[2J" + origin + "1,x,,,practice,\n", ":1:"},
		"unit of brackets":   {"a " + strings.Repeat("[", 100_000) + "m]" + origin + "1,,,practice,\n", ":1:1: "},
		"unit of many parts": {"a [" + strings.Repeat("m.", 100_000) + "m]" + origin + "1,,,practice,\n", ":1:1: "},
	} {
		t.Run(name, func(t *testing.T) {
			ended := make(chan diag.List, 1)
			go func() {
				_, faults := Read(toyFiles(map[string]string{"toy": c.text}))
				ended <- faults
			}()
			var faults diag.List
			select {
			case faults = <-ended:
			case <-time.After(time.Minute):
				t.Fatal("not read in a minute")
			}
			const file = Folder + "/toy.csv"
			said := c.want == "" && len(faults) == 0
			for _, d := range faults {
				text := d.String()
				said = said || c.want != "" && strings.HasPrefix(text, file+c.want)
				if d.File != file || d.Remedy == "" || len(text) > 1000 || strings.ContainsFunc(text, unicode.IsControl) {
					t.Errorf("the fault %.300q", text)
				}
			}
			if !said {
				t.Errorf("the faults are %.500q; want one with %q", faults, c.want)
			}
		})
	}
}

// TestHostileNumbers: what is no number in a column of numbers is a word there, and
// no figure that a chapter could be bound to.
func TestHostileNumbers(t *testing.T) {
	for text, number := range map[string]bool{"1": true, "1e308": true, "1e999": false, "-1e999": false, "NaN": false, "Inf": false, "infinity": false, "0x1p-2": false, "=1+1": false, "1_000": false, "'1": false, "\u0661": false, "\uff11": false} {
		lib, faults := Read(toyFiles(map[string]string{"toy": "a [m]" + origin + text + ",,,practice,\n"}))
		if len(faults) > 0 {
			t.Errorf("%q: %v", text, faults)
			continue
		}
		if cell := lib.Sets[0].Rows[0].Cells[0]; cell.numeric != number {
			t.Errorf("%q is read as %+v", text, cell)
		}
	}
}
