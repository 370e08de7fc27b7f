package bundle

import "testing"

// Help goes, its place and everything else stay.
func TestBlankHelp(t *testing.T) {
	for source, want := range map[string]string{
		`package p; var x = T{Name: "a", Help: "Say \"how\".", Label: "b"}`: `package p; var x = T{Name: "a", Help: ""            , Label: "b"}`,
		`package p; var x = T{Help: Text("{a 2}", 1)}`:                      `package p; var x = T{Help: Text("{a 2}", 1)}`,
		`package p; var Help = "not a field"`:                               `package p; var Help = "not a field"`,
		`package p; var x = T{Help: }`:                                      `package p; var x = T{Help: }`,
	} {
		if got := string(blankHelp([]byte(source))); got != want {
			t.Errorf("%s\n became %s\n want %s", source, got, want)
		}
	}
}
