package book

import (
	"bytes"
	"image"
	"image/png"
	"strings"
	"testing"
	"testing/fstest"
)

func pngOf(t *testing.T, width, height int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, width, height))); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestPictureIsShownWithItsSize(t *testing.T) {
	files, _, _ := tree(t, "")
	edit(files, "content/water/10-first.md", "Text.", "![A kit](kit.png)")
	files["content/water/kit.png"] = &fstest.MapFile{Data: pngOf(t, 40, 30)}
	b, faults := Read(files, double())
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	body, err := b.Body(b.Parts[0].Chapters[0])
	if err != nil {
		t.Fatal(err)
	}
	if want := `<img src="kit.png" alt="A kit" width="40" height="30"`; !strings.Contains(string(body), want) {
		t.Errorf("%s does not hold %s", body, want)
	}
	if len(b.Pictures) != 1 || b.Pictures[0].Place != "water/kit.png" {
		t.Errorf("the pictures are %+v", b.Pictures)
	}
}

func TestLargePictureIsRefusedWhereItStands(t *testing.T) {
	files, _, _ := tree(t, "")
	edit(files, "content/water/10-first.md", "Text.", "![A kit](kit.png)")
	files["content/water/kit.png"] = &fstest.MapFile{Data: append(pngOf(t, 40, 30), make([]byte, MaxPicture)...)}
	_, faults := Read(files, double())
	var places []string
	for _, f := range faults {
		if !strings.Contains(f.Problem, "bytes") {
			t.Errorf("got %s", f)
		}
		places = append(places, f.Position.String())
	}
	if got := strings.Join(places, " "); got != "content/water/10-first.md:7:1 content/water/kit.png" {
		t.Errorf("faults at %s", got)
	}
}
