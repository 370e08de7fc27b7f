package browsertest

import (
	"os"
	"path/filepath"
	"testing"
)

// Looked lists pages to look at: one of each kind.
func Looked() []string {
	return []string{
		"index.html", "water/index.html", "water/ammonia.html", "media/choosing-media.html", "safety/electricity.html",
		"filtration/how-a-tower-works.html", "book/how-to-read-it.html",
		"reckon/index.html", "reckon/free-ammonia.html", "reckon/fish-weight.html", "reckon/pump-working-point.html", "reckon/drill-template.html", "reckon/tower.html",
		"figures/index.html", "figures/water-ammonia-limits.html", "terms.html", "sources.html", "find.html",
	}
}

// Keep leaves a picture or a sheet in the folder of MERELEAF_SHOTS for a person to look
// at.
func Keep(t testing.TB, name string, data []byte) {
	t.Helper()
	folder := os.Getenv("MERELEAF_SHOTS")
	if folder == "" {
		return
	}
	if err := os.WriteFile(filepath.Join(folder, name), data, 0o644); err != nil {
		t.Fatal(err)
	}
}
