package diag_test

import (
	"slices"
	"testing"

	"mereleaf/cmd/mereleaf/internal/diag"
)

func TestNearest(t *testing.T) {
	names := []string{"free-ammonia", "holes-per-tray", "oxygen-saturation", "pond-volume"}
	for _, test := range []struct {
		word string
		want []string
	}{
		{"free-amonia", []string{"free-ammonia"}},
		{"ammonia", []string{"free-ammonia"}},
		{"volume", []string{"pond-volume"}},
		{"xyz", nil},
		{"", nil},
	} {
		if got := diag.Nearest(test.word, names); !slices.Equal(got, test.want) {
			t.Errorf("Nearest(%q) = %q, want %q", test.word, got, test.want)
		}
	}
}
