package figures

import (
	"bytes"
	"cmp"
	"errors"
	"io"
	"io/fs"
	"path"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"mereleaf/cmd/mereleaf/internal/diag"
)

// sizeLimit is the most bytes a file of figures or sources may have.
const sizeLimit = 5 << 20

// Read reads every figure set and the list of sources from the project's file
// system. It reports all faults of all files; the library holds what could be
// read.
func Read(fsys fs.FS) (*Library, diag.List) {
	sources, list := readSources(fsys)
	lib := &Library{Sources: sources, sets: map[string]*Set{}, sources: map[string]int{}}
	for i, s := range sources {
		lib.sources[s.ID] = i
	}
	names, faults := setFiles(fsys)
	list = append(list, faults...)
	for _, name := range names {
		b, d := ReadText(fsys, name)
		if d != nil {
			list.Add(*d)
			continue
		}
		set, faults := parse(name, b)
		list = append(list, faults...)
		if set == nil {
			continue
		}
		list = append(list, lib.checkOrigins(set)...)
		lib.Sets = append(lib.Sets, set)
		lib.sets[set.Name] = set
	}
	return lib, list.Sorted()
}

// setFiles lists the files of the sets by name.
func setFiles(fsys fs.FS) ([]string, diag.List) {
	entries, err := fs.ReadDir(fsys, Folder)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, diag.List{{Position: diag.Position{File: Folder}, Problem: "the folder of the reference figures is missing", Remedy: "create it, or run in the project's folder"}}
	}
	if err != nil {
		return nil, diag.List{{Position: diag.Position{File: Folder}, Problem: reason(err), Remedy: "make the folder readable"}}
	}
	var names []string
	var list diag.List
	for _, e := range entries {
		name := path.Join(Folder, e.Name())
		if !strings.EqualFold(path.Ext(name), ".csv") || name == LedgerFile || e.IsDir() {
			continue
		}
		if !legalName(strings.TrimSuffix(e.Name(), ".csv")) {
			list.Add(diag.Diagnostic{Position: diag.Position{File: name}, Problem: "this is no name for a figure set", Want: "lower-case words joined by hyphens, then .csv", Remedy: "rename the file"})
			continue
		}
		names = append(names, name)
	}
	slices.SortFunc(names, func(a, b string) int {
		return cmp.Compare(strings.TrimSuffix(a, ".csv"), strings.TrimSuffix(b, ".csv"))
	})
	return names, list
}

func legalName(s string) bool {
	for word := range strings.SplitSeq(s, "-") {
		if word == "" || strings.Trim(word, "abcdefghijklmnopqrstuvwxyz0123456789") != "" {
			return false
		}
	}
	return true
}

// ReadText reads a text file of the project, refusing what is not a plain UTF-8
// file of at most 5 MB.
func ReadText(fsys fs.FS, name string) ([]byte, *diag.Diagnostic) {
	fault := func(problem, want, remedy string) ([]byte, *diag.Diagnostic) {
		return nil, &diag.Diagnostic{Position: diag.Position{File: name}, Problem: problem, Want: want, Remedy: remedy}
	}
	info, err := fs.Lstat(fsys, name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fault("the file is missing", "", "create it, or run in the project's folder")
	case err != nil:
		return fault(reason(err), "", "make the file readable")
	case info.Mode()&fs.ModeSymlink != 0:
		return fault("this is a symbolic link", "a plain file", "put a copy of the file in its place")
	case !info.Mode().IsRegular():
		return fault("this is not a plain file", "", "remove it or put a file in its place")
	case info.Size() > sizeLimit:
		return fault("the file has "+strconv.FormatInt(info.Size(), 10)+" bytes", "at most 5 MB", "split it, or leave out what the handbook does not use")
	}
	f, err := fsys.Open(name)
	if err != nil {
		return fault(reason(err), "", "make the file readable")
	}
	defer func() { _ = f.Close() }() // read only: closing cannot lose anything
	b, err := io.ReadAll(io.LimitReader(f, sizeLimit+1))
	if err != nil {
		return fault(reason(err), "", "make the file readable")
	}
	if d := encodingFault(name, b); d != nil {
		return nil, d
	}
	return b, nil
}

// reason is an error without the path, which the position already tells.
func reason(err error) string {
	var p *fs.PathError
	if errors.As(err, &p) {
		err = p.Err
	}
	return "the file cannot be read: " + err.Error()
}

var byteOrderMark = []byte("\uFEFF")

func encodingFault(name string, b []byte) *diag.Diagnostic {
	if bytes.HasPrefix(b, byteOrderMark) {
		return &diag.Diagnostic{Position: diag.Position{File: name, Line: 1, Column: 1}, Problem: "the file begins with a byte order mark", Want: "plain UTF-8", Remedy: "save it as UTF-8 without BOM"}
	}
	for i := 0; i < len(b); {
		r, size := utf8.DecodeRune(b[i:])
		if r == utf8.RuneError && size == 1 {
			return &diag.Diagnostic{Position: diag.At(name, b, i), Problem: "this byte is not UTF-8", Want: "UTF-8 text", Remedy: "save the file as UTF-8"}
		}
		if r == 0 {
			return &diag.Diagnostic{Position: diag.At(name, b, i), Problem: "this is a zero byte", Want: "UTF-8 text", Remedy: "save the file as UTF-8"}
		}
		if r < ' ' && r != '\t' && r != '\n' && r != '\r' || r == 0x7f {
			return &diag.Diagnostic{Position: diag.At(name, b, i), Problem: "this is a control character", Want: "UTF-8 text", Remedy: "remove it"}
		}
		i += size
	}
	return nil
}
