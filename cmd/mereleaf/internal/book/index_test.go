package book

import "testing"

func TestNearest(t *testing.T) {
	keys := []string{"boyd1990", "emerson-1975", "ph", "colt-2012", "colt-2006"}
	for name, want := range map[string]string{
		"emmerson-1975": "emerson-1975",
		"emerson1975":   "emerson-1975",
		"phh":           "ph",
		"boyd-1990":     "boyd1990",
		"colt-2016":     "colt-2006", // as near as 2012: the first by name
		"nobody-1999":   "",
		"adams-1975":    "",
		"kh":            "",
		"no":            "",
		"":              "",
	} {
		if got := nearest(name, keys); got != want {
			t.Errorf("for %q: %q, want %q", name, got, want)
		}
	}
}
