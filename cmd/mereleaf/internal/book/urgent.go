package book

import (
	"bytes"
	"maps"
	"slices"
	"strings"

	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/paths"
)

// UrgentConfig declares an entry of the cover's first list, for a reader who
// stands at the pond with something wrong.
type UrgentConfig struct {
	Say  string `toml:"say"`  // what the reader sees or feels: "My kit shows ammonia"
	Leaf string `toml:"leaf"` // the chapter below content/, perhaps with #anchor

	pos diag.Position // of the leaf's name
}

// Urgent is such an entry with the chapter it leads to.
type Urgent struct {
	Say     string
	Chapter *Chapter
	Place   string // the chapter's leaf, perhaps with #anchor
}

// locate keeps where each entry names its leaf, for faults found later.
func (c *Config) locate(text []byte) {
	for i := range c.Urgent {
		u := &c.Urgent[i]
		u.pos = diag.Position{File: ConfigFile}
		if at := bytes.Index(text, []byte(quoted(u.Leaf))); u.Leaf != "" && at >= 0 {
			u.pos = diag.At(ConfigFile, text, at)
		}
	}
}

// readUrgent finds the chapters of the cover's first list.
func (b *Book) readUrgent() {
	x := b.state.index
	for _, u := range b.Config.Urgent {
		fault := func(problem, want, remedy string) {
			b.state.faults.References.Add(diag.Diagnostic{Position: u.pos, Problem: problem, Want: want, Remedy: remedy})
		}
		name, anchor, _ := strings.Cut(u.Leaf, "#")
		c, ok := x.chapters[Folder+"/"+name]
		switch {
		case u.Say == "" || u.Leaf == "":
			fault("an [[urgent]] entry is not complete", `say = "…" and leaf = "part/10-chapter.md"`, "add what lacks")
		case !ok:
			fault("the urgent leaf "+quoted(u.Leaf)+" is not a chapter", "its path below "+Folder+"/", remedyFor(Folder+"/"+name, slices.Sorted(maps.Keys(x.chapters))))
		case anchor != "" && !x.anchors[c.File][anchor]:
			fault("the chapter "+name+" has no heading #"+anchor, "one of its headings", remedyFor(anchor, slices.Sorted(maps.Keys(x.anchors[c.File]))))
		default:
			to := paths.Chapter(c.Part.Folder, c.Slug)
			if anchor != "" {
				to += "#" + anchor
			}
			b.Urgent = append(b.Urgent, Urgent{u.Say, c, to})
		}
	}
}

func remedyFor(name string, candidates []string) string {
	if near := nearest(name, candidates); near != "" {
		return "did you mean " + strings.TrimPrefix(near, Folder+"/") + "?"
	}
	return "correct it"
}
