package book

import (
	"bytes"
	"image"
	_ "image/jpeg" // reads the size of .jpg
	_ "image/png"  // reads the size of .png
	"io/fs"
	"path"
	"strconv"
	"strings"

	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/page/svg"
)

// MaxPicture is the largest picture accepted, in bytes: the page must load at a
// pond on a bad signal.
const MaxPicture = 300_000

// readPicture reads one picture; what is too large is not read.
func readPicture(fsys fs.FS, f pictureFile) (Picture, diag.List) {
	fail := func(problem, want, remedy string) (Picture, diag.List) {
		return Picture{File: f.file}, diag.List{{Position: diag.Position{File: f.file}, Problem: problem, Want: want, Remedy: remedy}}
	}
	drawn := strings.EqualFold(path.Ext(f.file), ".svg")
	most, smaller := MaxPicture, "make it smaller: 1,200 pixels across are enough"
	if drawn {
		most, smaller = svg.MaxSize, "draw it with fewer lines, or with a decimal less"
	}
	if f.size > int64(most) {
		return fail("the picture has "+strconv.FormatInt(f.size, 10)+" bytes", "at most "+strconv.Itoa(most), smaller)
	}
	data, err := fs.ReadFile(fsys, f.file)
	if err != nil {
		return fail("the picture cannot be read: "+reason(err), "", "make it readable")
	}
	if drawn {
		drawing, faults := svg.Read(f.file, data)
		return Picture{File: f.file, Drawing: &drawing}, faults
	}
	config, _, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return fail("the file is not a picture of the kind its name says", "a PNG or JPEG picture", "save it again")
	}
	return Picture{File: f.file, Place: strings.TrimPrefix(f.file, Folder+"/"), Data: data, Width: config.Width, Height: config.Height}, nil
}
