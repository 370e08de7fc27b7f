package press

import (
	"fmt"
	"os"
	"path/filepath"
	"time"

	"mereleaf/cmd/mereleaf/internal/edition"
	"mereleaf/cmd/mereleaf/internal/onefile"
)

// SingleName is the file that holds the whole handbook, beside the web edition.
const SingleName = "mereleaf.html"

// File is an edition in one file.
type File struct {
	Path  string
	Bytes int
}

// single packs the leaves that are staged, and what they load, into one file.
func (s *stage) single(p *Press, b *Build) ([]byte, error) {
	start := time.Now()
	defer p.log.done(PhaseSingle, start)
	o := onefile.Book{Title: b.Book.Config.Title, Language: b.Book.Config.Language, Assets: b.Assets, Files: b.Files()}
	for _, page := range b.Pages {
		if page.Path == edition.Missing {
			continue // it stands for addresses, which a file has none of
		}
		text, err := os.ReadFile(filepath.Join(s.folder, filepath.FromSlash(page.Path)))
		if err != nil {
			return nil, err
		}
		o.Leaves = append(o.Leaves, onefile.Leaf{Path: page.Path, HTML: text})
	}
	return onefile.Write(o)
}

// put writes a file beside its place and moves it there, so that nobody ever
// opens half of one.
func put(path string, content []byte) error {
	f, err := os.CreateTemp(filepath.Dir(path), ".edition-")
	if err != nil {
		return unwritable(path, err)
	}
	defer os.Remove(f.Name()) // does nothing once it has moved
	_, err = f.Write(content)
	if e := f.Close(); err == nil {
		err = e
	}
	if err == nil {
		err = os.Chmod(f.Name(), 0o644)
	}
	if err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		return fmt.Errorf("%s: cannot be written: %w; the previous one is untouched; free the place and run it again", path, err)
	}
	return nil
}
