package build

import (
	"bytes"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestPictureIsInTheEdition: a chapter's picture stands in the edition where its
// page looks for it, byte for byte, and the page says its size.
func TestPictureIsInTheEdition(t *testing.T) {
	slowWithRaceDetector(t)
	root := tub(t)
	var picture bytes.Buffer
	if err := png.Encode(&picture, image.NewGray(image.Rect(0, 0, 40, 30))); err != nil {
		t.Fatal(err)
	}
	write(t, root, "content/water/kit.png", picture.String())
	write(t, root, "content/water/20-change.md", "# Changing water\n\nChange water.\n\n![A card of colours](kit.png)\n")
	if _, err := Make(t.Context(), options(root)); err != nil {
		t.Fatal(err)
	}
	web := filepath.Join(root, "out", "web", "water")
	page, err := os.ReadFile(filepath.Join(web, "change.html"))
	if err != nil {
		t.Fatal(err)
	}
	if want := `<img src="kit.png" alt="A card of colours" width="40" height="30"`; !strings.Contains(string(page), want) {
		t.Errorf("the page lacks %s", want)
	}
	if got, err := os.ReadFile(filepath.Join(web, "kit.png")); err != nil || !bytes.Equal(got, picture.Bytes()) {
		t.Errorf("the picture beside the page: %v, %d bytes of %d", err, len(got), picture.Len())
	}
}

// TestDrawingIsInItsPage: a drawing is part of the page and no file beside it.
func TestDrawingIsInItsPage(t *testing.T) {
	slowWithRaceDetector(t)
	root := tub(t)
	write(t, root, "content/water/lid.svg", `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 344 20"><path d="M0 0h9"/></svg>`)
	write(t, root, "content/water/20-change.md", "# Changing water\n\nChange water.\n\n![A lid](lid.svg)\n")
	if _, err := Make(t.Context(), options(root)); err != nil {
		t.Fatal(err)
	}
	web := filepath.Join(root, "out", "web", "water")
	page, err := os.ReadFile(filepath.Join(web, "change.html"))
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(page), `<title>A lid</title><path d="M0 0h9">`) {
		t.Error("the page lacks the drawing")
	}
	if _, err := os.Stat(filepath.Join(web, "lid.svg")); !os.IsNotExist(err) {
		t.Errorf("the drawing's file is in the edition: %v", err)
	}
}
