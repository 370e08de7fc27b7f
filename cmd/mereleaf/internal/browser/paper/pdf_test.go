package paper

import (
	"bytes"
	"compress/zlib"
	"errors"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// sheet is a page of a PDF, in mm from its lower left corner.
type sheet struct {
	wide, high float64
	lines      []segment
}

// segment is a straight piece of a path.
type segment struct{ x1, y1, x2, y2 float64 }

func (s segment) level() bool { return math.Abs(s.y2-s.y1) < 0.01 }

func (s segment) long() float64 { return math.Hypot(s.x2-s.x1, s.y2-s.y1) }

func (s segment) left() float64 { return math.Min(s.x1, s.x2) }

func (s segment) mid() [2]float64 { return [2]float64{(s.x1 + s.x2) / 2, (s.y1 + s.y2) / 2} }

// readPDF reads the pages of a PDF as Chromium writes it: one compressed stream
// of operators for each, ISO 32000-1 sections 7 and 8.
func readPDF(pdf []byte) ([]sheet, error) {
	objects := regexp.MustCompile(`(?s)(\d+) 0 obj\s*(.*?)endobj`)
	bodies := map[string][]byte{}
	var pages [][]byte
	for _, m := range objects.FindAllSubmatch(pdf, -1) {
		bodies[string(m[1])] = m[2]
		if regexp.MustCompile(`/Type\s*/Page\b`).Match(m[2]) {
			pages = append(pages, m[2])
		}
	}
	box := regexp.MustCompile(`/MediaBox\s*\[\s*0\s+0\s+([\d.]+)\s+([\d.]+)\s*\]`)
	contents := regexp.MustCompile(`/Contents\s+(\d+)\s+0\s+R`)
	var sheets []sheet
	for _, page := range pages {
		size, content := box.FindSubmatch(page), contents.FindSubmatch(page)
		if size == nil || content == nil {
			return nil, errors.New("a page without size or content: " + string(page))
		}
		operators, err := inflate(bodies[string(content[1])])
		if err != nil {
			return nil, err
		}
		wide, _ := strconv.ParseFloat(string(size[1]), 64)
		high, _ := strconv.ParseFloat(string(size[2]), 64)
		sheets = append(sheets, sheet{wide: millimetres(wide), high: millimetres(high), lines: segments(operators)})
	}
	if len(sheets) == 0 {
		return nil, errors.New("a PDF without pages")
	}
	return sheets, nil
}

// millimetres converts from points, of which an inch has 72.
func millimetres(points float64) float64 { return points * 25.4 / 72 }

func inflate(object []byte) (string, error) {
	_, stream, found := bytes.Cut(object, []byte("stream"))
	if !found {
		return "", errors.New("an object without stream: " + string(object))
	}
	r, err := zlib.NewReader(bytes.NewReader(bytes.TrimLeft(stream, "\r\n")))
	if err != nil {
		return "", err
	}
	text, err := io.ReadAll(r)
	return string(text), err
}

// matrix is a transformation a b c d e f as PDF writes it.
type matrix [6]float64

// then returns the transformation m followed by n.
func (m matrix) then(n matrix) matrix {
	return matrix{
		m[0]*n[0] + m[1]*n[2], m[0]*n[1] + m[1]*n[3],
		m[2]*n[0] + m[3]*n[2], m[2]*n[1] + m[3]*n[3],
		m[4]*n[0] + m[5]*n[2] + n[4], m[4]*n[1] + m[5]*n[3] + n[5],
	}
}

func (m matrix) point(x, y float64) (float64, float64) {
	return millimetres(m[0]*x + m[2]*y + m[4]), millimetres(m[1]*x + m[3]*y + m[5])
}

// segments follows the operators that move and draw straight lines.
func segments(operators string) []segment {
	now, kept := matrix{1, 0, 0, 1, 0, 0}, []matrix{}
	var numbers []float64
	var x, y float64
	var found []segment
	for token := range strings.FieldsSeq(operators) {
		if v, err := strconv.ParseFloat(token, 64); err == nil {
			numbers = append(numbers, v)
			continue
		}
		switch n := len(numbers); {
		case token == "q":
			kept = append(kept, now)
		case token == "Q" && len(kept) > 0:
			now, kept = kept[len(kept)-1], kept[:len(kept)-1]
		case token == "cm" && n >= 6:
			now = matrix(numbers[n-6:]).then(now)
		case (token == "m" || token == "l") && n >= 2:
			toX, toY := now.point(numbers[n-2], numbers[n-1])
			if token == "l" {
				found = append(found, segment{x, y, toX, toY})
			}
			x, y = toX, toY
		}
		numbers = numbers[:0]
	}
	return found
}
