package command

import (
	"fmt"
	"os"
	"path/filepath"

	"mereleaf/cmd/mereleaf/internal/book"
)

// project returns the folder of the handbook to work on.
func (e *environment) project() (string, error) {
	if e.folder != "" {
		folder, err := filepath.Abs(e.folder)
		if err != nil {
			return "", err
		}
		if !holdsHandbook(folder) {
			return "", fmt.Errorf("%s: no handbook here; expected %s in it; give another --project", e.folder, book.ConfigFile)
		}
		return folder, nil
	}
	start, err := os.Getwd()
	if err != nil {
		return "", err
	}
	for folder := start; ; folder = filepath.Dir(folder) {
		if holdsHandbook(folder) {
			return folder, nil
		}
		if folder == filepath.Dir(folder) {
			return "", fmt.Errorf("no handbook here; expected %s in this folder or one above it; change to the handbook's folder or give --project DIR", book.ConfigFile)
		}
	}
}

func holdsHandbook(folder string) bool {
	_, err := os.Stat(filepath.Join(folder, filepath.FromSlash(book.ConfigFile)))
	return err == nil
}
