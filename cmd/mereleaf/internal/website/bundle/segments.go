package bundle

import (
	"bytes"
	"cmp"
	"encoding/binary"
	"errors"
	"slices"
)

// The sections of a WebAssembly module that joining touches, by their numbers
// in the WebAssembly core specification 2.0, section 5.5.
const (
	moduleHeader = 8 // magic and version
	dataSection  = 11
	dataCount    = 12
)

// widestGap is how many noughts are written out rather than begin another
// segment. Noughts cost next to nothing compressed; the place of a segment costs
// several bytes that do not compress.
const widestGap = 1024

var errSegments = errors.New("the WebAssembly module has data of a kind that is not known here")

// segment is data that is put into memory at a place when the module starts.
type segment struct {
	at   int64
	data []byte
}

// joinSegments returns the module with neighbouring data segments joined over
// the noughts between them. The Go linker begins a new segment at every run of
// noughts, fifty thousand in all: joined, the module does the same and weighs a
// tenth less compressed.
func joinSegments(module []byte) ([]byte, error) {
	if len(module) < moduleHeader {
		return nil, errSegments
	}
	out := append([]byte(nil), module[:moduleHeader]...)
	for rest := module[moduleHeader:]; len(rest) > 0; {
		id := rest[0]
		size, n := binary.Uvarint(rest[1:])
		if n <= 0 || uint64(len(rest)) < 1+uint64(n)+size {
			return nil, errSegments
		}
		whole, body := rest[:1+n+int(size)], rest[1+n:1+n+int(size)]
		rest = rest[len(whole):]
		switch id {
		case dataSection:
			segments, err := readSegments(body)
			if err != nil {
				return nil, err
			}
			written := writeSegments(joined(segments))
			out = append(out, dataSection)
			out = binary.AppendUvarint(out, uint64(len(written)))
			out = append(out, written...)
		case dataCount: // it would have to change too; Go's linker writes none
			return nil, errSegments
		default:
			out = append(out, whole...)
		}
	}
	return out, nil
}

// readSegments reads a data section of active segments: kind 0, the place as
// i32.const, the bytes.
func readSegments(body []byte) ([]segment, error) {
	count, n := binary.Uvarint(body)
	if n <= 0 {
		return nil, errSegments
	}
	body = body[n:]
	var segments []segment
	for range count {
		opening, found := bytes.CutPrefix(body, []byte{0, 0x41})
		if !found {
			return nil, errSegments
		}
		at, n := signed(opening)
		if n <= 0 || n >= len(opening) || opening[n] != 0x0b {
			return nil, errSegments
		}
		length, m := binary.Uvarint(opening[n+1:])
		start := n + 1 + m
		if m <= 0 || uint64(len(opening)-start) < length {
			return nil, errSegments
		}
		segments = append(segments, segment{at, opening[start : start+int(length)]})
		body = opening[start+int(length):]
	}
	return segments, nil
}

// joined joins neighbours. Where segments overlap their order counts, and nothing
// is joined; where they do not, it does not, and they are sorted first.
func joined(segments []segment) []segment {
	sorted := slices.SortedFunc(slices.Values(segments), func(a, b segment) int { return cmp.Compare(a.at, b.at) })
	var out []segment
	end := int64(0)
	for _, s := range sorted {
		gap := s.at - end
		if gap < 0 {
			return segments
		}
		end = s.at + int64(len(s.data))
		if len(out) == 0 || gap > widestGap {
			out = append(out, segment{s.at, bytes.Clone(s.data)})
			continue
		}
		last := &out[len(out)-1]
		last.data = append(append(last.data, make([]byte, gap)...), s.data...)
	}
	return out
}

func writeSegments(segments []segment) []byte {
	out := binary.AppendUvarint(nil, uint64(len(segments)))
	for _, s := range segments {
		out = append(out, 0, 0x41)
		out = appendSigned(out, s.at)
		out = append(out, 0x0b)
		out = binary.AppendUvarint(out, uint64(len(s.data)))
		out = append(out, s.data...)
	}
	return out
}

// signed reads a signed LEB128 number, which encoding/binary does not have: its
// signed form is another.
func signed(b []byte) (v int64, n int) {
	for shift := uint(0); n < len(b) && shift < 64; {
		c := b[n]
		n++
		v |= int64(c&0x7f) << shift
		shift += 7
		if c < 0x80 {
			if c&0x40 != 0 && shift < 64 {
				v -= 1 << shift
			}
			return v, n
		}
	}
	return 0, -1
}

func appendSigned(out []byte, v int64) []byte {
	for {
		c := byte(v & 0x7f)
		v >>= 7
		if v == 0 && c&0x40 == 0 || v == -1 && c&0x40 != 0 {
			return append(out, c)
		}
		out = append(out, c|0x80)
	}
}
