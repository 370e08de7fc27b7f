package book

import (
	"bytes"
	"image"
	_ "image/jpeg" // reads the size of .jpg
	_ "image/png"  // reads the size of .png
	"io/fs"
	"strconv"
	"strings"

	"mereleaf/cmd/mereleaf/internal/diag"
)

// MaxPicture is the largest picture accepted, in bytes: the page must load at a
// pond on a bad signal.
const MaxPicture = 300_000

// readPicture reads one picture; what is too large is not read.
func readPicture(fsys fs.FS, f pictureFile) (Picture, *diag.Diagnostic) {
	fail := func(problem, want, remedy string) (Picture, *diag.Diagnostic) {
		return Picture{File: f.file}, &diag.Diagnostic{Position: diag.Position{File: f.file}, Problem: problem, Want: want, Remedy: remedy}
	}
	if f.size > MaxPicture {
		return fail("the picture has "+strconv.FormatInt(f.size, 10)+" bytes", "at most "+strconv.Itoa(MaxPicture), "make it smaller: 1,200 pixels across are enough")
	}
	data, err := fs.ReadFile(fsys, f.file)
	if err != nil {
		return fail("the picture cannot be read: "+reason(err), "", "make it readable")
	}
	config, _, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return fail("the file is not a picture of the kind its name says", "a PNG or JPEG picture", "save it again")
	}
	return Picture{File: f.file, Place: strings.TrimPrefix(f.file, Folder+"/"), Data: data, Width: config.Width, Height: config.Height}, nil
}
