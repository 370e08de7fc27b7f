package command

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"strconv"
	"strings"

	"mereleaf/cmd/mereleaf/internal/book"
	"mereleaf/cmd/mereleaf/internal/page"
)

type draftCommand struct {
	Chapter string `arg:"" name:"part/name" help:"The part's folder and a short name, such as water/nitrite."`
}

func (draftCommand) Help() string {
	return `The file is Markdown: the first heading is the title, the first paragraph the answer in short. Its number only gives the order; rename the file to move the chapter.`
}

// step leaves room between two chapters for others.
const step = 10

func (c draftCommand) Run(e *environment) error {
	folder, err := e.project()
	if err != nil {
		return err
	}
	part, name, ok := strings.Cut(c.Chapter, "/")
	if !ok {
		return fmt.Errorf("%q does not say which part; expected part/name, such as water/nitrite", c.Chapter)
	}
	root, err := os.OpenRoot(folder)
	if err != nil {
		return err
	}
	defer root.Close()
	if err := knownPart(root.FS(), part); err != nil {
		return err
	}
	if !legalName(name) {
		return fmt.Errorf("%q is not a chapter's name; expected lower-case words joined by hyphens, such as new-tower; choose another", name)
	}
	file, err := nextFile(root.FS(), path.Join("content", part), name)
	if err != nil {
		return err
	}
	if err := createFile(root, file, starter(name)); err != nil {
		return err
	}
	e.result("%s", file)
	return nil
}

// knownPart refuses a folder that the handbook does not list.
func knownPart(fsys fs.FS, part string) error {
	config, faults := book.ReadConfig(fsys)
	if err := faults.Err(); err != nil {
		return err
	}
	var folders []string
	for _, p := range config.Parts {
		if p.Folder == part {
			return nil
		}
		folders = append(folders, p.Folder)
	}
	return fmt.Errorf("there is no part %q; expected one of %s; parts are listed in %s", part, strings.Join(folders, ", "), book.ConfigFile)
}

// legalName accepts what a calculator's ID may be, because both become the name
// of a page.
func legalName(name string) bool {
	for word := range strings.SplitSeq(name, "-") {
		if word == "" || strings.Trim(word, "abcdefghijklmnopqrstuvwxyz0123456789") != "" {
			return false
		}
	}
	return name != "index" && len(name) <= 60 // a part has an index already
}

// nextFile returns the name of a new last chapter of a part, in which no other
// may have the same name.
func nextFile(fsys fs.FS, folder, name string) (string, error) {
	entries, err := fs.ReadDir(fsys, folder)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return "", fmt.Errorf("%s: cannot be read: %w; expected a folder of this project", folder, reason(err))
	}
	last := 0
	for _, entry := range entries {
		digits, rest, ok := strings.Cut(entry.Name(), "-")
		number, err := strconv.Atoi(digits)
		if !ok || err != nil {
			continue
		}
		if rest == name+".md" {
			return "", fmt.Errorf("%s: this chapter exists; write in it, or choose another name", path.Join(folder, entry.Name()))
		}
		last = max(last, number)
	}
	return path.Join(folder, fmt.Sprintf("%02d-%s.md", last/step*step+step, name)), nil
}

func createFile(root *os.Root, file, text string) error {
	if err := root.MkdirAll(path.Dir(file), 0o755); err != nil {
		return fmt.Errorf("%s: cannot be made: %w", path.Dir(file), reason(err))
	}
	f, err := root.OpenFile(file, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return fmt.Errorf("%s: cannot be written: %w", file, reason(err))
	}
	_, err = f.WriteString(text)
	return errors.Join(err, f.Close())
}

// reason drops the path and the name of the system call from an error, where
// the message has them already.
func reason(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}

// starter is a chapter that verify accepts when its sentences are written over.
func starter(name string) string {
	title := strings.ReplaceAll(name, "-", " ")
	return page.Starter(strings.ToUpper(title[:1]) + title[1:])
}
