package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"

	"mereleaf/cmd/mereleaf/internal/book/booktest"
	"mereleaf/cmd/mereleaf/internal/command"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"mereleaf": main})
}

// TestScript runs testdata/script/*.txtar. Each starts in a small handbook of
// its own: the chapters of testdata/project, with this repository's theme,
// calculators, figures and sources.
func TestScript(t *testing.T) {
	environment := goEnvironment(t)
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(e *testscript.Env) error {
			e.Vars = append(e.Vars, environment...)
			port, err := freePort()
			if err != nil {
				return err
			}
			program, err := exec.LookPath("mereleaf")
			if err != nil {
				return err
			}
			e.Setenv("BIN", filepath.Dir(program)) // a PATH with this program only
			e.Setenv("PORT", port)
			e.Cd = filepath.Join(e.WorkDir, "pond")
			if err := booktest.LayOut(e.Cd, "testdata/project/content"); err != nil {
				return err
			}
			if err := booktest.Copy(filepath.FromSlash("../../content/ponds"), filepath.Join(e.Cd, "content", "ponds")); err != nil {
				return err // without what it takes along, the program does not compile
			}
			return booktest.Copy(".", filepath.Join(e.Cd, "cmd", "mereleaf"))
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"fetch": fetch, "replace": replace},
	})
}

// goEnvironment lets scripts, which run without a home, use the compiler's
// cache.
func goEnvironment(t *testing.T) []string {
	t.Helper()
	var vars []string
	for _, name := range []string{"GOCACHE", "GOMODCACHE", "GOPROXY", "GOFLAGS", "GOTOOLCHAIN"} {
		value, err := exec.Command("go", "env", name).Output()
		if err != nil {
			t.Fatal(err)
		}
		vars = append(vars, name+"="+strings.TrimSpace(string(value)))
	}
	return vars
}

func freePort() (string, error) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return "", err
	}
	_, port, err := net.SplitHostPort(l.Addr().String())
	return port, errors.Join(err, l.Close())
}

// patience is how long the slowest step of a preview may take: compiling the
// whole program on a busy machine.
const patience = 5 * time.Minute

// fetch PATH PATTERN waits until the preview on $PORT answers with text that
// matches. It exists because a preview prints again some time after an edit.
func fetch(ts *testscript.TestScript, not bool, args []string) {
	if not || len(args) != 2 {
		ts.Fatalf("usage: fetch PATH PATTERN")
	}
	want := regexp.MustCompile(args[1])
	address := "http://127.0.0.1:" + ts.Getenv("PORT") + "/" + args[0]
	last := ""
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		text, err := body(address, want)
		if err != nil {
			text = err.Error()
		}
		if want.MatchString(text) {
			return
		}
		last = text
	}
	ts.Fatalf("%s never matched %s; last:\n%s", address, args[1], last)
}

// body reads until the text matches, because an event stream does not end.
func body(address string, want *regexp.Regexp) (string, error) {
	client := http.Client{Timeout: 5 * time.Second, Transport: &http.Transport{DisableKeepAlives: true}}
	r, err := client.Get(address)
	if err != nil {
		return "", err
	}
	defer r.Body.Close()
	text := fmt.Sprintf("HTTP %d\n", r.StatusCode)
	piece := make([]byte, 32<<10)
	for {
		n, err := r.Body.Read(piece)
		text += string(piece[:n])
		if want.MatchString(text) || errors.Is(err, io.EOF) {
			return text, nil
		}
		if err != nil {
			return text, nil // a stream that was silent for too long
		}
	}
}

// replace FILE OLD NEW edits a file in place, as a keeper with an editor does.
// OLD must stand in it exactly once.
func replace(ts *testscript.TestScript, not bool, args []string) {
	if not || len(args) != 3 {
		ts.Fatalf("usage: replace FILE OLD NEW")
	}
	text := ts.ReadFile(args[0])
	if n := strings.Count(text, args[1]); n != 1 {
		ts.Fatalf("%s holds %q %d times, want once", args[0], args[1], n)
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(strings.Replace(text, args[1], args[2], 1)), 0o644))
}

// TestReadmeShowsTheHelp compares the README with what the program prints.
func TestReadmeShowsTheHelp(t *testing.T) {
	readme, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if errors.Is(err, fs.ErrNotExist) {
		t.Skip("no README.md to compare with")
	}
	if err != nil {
		t.Fatal(err)
	}
	var help, faults bytes.Buffer
	if code := command.Run(t.Context(), []string{"help"}, strings.NewReader(""), &help, &faults); code != 0 || faults.Len() > 0 {
		t.Fatalf("help ended with %d and said %q", code, faults.String())
	}
	if block := "```text\n" + help.String() + "```\n"; !strings.Contains(string(readme), block) {
		t.Errorf("README.md does not show the help; put the output of \"go run ./cmd/mereleaf help\" into a block that begins with ```text:\n%s", block)
	}
}
