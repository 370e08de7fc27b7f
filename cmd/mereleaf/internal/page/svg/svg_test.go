package svg

import (
	"encoding/xml"
	"errors"
	"flag"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/txtar"
	"pgregory.net/rapid"

	"mereleaf/cmd/mereleaf/internal/diag/diagtest"
)

// update rewrites the rendered drawings of testdata/render, and nothing else.
var update = flag.Bool("update", false, "rewrite the rendered drawings of testdata/render")

// part returns a file of an archive.
func part(t *testing.T, a *txtar.Archive, name string) []byte {
	t.Helper()
	for _, f := range a.Files {
		if f.Name == name {
			return f.Data
		}
	}
	t.Fatalf("the archive lacks %s", name)
	return nil
}

func archives(t *testing.T, pattern string) []string {
	t.Helper()
	names, err := filepath.Glob(pattern)
	if err != nil || len(names) == 0 {
		t.Fatalf("no archives match %s (%v)", pattern, err)
	}
	return names
}

// TestFaults reads each archive's in.svg and compares the faults, all of them,
// with its faults.
func TestFaults(t *testing.T) {
	for _, name := range archives(t, "testdata/faults/*.txtar") {
		t.Run(strings.TrimSuffix(filepath.Base(name), ".txtar"), func(t *testing.T) {
			a, err := txtar.ParseFile(name)
			if err != nil {
				t.Fatal(err)
			}
			text, marks := diagtest.Strip("in.svg", part(t, a, "in.svg"))
			_, faults := Read("in.svg", text)
			if diff := cmp.Diff(faults.Error()+"\n", diagtest.Expand(part(t, a, "faults"), marks)); diff != "" {
				t.Errorf("faults (-got +want):\n%s", diff)
			}
		})
	}
}

// TestRender compares each archive's in.svg, as it stands in a page, with its
// out.html.
func TestRender(t *testing.T) {
	for _, name := range archives(t, "testdata/render/*.txtar") {
		t.Run(strings.TrimSuffix(filepath.Base(name), ".txtar"), func(t *testing.T) {
			a, err := txtar.ParseFile(name)
			if err != nil {
				t.Fatal(err)
			}
			d, faults := Read("in.svg", part(t, a, "in.svg"))
			if len(faults) > 0 {
				t.Fatal(faults)
			}
			got := d.HTML(`Lid & "recess"`) + "\n"
			if *update {
				a.Files[1].Data = []byte(got)
				if err := os.WriteFile(name, txtar.Format(a), 0o666); err != nil {
					t.Fatal(err)
				}
				return
			}
			if diff := cmp.Diff(got, string(part(t, a, "out.html"))); diff != "" {
				t.Errorf("HTML (-got +want); go test -update rewrites it:\n%s", diff)
			}
		})
	}
}

// TestAnyMixtureIsRefusedOrSafe: whatever the file holds, reading it ends, and
// what is accepted has only elements and attributes that a page may have.
func TestAnyMixtureIsRefusedOrSafe(t *testing.T) {
	piece := rapid.SampledFrom([]string{
		`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 344 20">`, `</svg>`, `<g font-size="12">`, `<g id="a">`, `</g>`, `<path d="M0 0"/>`,
		`<text x="1">`, `<tspan>`, `</tspan>`, `</text>`, `<title>`, `</title>`, "<style>*{}</style>", `<script/>`, `<a href="x:y">`, `</a>`, "words", " ", "\n",
		"<!-- c -->", "<!DOCTYPE svg>", `<?xml version="1.0"?>`, "<?php x?>", "&amp;", "&lt;", "&x;", "<![CDATA[<b>]]>", `<line x1='1'x1="2"/>`, `<rect onclick="x"`, ">", `fill="red"`, "=", `"`, "\uFEFF", "\xff",
	})
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOfN(piece, 0, 12).Draw(t, "pieces"), "")
		if rapid.Bool().Draw(t, "whole") {
			text = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 344 20">` + text + "</svg>"
		}
		d, faults := Read("in.svg", []byte(text))
		for _, f := range faults {
			if f.Line < 1 || f.Column < 1 || strings.Contains(f.String(), "\n") {
				t.Fatalf("a fault without a place: %s", f)
			}
		}
		if len(faults) == 0 {
			checkSafe(t, d.HTML("x"))
		}
	})
}

func checkSafe(t *rapid.T, html string) {
	d := xml.NewDecoder(strings.NewReader(html))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return
		}
		if err != nil {
			t.Fatalf("%v in %s", err, html)
		}
		e, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		switch e.Name.Local {
		case "a", "script", "style", "foreignObject", "use", "image", "animate", "set":
			t.Fatalf("%s in %s", e.Name.Local, html)
		}
		for _, a := range e.Attr {
			if n := a.Name.Local; n == "id" || n == "style" || n == "href" || strings.HasPrefix(n, "on") || strings.Contains(a.Value, "url(") {
				t.Fatalf("%s in %s", n, html)
			}
		}
	}
}
