package strict

import (
	"strings"
	"testing"
)

func TestTwice(t *testing.T) {
	for _, c := range []struct {
		text, name string
		offset     int
	}{
		{`{}`, "", 0},
		{`{"a": 1, "b": {"a": 1}, "c": [{"a": 1}, {"a": 1}, "a", "a"]}`, "", 0},
		{`{"a": "a", "b": "a"}`, "", 0},
		{`{"a": 1, "a": 1}`, "a", 9},
		{`{"a": [], "b": {}, "a": 1}`, "a", 19},
		{`{"x": [1, {"a": {"b": 2}, "b": 1e999 , "a" : 1}]}`, "a", 39},
		{`{"a": 1, "\u0061": 1}`, "a", 9},
		{`[[{"a": null, "a": true}]]`, "a", 14},
		{`"a"`, "", 0},
		{strings.Repeat("[", 100_000) + strings.Repeat("]", 100_000), "", 0},
	} {
		name, offset, found := Twice([]byte(c.text))
		if name != c.name || offset != c.offset || found != (c.name != "") {
			t.Errorf("%.60s: %q at %d, %v; want %q at %d", c.text, name, offset, found, c.name, c.offset)
		}
	}
}
