// Package booktest lays out handbooks for tests: chapters of a test's own, with
// this repository's theme, calculators, figures and sources.
//
// It touches files.
package booktest

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// Repository returns the folder of this repository, found from the working
// directory, which in a test is the package's folder.
func Repository() (string, error) {
	start, err := os.Getwd()
	if err != nil {
		return "", err
	}
	for folder := start; ; folder = filepath.Dir(folder) {
		if _, err := os.Stat(filepath.Join(folder, "go.mod")); err == nil {
			return folder, nil
		}
		if folder == filepath.Dir(folder) {
			return "", fmt.Errorf("no go.mod above %s", start)
		}
	}
}

// LayOut makes a project in the folder to: the folder content with chapters,
// handbook.toml and terms.md, and everything else that a handbook is made from
// out of the repository. The program itself is not there; see Copy.
func LayOut(to, content string) error {
	repository, err := Repository()
	if err != nil {
		return err
	}
	if err := Copy(content, filepath.Join(to, "content")); err != nil {
		return err
	}
	for _, name := range []string{"theme", "calculators", "testdata", "content/sources.json", "cautions.go", "ponds.go", "go.mod", "go.sum"} {
		name = filepath.FromSlash(name)
		if err := Copy(filepath.Join(repository, name), filepath.Join(to, name)); err != nil {
			return err
		}
	}
	return nil
}

// Copy copies a file, or a folder without the tests of Go packages and their
// test data, from which nothing is made.
func Copy(from, to string) error {
	return filepath.WalkDir(from, func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && d.Name() == "testdata" && path != from:
			return fs.SkipDir
		case d.IsDir() || strings.HasSuffix(path, "_test.go"):
			return nil
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		target := filepath.Join(to, strings.TrimPrefix(path, from))
		return errors.Join(os.MkdirAll(filepath.Dir(target), 0o755), os.WriteFile(target, text, 0o644))
	})
}

// Repeat adds copies of the chapters of a laid out project until there are count
// of them. The copies differ from the originals in their number and name, and in
// a sentence of their own at the end.
func Repeat(project string, count int) error {
	chapters, err := filepath.Glob(filepath.Join(project, "content", "*", "*.md"))
	if err != nil || len(chapters) == 0 {
		return errors.Join(err, errors.New("no chapters to repeat"))
	}
	for i := range count - len(chapters) {
		from := chapters[i%len(chapters)]
		text, err := os.ReadFile(from)
		if err != nil {
			return err
		}
		_, name, _ := strings.Cut(filepath.Base(from), "-")
		to := fmt.Sprintf("%04d-%s-%d.md", 1000+i, strings.TrimSuffix(name, ".md"), i)
		text = append(text, fmt.Sprintf("\nThis is copy %d.\n", i)...)
		if err := os.WriteFile(filepath.Join(filepath.Dir(from), to), text, 0o644); err != nil {
			return err
		}
	}
	return nil
}
