package calculators_test

import (
	"strings"
	"testing"

	"mereleaf/calculators"
)

func TestOverLeavesOutWhatDoesNotApply(t *testing.T) {
	kept := args("buckets=10 L, 3", "total=40 L", "temperature=8 Cel", "nonsense=1")
	for _, c := range []struct{ given, want string }{
		{"", "buckets=10 L, 3; temperature=8 Cel"},
		{"method=total", "method=total; total=40 L; temperature=8 Cel"},
		{"method=listed", "method=listed; buckets=10 L, 3; temperature=8 Cel"},
		{"temperature=9 Cel", "temperature=9 Cel; buckets=10 L, 3"},
		{"total=1 L", "total=1 L; buckets=10 L, 3; temperature=8 Cel"}, // to be refused
	} {
		var given []calculators.Arg
		if c.given != "" {
			given = args(c.given)
		}
		var got []string
		for _, a := range toy().Over(given, kept) {
			got = append(got, a.Name+"="+a.Value)
		}
		if strings.Join(got, "; ") != c.want {
			t.Errorf("over %q: %q; want %q", c.given, got, c.want)
		}
	}
}
