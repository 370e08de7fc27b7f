package command

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"mereleaf/cmd/mereleaf/internal/build"
	"mereleaf/cmd/mereleaf/internal/preview"
	"mereleaf/cmd/mereleaf/internal/scratch"
	"mereleaf/cmd/mereleaf/internal/website/bundle"
)

type makeCommand struct{}

func (makeCommand) Help() string {
	return `Everything is checked first. If there is one fault, or anything else goes wrong, out/web stays as it was.

Put the folder out/web on any static hosting, at any address; it needs no server program.`
}

func (makeCommand) Run(e *environment) error {
	root, err := e.project()
	if err != nil {
		return err
	}
	show := e.progress()
	report, err := build.Make(e.ctx, build.Options{Root: root, Calculators: e.calculators, Progress: show})
	show.Break()
	if err != nil {
		return err
	}
	e.result("chapters   %6d", report.Chapters)
	e.result("pages      %6d", report.Pages)
	e.result("files      %6d  %s", report.Files, size(report.Bytes))
	for _, a := range report.Assets {
		e.result("%-17s  %s, %s compressed", assetName(a), size(int64(a.Raw)), size(int64(a.Gzip)))
	}
	e.result("edition    %s", filepath.ToSlash(shorten(report.Out, root)))
	for _, f := range report.Beside {
		e.result("           %s, %s", filepath.ToSlash(shorten(f.Path, root)), size(int64(f.Bytes)))
	}
	return nil
}

// assetName drops the folder and the hash, which is news to nobody:
// "assets/leaf-1a2b3c4d.css" is "leaf.css".
func assetName(a bundle.Size) string {
	name := filepath.Base(a.Path)
	ext := filepath.Ext(name)
	stem, _, _ := strings.Cut(name, "-")
	return strings.TrimSuffix(stem, ext) + ext
}

// shorten gives a path in the project relative to it.
func shorten(path, root string) string {
	if rel, err := filepath.Rel(root, path); err == nil {
		return rel
	}
	return path
}

type previewCommand struct {
	Port int `default:"${port}" placeholder:"N" help:"Port to serve on; 0 takes any free one (default: ${port})."`
}

func (previewCommand) Help() string {
	return `Open the printed address in a browser. A saved chapter, style sheet or calculator is in the page a moment later. A fault is shown in the terminal and in the page, and the last good pages stay until it is mended. Ctrl-C ends it.`
}

func (c previewCommand) Run(e *environment) (err error) {
	root, err := e.project()
	if err != nil {
		return err
	}
	if c.Port < 0 || c.Port > 65535 {
		return fmt.Errorf("port %d does not exist; expected 1 to 65535, or 0 for any free one; choose another with --port", c.Port)
	}
	out := filepath.Join(root, "out")
	workshop, err := scratch.TakeOne(filepath.Join(out, ".preview-"))
	if err != nil {
		return fmt.Errorf("%s: the preview cannot write its programs there: %w; free the place and run it again", out, err)
	}
	defer func() {
		err = errors.Join(err, workshop.Close())
		_ = os.Remove(out) // if it is empty
	}()
	return preview.Run(e.ctx, preview.Options{
		Root:        root,
		Port:        c.Port,
		Calculators: e.calculators,
		Terminal:    &desk{progress: e.progress(), stdout: e.stdout},
		Workshop:    workshop.Path,
		Succeed: func(program string, port int) error {
			return succeed(program, "--project", root, "preview", "--port", strconv.Itoa(port))
		},
	})
}

// desk is the terminal of a preview. Once it serves, an edit gets one line: its
// phases take less time than to read about them.
type desk struct {
	*progress
	stdout  io.Writer
	serving bool
}

func (d *desk) Done(phase string, took time.Duration) {
	if d.serving {
		d.Break()
		return
	}
	d.progress.Done(phase, took)
}

func (d *desk) Serving(address string) {
	d.Break()
	fmt.Fprintln(d.stdout, "serving on "+address+" (Ctrl-C ends it)")
	d.serving = true
}

func (d *desk) Changed(pages int, took time.Duration) {
	d.Break()
	fmt.Fprintf(d.out, "%s in order, %s changed, %s\n", time.Now().Format(time.TimeOnly), count(pages, "page"), duration(took))
}

func (d *desk) Faults(err error) {
	d.Break()
	fmt.Fprintf(d.out, "%s %s, the pages stay as they were\n", time.Now().Format(time.TimeOnly), count(strings.Count(err.Error(), "\n")+1, "fault"))
	fmt.Fprintln(d.out, plain(err.Error()))
}

func count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return strconv.Itoa(n) + " " + thing + "s"
}
