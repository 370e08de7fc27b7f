package bundle

import (
	"bytes"
	"testing"

	"pgregory.net/rapid"
)

// memory lays segments out as a module's start does.
func memory(segments []segment) []byte {
	m := make([]byte, 1<<16)
	for _, s := range segments {
		copy(m[s.at:], s.data)
	}
	return m
}

// Joined segments fill the memory as the single ones do, whatever their order,
// gaps and overlaps, and so do those written and read back.
func TestJoinedSegmentsFillTheSameMemory(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		var segments []segment
		at := int64(0)
		for range rapid.IntRange(0, 20).Draw(rt, "segments") {
			back := rapid.IntRange(0, 9).Draw(rt, "back") == 9
			if back {
				at = max(0, at-rapid.Int64Range(1, 60).Draw(rt, "by"))
			} else {
				at += rapid.Int64Range(0, 3000).Draw(rt, "on")
			}
			data := rapid.SliceOfN(rapid.Byte(), 1, 40).Draw(rt, "data")
			if at+int64(len(data)) > 1<<16 {
				break
			}
			segments = append(segments, segment{at, data})
			at += int64(len(data))
		}
		want := memory(segments)
		back, err := readSegments(writeSegments(joined(segments)))
		if err != nil {
			rt.Fatal(err)
		}
		if !bytes.Equal(memory(back), want) {
			rt.Fatal("the memory differs")
		}
		if len(back) > len(segments) {
			rt.Fatalf("%d segments became %d", len(segments), len(back))
		}
	})
}

// Signed numbers return, and take the shortest form of the specification.
func TestSignedNumbersReturn(t *testing.T) {
	for _, v := range []int64{0, 1, -1, 63, 64, -64, -65, 1 << 20, -1 << 31, 1<<31 - 1} {
		b := appendSigned(nil, v)
		got, n := signed(append(bytes.Clone(b), 0xff))
		if got != v || n != len(b) {
			t.Errorf("%d comes back as %d from %d of %d bytes", v, got, n, len(b))
		}
	}
	if b := appendSigned(nil, -123456); !bytes.Equal(b, []byte{0xc0, 0xbb, 0x78}) {
		t.Errorf("-123456 is written % x, the specification of LEB128 has c0 bb 78", b)
	}
}

func TestDamagedModulesAreRefused(t *testing.T) {
	for name, module := range map[string][]byte{
		"short":          []byte("\x00asm"),
		"cut section":    []byte("\x00asm\x01\x00\x00\x00\x0b\x05\x01"),
		"passive data":   []byte("\x00asm\x01\x00\x00\x00\x0b\x04\x01\x01\x01x"),
		"cut data":       []byte("\x00asm\x01\x00\x00\x00\x0b\x06\x01\x00\x41\x00\x0b\x09"),
		"count of data":  []byte("\x00asm\x01\x00\x00\x00\x0c\x01\x01"),
		"endless number": []byte("\x00asm\x01\x00\x00\x00\x0b\xff\xff\xff\xff\xff\xff\xff\xff\xff\xff\xff"),
	} {
		if _, err := joinSegments(module); err == nil {
			t.Errorf("%s: taken", name)
		}
	}
}
