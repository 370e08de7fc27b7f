package paths

import "testing"

func TestRelative(t *testing.T) {
	for _, c := range []struct{ from, to, want string }{
		{"index.html", "terms.html", "terms.html"},
		{"index.html", "water/ammonia.html#causes", "water/ammonia.html#causes"},
		{"water/ammonia.html", "terms.html", "../terms.html"},
		{"water/ammonia.html", "water/index.html", "index.html"},
		{"water/ammonia.html", "waters/ammonia.html", "../waters/ammonia.html"},
		{"water/ammonia.html", "media/ammonia.html#causes", "../media/ammonia.html#causes"},
		{"water/ammonia.html", "water/ammonia.html#causes", "#causes"},
		{"water/ammonia.html", "water/ammonia.html", "ammonia.html"},
		{"a/b/c.html", "a/d.html", "../d.html"},
		{"a/b/c.html", "a/b/c.html#d", "#d"},
	} {
		if got := Relative(c.from, c.to); got != c.want {
			t.Errorf("from %s to %s is %s, want %s", c.from, c.to, got, c.want)
		}
	}
}

func TestOutsideNamesAScheme(t *testing.T) {
	for link, want := range map[string]bool{
		"https://doi.org/10.1139/f75-274":       true,
		"mailto:keeper@example.org":             true,
		"data:,":                                true,
		"../ponds.html#ines.2025-07-11T20:10":   false,
		"#ines.2025-07-11T20:10":                false,
		"tower.html?on=2025-07-11T20:10&share=": false,
		"ammonia.html":                          false,
	} {
		if got := Outside(link); got != want {
			t.Errorf("%s: %v, want %v", link, got, want)
		}
	}
}
