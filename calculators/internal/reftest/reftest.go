// Package reftest reads the published figures of testdata/reference for tests,
// so that no figure is typed into Go, and compares a computed value with a
// figure at the precision the figure is printed in.
package reftest

import (
	"encoding/csv"
	"errors"
	"io"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// folder holds the figure sets, below the folder of go.mod.
const folder = "testdata/reference"

// Row is one row of a figure set.
type Row struct {
	Place string // "testdata/reference/salt.csv:12"

	t       testing.TB
	columns map[string]int
	cells   []string
}

// Read returns the rows of the figure set with the given name, in order. A set
// that is missing, empty or malformed ends the test.
func Read(t testing.TB, set string) []Row {
	t.Helper()
	name := folder + "/" + set + ".csv"
	file, err := os.Open(filepath.Join(root(t), filepath.FromSlash(name)))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := readRows(file, name)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	for i := range rows {
		rows[i].t = t
	}
	return rows
}

// Columns returns the headings of a figure set, "temperature [Cel]", in order.
func Columns(t testing.TB, set string) []string {
	t.Helper()
	file, err := os.Open(filepath.Join(root(t), filepath.FromSlash(folder), set+".csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	head, err := csv.NewReader(file).Read()
	if err != nil {
		t.Fatalf("%s/%s.csv: %v", folder, set, err)
	}
	return head
}

// Sets returns the names of all figure sets, sorted. None ends the test.
func Sets(t testing.TB) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(root(t), filepath.FromSlash(folder), "*.csv"))
	if err != nil || len(files) == 0 {
		t.Fatalf("%s holds no figure sets (%v)", folder, err)
	}
	for i, f := range files {
		files[i] = strings.TrimSuffix(filepath.Base(f), ".csv")
	}
	return files
}

// root is the folder of go.mod: a test runs in its own package's folder.
func root(t testing.TB) string {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		if dir == filepath.Dir(dir) {
			t.Fatal("no go.mod in this folder or above it")
		}
		dir = filepath.Dir(dir)
	}
}

func readRows(r io.Reader, name string) ([]Row, error) {
	in := csv.NewReader(r)
	head, err := in.Read()
	if err != nil {
		return nil, err
	}
	columns := make(map[string]int, len(head))
	for i, h := range head {
		if _, twice := columns[h]; twice {
			return nil, errors.New("the column " + h + " stands twice")
		}
		columns[h] = i
	}
	var rows []Row
	for {
		cells, err := in.Read()
		switch {
		case err == io.EOF && len(rows) == 0:
			return nil, errors.New("has no rows")
		case err == io.EOF:
			return rows, nil
		case err != nil:
			return nil, err
		}
		line, _ := in.FieldPos(0)
		rows = append(rows, Row{Place: name + ":" + strconv.Itoa(line), columns: columns, cells: cells})
	}
}

// Text returns a cell; column is the whole heading, "basis" or "temperature
// [Cel]". An unknown column is an error of the test and reads as "".
func (r Row) Text(column string) string {
	r.t.Helper()
	i, ok := r.columns[column]
	if !ok {
		r.t.Errorf("%s: there is no column %q", r.Place, column)
		return ""
	}
	return r.cells[i]
}

// Has reports whether the cell is filled.
func (r Row) Has(column string) bool {
	r.t.Helper()
	return r.Text(column) != ""
}

// Float returns a numeric cell, in the unit of its heading. A cell that is not a
// number is an error of the test and reads as NaN, which is near to nothing.
func (r Row) Float(column string) float64 {
	r.t.Helper()
	text := r.Text(column)
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		r.t.Errorf("%s: %s is %q, not a number", r.Place, column, text)
		return math.NaN()
	}
	return v
}

// Step returns what one unit of the last printed digit of a numeric cell is
// worth: 0.01 for 16.38, 1 for 476.
func (r Row) Step(column string) float64 {
	r.t.Helper()
	mantissa, exponent, _ := strings.Cut(strings.ToLower(r.Text(column)), "e")
	n, _ := strconv.Atoi(exponent)
	_, fraction, _ := strings.Cut(mantissa, ".")
	return math.Pow(10, float64(n-len(fraction)))
}

// Near fails the test unless got, in the unit of the column's heading, rounds to
// the printed figure: it may differ by half a unit of the last printed digit.
func Near(t testing.TB, r Row, got float64, column string) {
	t.Helper()
	compare(t, r, got, column, r.Step(column)/2)
}

// Within fails the test unless got differs from the figure by at most the given
// fraction of it. It is for rows whose own note says that they were rounded on
// the way or follow another formula; the caller says why that fraction.
func Within(t testing.TB, r Row, got float64, column string, fraction float64) {
	t.Helper()
	compare(t, r, got, column, fraction*math.Abs(r.Float(column)))
}

func compare(t testing.TB, r Row, got float64, column string, tolerance float64) {
	t.Helper()
	want := r.Float(column)
	// A value halfway between two printed ones may fall either way in binary.
	slack := 1e-12 * math.Abs(want)
	if !(math.Abs(got-want) <= tolerance+slack) {
		t.Errorf("%s: %s is %v, computed %v: differs by %v, more than %v (%s, %s)", r.Place, column,
			r.Text(column), got, math.Abs(got-want), tolerance, r.Text("source"), r.Text("locator"))
	}
}
