package command

// What this program writes, and where:
//
//   - Results go to stdout, one line each: a count, a path, an address. The
//     answer of reckon is a text, broken at 80 columns.
//   - Progress and faults go to stderr. A fault is one line: "file:line:column:
//     what is wrong; expected …; what to do", or "mereleaf: …" if it has no file.
//   - Progress is a line that overwrites itself on a terminal; elsewhere it is
//     one line for each phase, when it is over.
//   - No colours and no symbols that a plain terminal or a screen reader lacks.
//   - Messages begin in lower case and end without a full stop; help and answers
//     are sentences.
//   - The exit code is 0 if all went well and 1 otherwise.

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"mereleaf/cmd/mereleaf/internal/diag"
)

// fail reports an error, one line for each fault, and says how it went as an
// exit code.
func (e *environment) fail(err error) int {
	switch {
	case err == nil:
		return 0
	case errors.Is(err, context.Canceled):
		fmt.Fprintln(e.stderr, "mereleaf: stopped")
		return 1
	}
	e.faults(err)
	return 1
}

func (e *environment) faults(err error) {
	prefix := "mereleaf: "
	var list diag.List
	var one diag.Diagnostic
	if errors.As(err, &list) || errors.As(err, &one) {
		prefix = "" // the file comes first
	}
	for line := range strings.Lines(err.Error()) {
		fmt.Fprintln(e.stderr, prefix+plain(strings.TrimRight(line, "\n")))
	}
}

// plain replaces no-break spaces, which a terminal may show as something else.
func plain(s string) string { return strings.NewReplacer("\u00a0", " ", "\u202f", " ").Replace(s) }

// result prints one line of result.
func (e *environment) result(format string, args ...any) {
	fmt.Fprintf(e.stdout, format+"\n", args...)
}

// isTerminal reports whether a person watches the writer.
func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	if !ok {
		return false
	}
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0 && os.Getenv("TERM") != "dumb"
}

// progress shows the phases of a build.
type progress struct {
	out   io.Writer
	live  bool // overwrite the line
	shown int  // characters of the line on the terminal
}

func (e *environment) progress() *progress {
	return &progress{out: e.stderr, live: isTerminal(e.stderr)}
}

// Step shows how far a phase has come, on a terminal only. total 0 stands for
// not known.
func (p *progress) Step(phase string, done, total int) {
	if !p.live {
		return
	}
	line := phase + " …"
	if total > 0 {
		line = fmt.Sprintf("%s … %d of %d", phase, done, total)
	}
	p.overwrite(line)
}

// Done says that a phase is over and how long it took.
func (p *progress) Done(phase string, took time.Duration) {
	if p.live {
		p.overwrite("")
		p.shown = 0
		fmt.Fprint(p.out, "\r")
	}
	fmt.Fprintf(p.out, "%-24s %8s\n", phase, duration(took))
}

// Break ends a line that has not come to its end, before a fault is printed.
func (p *progress) Break() {
	if p.live && p.shown > 0 {
		p.overwrite("")
		fmt.Fprint(p.out, "\r")
		p.shown = 0
	}
}

func (p *progress) overwrite(line string) {
	fmt.Fprint(p.out, "\r"+line+strings.Repeat(" ", max(p.shown-len(line), 0)))
	p.shown = len(line)
}

// duration prints a time: milliseconds below ten seconds.
func duration(d time.Duration) string {
	if d < 10*time.Second {
		return fmt.Sprintf("%d ms", d.Milliseconds())
	}
	return fmt.Sprintf("%.1f s", d.Seconds())
}

// size prints a count of bytes in decimal units, as file managers and data
// plans do.
func size(bytes int64) string {
	if bytes < 1_000_000 {
		return fmt.Sprintf("%.1f kB", float64(bytes)/1e3)
	}
	return fmt.Sprintf("%.1f MB", float64(bytes)/1e6)
}
