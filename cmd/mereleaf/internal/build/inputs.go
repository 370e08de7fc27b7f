package build

import (
	"crypto/sha256"
	"errors"
	"io"
	"io/fs"
	"maps"
	"slices"
	"strings"

	"mereleaf/cmd/mereleaf/internal/diag"
)

// sources are the files and folders that a handbook is made of.
func sources() []string {
	return []string{"content", "theme", "calculators", "testdata/reference", "cautions.go", "ponds.go", "go.mod", "go.sum"}
}

// inputs are digests of the files that a handbook is made of, by their paths.
type inputs map[string][sha256.Size]byte

// inputs reads them all. It goes by what is in them: clocks jump, and an editor may
// keep a file's date. What cannot be read is left for those who need it to report.
func (p *Press) inputs() inputs {
	found := inputs{}
	for _, source := range sources() {
		_ = fs.WalkDir(p.files(), source, func(path string, d fs.DirEntry, err error) error {
			switch {
			case err != nil:
				return nil
			case strings.HasPrefix(d.Name(), ".") || strings.HasPrefix(d.Name(), "#") || strings.HasSuffix(d.Name(), "~"):
				// Left by editors and systems. A file of such a name is in no handbook.
				if d.IsDir() {
					return fs.SkipDir
				}
			case d.Type().IsRegular():
				if sum, err := digest(p.files(), path); err == nil {
					found[path] = sum
				}
			}
			return nil
		})
	}
	return found
}

func digest(fsys fs.FS, path string) (sum [sha256.Size]byte, err error) {
	f, err := fsys.Open(path)
	if err != nil {
		return sum, err
	}
	h := sha256.New()
	_, err = io.Copy(h, f)
	return [sha256.Size]byte(h.Sum(nil)), errors.Join(err, f.Close())
}

// changed names what differs from before, as faults: an edition of which one page
// was made of the old text and another of the new would be neither.
func (now inputs) changed(before inputs) error {
	all := maps.Clone(now)
	maps.Copy(all, before)
	var faults diag.List
	for _, path := range slices.Sorted(maps.Keys(all)) {
		was, old := before[path]
		is, there := now[path]
		problem := ""
		switch {
		case !there:
			problem = "was removed"
		case !old:
			problem = "was added"
		case was != is:
			problem = "was changed"
		default:
			continue
		}
		faults.Add(diag.Diagnostic{Position: diag.Position{File: path}, Problem: problem + " while the handbook was being made, and the previous edition is untouched", Want: "that it stays as it is until the end", Remedy: "run it again"})
	}
	return faults.Err()
}
