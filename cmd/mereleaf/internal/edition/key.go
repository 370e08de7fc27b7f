package edition

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
)

// key joins what a page depends on. Values print the same whenever they are the
// same: no maps, no pointers.
func key(parts ...any) string {
	b := make([]byte, 0, 512)
	for _, p := range parts {
		b = appendPart(b, p)
	}
	digest := sha256.Sum256(b)
	return hex.EncodeToString(digest[:16])
}

// listEnd ends lists in a key, so that what stands in one cannot pass for what
// stands in the next.
const listEnd = 1

// appendPart prints a value. The lists of links grow with the handbook and are
// printed for every change to a chapter, so they do without the generality of
// package fmt.
func appendPart(b []byte, part any) []byte {
	switch p := part.(type) {
	case string:
		b = append(b, p...)
	case link:
		return appendLink(b, p)
	case []link:
		return appendLinks(b, p)
	case []partContent:
		for _, c := range p {
			b = appendLinks(appendLink(b, c.link), c.Chapters)
		}
		b = append(b, listEnd)
	case []sourceEntry:
		for _, s := range p {
			b = appendLinks(append(append(b, s.Key...), 0), s.Used)
		}
		b = append(b, listEnd)
	case []setField:
		for _, f := range p {
			for _, s := range f.Sets {
				b = appendLinks(appendLink(b, s.link), s.Used)
				b = fmt.Append(b, s.Columns, s.Rows, s.Bases, s.Checks)
			}
			b = append(append(b, f.Title...), listEnd)
		}
	default:
		b = fmt.Append(b, p)
	}
	return append(b, 0)
}

func appendLinks(b []byte, links []link) []byte {
	for _, l := range links {
		b = appendLink(b, l)
	}
	return append(b, listEnd)
}

func appendLink(b []byte, l link) []byte {
	for _, s := range [...]string{l.Path, l.Title, l.Ref, l.Summary} {
		b = append(append(b, s...), 0)
	}
	if l.Code {
		b = append(b, 'c')
	}
	return append(b, 0)
}
