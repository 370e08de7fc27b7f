package command

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"mereleaf/cmd/mereleaf/internal/diag"
)

// screen plays a terminal: it returns what stands in each line after carriage
// returns have overwritten it.
func screen(written string) string {
	var lines []string
	for line := range strings.SplitSeq(written, "\n") {
		var cells []rune
		for i, pass := range strings.Split(line, "\r") {
			for at, r := range []rune(pass) {
				if i > 0 && at < len(cells) {
					cells[at] = r
				} else {
					cells = append(cells, r)
				}
			}
		}
		lines = append(lines, strings.TrimRight(string(cells), " "))
	}
	return strings.Join(lines, "\n")
}

// TestProgressOnATerminal: a finished phase leaves one clean line, whatever
// stood there while it went on.
func TestProgressOnATerminal(t *testing.T) {
	var out strings.Builder
	p := &progress{out: &out, live: true}
	p.Step("set the pages", 0, 0)
	p.Step("set the pages", 999, 1000)
	p.Step("set the pages", 1, 9)
	p.Done("set the pages", 84*time.Millisecond)
	p.Step("put in place", 0, 0)
	p.Break()
	fmt.Fprint(&out, "a fault")
	if got, want := screen(out.String()), "set the pages               84 ms\na fault"; got != want {
		t.Errorf("the terminal shows %q, want %q", got, want)
	}
}

// TestProgressElsewhere: a log file gets finished phases only.
func TestProgressElsewhere(t *testing.T) {
	var out strings.Builder
	p := (&environment{stderr: &out}).progress()
	p.Step("set the pages", 1, 9)
	p.Done("set the pages", 12*time.Second)
	p.Break()
	if got, want := out.String(), "set the pages              12.0 s\n"; got != want {
		t.Errorf("the log holds %q, want %q", got, want)
	}
}

func TestFail(t *testing.T) {
	at := func(line int) diag.Diagnostic {
		return diag.Diagnostic{Position: diag.Position{File: "content/a.md", Line: line}, Problem: "holds 9.1\u00a0mg/L"}
	}
	for _, test := range []struct {
		err  error
		code int
		want string
	}{
		{nil, 0, ""},
		{errors.New("no handbook here"), 1, "mereleaf: no handbook here\n"},
		{errors.New("tan: is missing\nph: is 15"), 1, "mereleaf: tan: is missing\nmereleaf: ph: is 15\n"},
		{at(3), 1, "content/a.md:3: holds 9.1 mg/L\n"},
		{diag.List{at(9), at(3)}, 1, "content/a.md:3: holds 9.1 mg/L\ncontent/a.md:9: holds 9.1 mg/L\n"},
		{fmt.Errorf("stopped while reading: %w", context.Canceled), 1, "mereleaf: stopped\n"},
	} {
		var out strings.Builder
		e := &environment{stderr: &out}
		if code := e.fail(test.err); code != test.code || out.String() != test.want {
			t.Errorf("fail(%v) = %d and %q, want %d and %q", test.err, code, out.String(), test.code, test.want)
		}
	}
}

func TestUnitsOfOutput(t *testing.T) {
	for _, test := range []struct{ got, want string }{
		{duration(1234 * time.Microsecond), "1 ms"},
		{duration(9999 * time.Millisecond), "9999 ms"},
		{duration(90 * time.Second), "90.0 s"},
		{size(512), "0.5 kB"},
		{size(819_700), "819.7 kB"},
		{size(3_200_000), "3.2 MB"},
		{count(1, "page"), "1 page"},
		{count(0, "page"), "0 pages"},
	} {
		if test.got != test.want {
			t.Errorf("printed %q, want %q", test.got, test.want)
		}
	}
}
