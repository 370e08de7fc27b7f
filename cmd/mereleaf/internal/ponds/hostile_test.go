package ponds_test

import (
	"strings"
	"testing"
	"testing/fstest"
	"time"
	"unicode"

	"mereleaf/calculators/catalog"
	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/ponds"
)

// within reads ponds and demands that it comes to an end.
func within(t *testing.T, files fstest.MapFS) (ponds.Ponds, diag.List) {
	t.Helper()
	type result struct {
		all    ponds.Ponds
		faults diag.List
	}
	ended := make(chan result, 1)
	go func() {
		all, faults := ponds.Read(files, catalog.All())
		ended <- result{all, faults}
	}()
	select {
	case r := <-ended:
		return r.all, r.faults
	case <-time.After(time.Minute):
		t.Fatal("not read in a minute")
		return nil, nil
	}
}

// check demands of each fault that it is one line that begins with the file, and of
// one of them that it says want. Without want there must be none.
func check(t *testing.T, file, want string, faults diag.List) {
	t.Helper()
	said := want == "" && len(faults) == 0
	for _, d := range faults {
		text := d.String()
		said = said || want != "" && strings.HasPrefix(text, file+want)
		if !strings.HasPrefix(text, file+":") || d.Want == "" && d.Remedy == "" || len(text) > 1000 || strings.ContainsFunc(text, unicode.IsControl) {
			t.Errorf("the fault %.300q", text)
		}
	}
	if !said {
		t.Errorf("the faults are %.500q; want one with %q", faults, want)
	}
}

func deep(levels int) string {
	return strings.Repeat(`{"a":[`, levels/2) + strings.Repeat("]}", levels/2)
}

// TestHostileRecords: a record that nobody's browser has saved is refused at its
// place, or read without harm.
func TestHostileRecords(t *testing.T) {
	facts := func(s string) string { return "{\"pond record\": 1, \"facts\": {\n" + s + "}}" }
	const file = "content/ponds/a.json"
	for name, c := range map[string]struct{ text, want string }{
		"nothing":            {"", ":1:1: is not JSON"},
		"NUL":                {"\x00", ":1:1: is not JSON"},
		"NUL in a fact":      {facts("\"volume\": \"9\x00 L\""), ":2:13: is not JSON"},
		"byte order mark":    {"\uFEFF" + facts(`"volume": "9100 L"`), ":1:1: is not JSON"},
		"not UTF-8":          {facts("\"volume\": \"9\xff L\""), ":2:1: volume: "},
		"lone surrogate":     {facts(`"volume": "9\ud800 L"`), ":2:1: volume: "},
		"escape":             {facts(`"\u001b[2J": "9 L"`), ":2:1: "},
		"line break":         {facts(`"vol\nume": "9 L"`), ":2:1: "},
		"cut short":          {`{"pond record": 1, "facts": {"vol`, ":1:33: is not JSON"},
		"two values":         {facts("") + facts(""), ":2:3: is not JSON"},
		"1,000 levels":       {facts(`"volume": ` + deep(1000)), ":2:1: volume: is no text"},
		"100,000 levels":     {facts(`"volume": ` + deep(100_000)), ":2:"},
		"levels not closed":  {strings.Repeat("[", 1_000_000), ":1:"},
		"too long":           {strings.Repeat(" ", 10_000_000), ": is longer than any pond record"},
		"key twice":          {facts(`"volume": "9100 L", "volume": "1 L"`), ":2:21: volume: stands twice"},
		"facts twice":        {`{"pond record": 1, "facts": {"volume": "9100 L"}, "facts": {}}`, ":1:51: facts: stands twice"},
		"1e308":              {facts(`"volume": "1e308 L"`), ":2:1: volume: "},
		"1e308, a number":    {facts(`"volume": 1e308`), ":2:1: volume: is no text"},
		"1e999, a number":    {facts(`"volume": 1e999`), ":1:20: facts: are no list"},
		"version 1e999":      {`{"pond record": 1e999, "facts": {}}`, ": is no pond record"},
		"not a number":       {facts(`"volume": "NaN"`), ":2:1: volume: "},
		"infinite":           {facts(`"volume": "Inf L"`), ":2:1: volume: "},
		"10,000 digits":      {facts(`"volume": "` + strings.Repeat("9", 10_000) + ` L"`), ":2:1: volume: "},
		"nothing but a null": {"null", ": is no pond record"},
		"null facts":         {`{"pond record": 1, "facts": null}`, ""},
		"prototype":          {facts(`"__proto__": "x"`), ":2:1: __proto__: no calculator asks for it"},
		"HTML":               {facts(`"fish": "<script>alert(1)</script>"`), ":2:1: fish"},
		"a formula":          {facts(`"volume": "=1+1"`), ":2:1: volume: "},
		"100,000 fish":       {facts(`"fish": "` + strings.Repeat("koi, 30 cm, 20; ", 60_000) + `"`), ":2:1: fish"},
	} {
		t.Run(name, func(t *testing.T) {
			_, faults := within(t, fstest.MapFS{file: {Data: []byte(c.text)}})
			check(t, file, c.want, faults)
		})
	}
}

