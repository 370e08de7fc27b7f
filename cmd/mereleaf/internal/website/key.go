package website

import (
	"bufio"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash"
	"sync"
)

// keyer digests what a page depends on.
type keyer struct {
	hash hash.Hash
	*bufio.Writer
}

var keyers = sync.Pool{New: func() any {
	h := sha256.New()
	return &keyer{h, bufio.NewWriter(h)}
}}

// key joins what a page depends on. Values print the same whenever they are the
// same: no maps, no pointers.
func key(parts ...any) string {
	k := keyers.Get().(*keyer)
	defer keyers.Put(k)
	k.hash.Reset()
	for _, p := range parts {
		k.part(p)
	}
	_ = k.Flush() // a hash takes everything
	return hex.EncodeToString(k.hash.Sum(nil)[:16])
}

// part adds a value. The lists of links grow with the handbook and are added for
// every change to a chapter, so they do without the generality of package fmt.
func (k *keyer) part(part any) {
	switch p := part.(type) {
	case string:
		k.text(p)
	case link:
		k.link(p)
	case []link:
		k.links(p)
	case []partContent:
		for _, c := range p {
			k.link(c.link)
			k.links(c.Chapters)
		}
		k.end()
	case []sourceEntry:
		for _, s := range p {
			k.text(s.Key)
			k.links(s.Used)
		}
		k.end()
	case []setField:
		for _, f := range p {
			k.text(f.Title)
			k.sets(f.Sets)
		}
		k.end()
	default:
		_, _ = fmt.Fprint(k, p)
		k.text("")
	}
}

func (k *keyer) sets(sets []setSummary) {
	for _, s := range sets {
		k.link(s.link)
		k.links(s.Used)
		for _, p := range []any{s.Columns, s.Rows, s.Bases, s.Checks, s.Why} {
			k.part(p)
		}
	}
	k.end()
}

func (k *keyer) links(links []link) {
	for _, l := range links {
		k.link(l)
	}
	k.end()
}

func (k *keyer) link(l link) {
	k.text(l.Path)
	k.text(l.Title)
	k.text(l.Ref)
	k.text(l.Summary)
	if l.Code {
		k.text("code")
	}
	k.end()
}

func (k *keyer) text(s string) {
	_, _ = k.WriteString(s)
	_ = k.WriteByte(0)
}

// end ends a list, so that what stands in one cannot pass for what stands in the
// next.
func (k *keyer) end() { _ = k.WriteByte(1) }