// TestHostileLogs: so is a log.
func TestHostileLogs(t *testing.T) {
	reading := func(s string) string { return "{\"pond log\": 1, \"readings\": [\n" + s + "]}" }
	numbers := func(s string) string { return reading(`{"at": "2025-07-12T07:05:00+02:00", "numbers": {` + s + `}}`) }
	const file = "content/ponds/a-log.json"
	for name, c := range map[string]struct{ text, want string }{
		"nothing":           {"", ":1:1: is not JSON"},
		"NUL":               {"{\x00", ":1:2: is not JSON"},
		"byte order mark":   {"\uFEFF{}", ":1:1: is not JSON"},
		"cut short":         {reading(`{"at": "2025`), ":2:"},
		"1,000 levels":      {reading(deep(1000)), ":2:1: "},
		"1,000 levels deep": {reading(`{"at": ` + deep(1000) + `}`), ":2:1: is no reading"},
		"100,000 levels":    {reading(deep(100_000)), ":2:"},
		"too long":          {strings.Repeat(" ", 20_000_001), ": is longer than any log"},
		"10 MB in a note":   {reading(`{"at": "2025-07-12T07:05:00+02:00", "note": "` + strings.Repeat("x", 10_000_000) + `"}`), ""},
		"100,000 readings":  {reading(strings.Repeat(`{"at": "x"},`, 100_000) + `{"at": "x"}`), ":2:1: the date is"},
		"key twice":         {numbers(`"ph": 7, "ph": 8`), ":2:58: ph: stands twice"},
		"readings twice":    {`{"pond log": 1, "readings": [], "readings": []}`, ":1:33: readings: stands twice"},
		"1e308":             {numbers(`"ph": 1e308`), ":2:1: ph is "},
		"1e999":             {numbers(`"ph": 1e999`), ":2:1: is no reading"},
		"minus nothing":     {numbers(`"ph": -1e-320`), ":2:1: ph is "},
		"a text":            {numbers(`"ph": "7"`), ":2:1: is no reading"},
		"unknown, escaped":  {numbers(`"\u001b[2J": 7`), ":2:1: "},
		"year 292277026596": {reading(`{"at": "292277026596-01-01T00:00:00Z", "note": "x"}`), ":2:1: the date is"},
		"31 February":       {reading(`{"at": "2025-02-31T00:00:00Z", "note": "x"}`), ":2:1: the date is"},
		"HTML in a choice":  {reading(`{"at": "2025-07-12T07:05:00+02:00", "choices": {"fish": "<script>"}}`), ":2:1: fish is"},
		"a null":            {reading("null"), ":2:1: the date is"},
		"CSV":               {"date,ph\r\n2025-07-12,=1+1\r\n", ":1:1: is not JSON"},
	} {
		t.Run(name, func(t *testing.T) {
			_, faults := within(t, fstest.MapFS{
				"content/ponds/a.json": {Data: []byte(`{"pond record": 1, "facts": {"volume": "9100 L"}}`)},
				file:                   {Data: []byte(c.text)},
			})
			check(t, file, c.want, faults)
		})
	}
}

// TestHostileNames: what is not named like a pond is none, with a line that does
// nothing to a terminal.
func TestHostileNames(t *testing.T) {
	record := &fstest.MapFile{Data: []byte(`{"pond record": 1, "facts": {"volume": "9100 L"}}`)}
	for _, name := range []string{"A.JSON", "a\nb.txt", "\x1b[2J", "-log.json", "x-log.json"} {
		_, faults := within(t, fstest.MapFS{"content/ponds/a.json": record, "content/ponds/" + name: record})
		if len(faults) == 0 {
			t.Errorf("%q is accepted", name)
		}
		for _, d := range faults {
			if text := d.String(); strings.ContainsFunc(text, unicode.IsControl) {
				t.Errorf("%q", text)
			}
		}
	}
}
