package figures

import (
	"net/url"
	"strings"
	"testing"

	"mereleaf/cmd/mereleaf/internal/diag"
)

// grid reads a sample: a caption link, then a Markdown table. It knows only as
// much of Markdown as the samples use.
func grid(t testing.TB, sample string) (Table, []diag.Position) {
	t.Helper()
	const file = "content/water/10-toys.md"
	text, marks := unmark(file, sample)
	var table Table
	offset := 0
	for n, line := range strings.SplitAfter(text, "\n") {
		switch {
		case n == 0:
			table.Caption = *link(t, strings.TrimSpace(line), diag.At(file, []byte(text), 0))
		case strings.HasPrefix(line, "|-"):
		case strings.HasPrefix(line, "|"):
			at := offset + 1
			var cells []BodyCell
			for _, raw := range strings.Split(strings.TrimSuffix(strings.TrimSpace(line)[1:], "|"), "|") {
				cell := strings.TrimSpace(raw)
				pos := diag.At(file, []byte(text), at+len(raw)-len(strings.TrimLeft(raw, " ")))
				at += len(raw) + 1
				if strings.HasPrefix(cell, "[") {
					ref := link(t, cell, pos)
					cells = append(cells, BodyCell{Text: ref.Text, Ref: ref, Pos: pos})
					continue
				}
				cells = append(cells, BodyCell{Text: cell, Pos: pos})
			}
			if table.Head == nil {
				for _, c := range cells {
					table.Head = append(table.Head, HeadCell(c))
				}
			} else {
				table.Rows = append(table.Rows, cells)
			}
		}
		offset += len(line)
	}
	return table, marks
}

// link reads [text](figures:SET?query#column).
func link(t testing.TB, s string, pos diag.Position) *Ref {
	t.Helper()
	text, rest, ok := strings.Cut(strings.TrimPrefix(s, "["), "](")
	_, rest, ok2 := strings.Cut(strings.TrimSuffix(rest, ")"), ":")
	if !ok || !ok2 {
		t.Fatalf("no link: %q", s)
	}
	rest, column, _ := strings.Cut(rest, "#")
	set, query, _ := strings.Cut(rest, "?")
	ref := &Ref{Set: set, Column: column, Text: text, Pos: pos}
	for part := range strings.SplitSeq(query, "&") {
		key, value, _ := strings.Cut(part, "=")
		if key == "" {
			continue
		}
		k, err := url.QueryUnescape(key)
		v, err2 := url.QueryUnescape(value)
		if err != nil || err2 != nil {
			t.Fatalf("no query: %q", query)
		}
		ref.Query = append(ref.Query, Pair{k, v})
	}
	return ref
}

// Each sample is a table of which every number binds.
var goodTables = []struct{ name, sample string }{
	{"plain", "[Air](figures:toy-air?salt=0)\n| Temperature (°C) | Air (mg/L) |\n|---|---|\n| 10 | 11.25 |\n| 20 | 9.1 |\n"},
	{"units in cells", "[Air](figures:toy-air?salt=0)\n| Temperature | Air |\n|---|---|\n| 10 °C | 11.25 mg/L |\n| 68 °F | 0.0091 g/L |\n"},
	{"pivot", "[Air](figures:toy-air)\n| Temperature (°C) | [Salt 0](figures:?salt=0&column=air) | [Salt 20](figures:?salt=20&column=air) |\n|---|---|---|\n| 10 | 11.25 mg/L | 10.0 mg/L |\n| 20 | 9.08 mg/L | 8.1 mg/L |\n"},
	{"pivot with the unit in the caption", "[Air (mg/L)](figures:toy-air)\n| Temperature (°C) | [Salt 0](figures:?salt=0&column=air) |\n|---|---|\n| 10 | 11.25 |\n"},
	{"pivot over the caption's own figures", "[Air](figures:toy-air?salt=0)\n| Temperature (°C) | Air (mg/L) | [In brine (mg/L)](figures:?salt=20&column=air) |\n|---|---|---|\n| 20 | 9.08 | 8.14 |\n"},
	{"two sets", "[Air](figures:toy-air?salt=0)\n| Temperature (°C) | Air (mg/L) | [Warm (°C)](figures:toy-limit?limit=warm&column=value+[Cel]) |\n|---|---|---|\n| 30 | 7.5 | |\n"},
	{"range", "[Stone](figures:toy-stone)\n| Stone | Surface (m²/m³) |\n|---|---|\n| gravel | 330 to 390 |\n| Gravel | 330–390 |\n| gravel | 330 - 390 |\n| brick | ≥ 150 |\n| foam | ≤ 500 |\n| glass | 200 |\n| brick | 150 |\n"},
	{"range by the name of its lower end", "[Stone](figures:toy-stone)\n| Stone | [Surface (m²/m³)](figures:?column=surface_min) |\n|---|---|\n| gravel | 330 to 390 |\n| brick | ≥ 150 |\n| gravel | 330 |\n"},
	{"linked rows", "[Stone](figures:toy-stone)\n| What | Voids |\n|---|---|\n| [Round stone](figures:?stone=gravel) | 40 % |\n| [Foam, 97 % air](figures:?stone=foam) | 0.97 |\n"},
	{"inches", "[Stone](figures:toy-stone)\n| Stone | Bore |\n|---|---|\n| gravel | 1½ in |\n| gravel | 1 1/2 in |\n| brick | 7/16 in |\n| foam | 1.25 in |\n| gravel | 38.1 mm |\n"},
	{"feet and inches", "[Planks](figures:toy-length)\n| Plank | Length |\n|---|---|\n| oak | 4 ft 6 in |\n| pine | 6' 3\" |\n| oak | 1.37 m |\n"},
	{"thousands and about", "[Stone](figures:toy-stone)\n| Stone | Bed (L) |\n|---|---|\n| gravel | 1,234.5 |\n| gravel | about 1,230 |\n| gravel | about 1,200 |\n"},
	{"comparator", "[Limits](figures:toy-limit)\n| Limit | Value |\n|---|---|\n| good water | ≤ 0.02 mg/L |\n| good water | 0.02 mg/L |\n| warm | ≥ 25 °C |\n| warm | 77 °F |\n"},
	{"name bears the mark out", "[Limits](figures:toy-limit)\n| Limit | Open max (mm) |\n|---|---|\n| good water | ≤ 5 |\n"},
	{"unit by row", "[List](figures:toy-list)\n| Quantity | Value |\n|---|---|\n| hole | 12 mm |\n| hole | 1.2 cm |\n| share | 7 % |\n| word | any |\n"},
	{"words with digits", "[Stone](figures:toy-stone)\n| Stone | Voids | Mark |\n|---|---|---|\n| gravel | 0.4 | IPX8 by BS 7671, NO2-N |\n"},
	{"invented on request", "[Stone](figures:toy-stone?basis=scenario)\n| Stone | Bed (L) |\n|---|---|\n| mystery | 1 |\n"},
	{"constraint in another unit", "[Air](figures:toy-air?temperature=68+[degF]&salt=0)\n| Air (mg/L) |\n|---|\n| 9.1 |\n"},
	{"blank and dash", "[Stone](figures:toy-stone)\n| Stone | Voids | Bed (L) |\n|---|---|---|\n| gravel | | — |\n"},
}

func TestBindTable(t *testing.T) {
	lib := toyLibrary(t)
	for _, c := range goodTables {
		t.Run(c.name, func(t *testing.T) {
			table, _ := grid(t, c.sample)
			bound, list := lib.BindTable(table)
			for _, d := range list {
				t.Error(d)
			}
			for i, row := range table.Rows {
				for j, cell := range row {
					_, err := ReadAmount(cell.Text)
					if (err == nil && cell.Ref == nil) != bound[i][j].Numeric {
						t.Errorf("%s: %q bound: %v", cell.Pos, cell.Text, bound[i][j].Numeric)
					}
					if b := bound[i][j]; b.Numeric && b.Figure().File == "" {
						t.Errorf("%s: no figure", cell.Pos)
					}
				}
			}
		})
	}
}

// Each sample marks with ¦ the places of its faults; want holds words of each
// report, in order.
var badTables = []struct {
	name, sample string
	want         []string
}{
	{"wrong digit", "[Air](figures:toy-air?salt=0)\n| Temperature (°C) | Air (mg/L) |\n|---|---|\n| 10 | 11.25 |\n| 20 | ¦9.2 |\n",
		[]string{"air is 9.2 here; expected 9.08 mg/L for temperature 20 by toy-2001; correct the cell, or the link that says which figure is meant (see testdata/reference/toy-air.csv:4:6)"}},
	{"wrong digit in a pivot", "[Air](figures:toy-air)\n| Temperature (°C) | [Salt 0](figures:?salt=0&column=air) |\n|---|---|\n| 10 | ¦11.26 mg/L |\n", []string{"expected 11.25"}},
	{"off by one in the last digit", "[Air](figures:toy-air?salt=0)\n| Temperature (°C) | Air (mg/L) |\n|---|---|\n| 20 | ¦9.0 |\n", []string{"air is 9.0 here"}},
	{"more digits than the figure", "[Air](figures:toy-air?salt=0)\n| Temperature (°C) | Air (mg/L) |\n|---|---|\n| 30 | ¦7.50 |\n", []string{"more digits here, 7.50, than the figure; expected 7.5"}},
	{"no unit", "[Air](figures:toy-air?salt=0)\n| Temperature | Air (mg/L) |\n|---|---|\n| ¦10 | 11.25 |\n", []string{"temperature has no unit here; expected a unit, such as °C"}},
	{"wrong dimension", "[Air](figures:toy-air?salt=0)\n| Temperature (°C) | Air |\n|---|---|\n| 10 | ¦11.25 m |\n", []string{"air is in m here, which does not convert; expected a unit such as mg/L"}},
	{"unknown unit", "[Air](figures:toy-air?salt=0)\n| Temperature (°C) | Air |\n|---|---|\n| 10 | ¦11.25 blobs |\n", []string{`"blobs", which is no unit`}},
	{"which gallon", "[Stone](figures:toy-stone)\n| Stone | Bed |\n|---|---|\n| gravel | ¦326 gal |\n", []string{"does not say which gallon"}},
	{"units disagree", "[Air](figures:toy-air?salt=0)\n| Temperature (°C) | Air (mg/L) |\n|---|---|\n| ¦50 °F | 11.25 |\n", []string{"the cell is in °F and its heading in °C"}},
	{"decimal comma", "[Air](figures:toy-air?salt=0)\n| Temperature (°C) | Air (mg/L) |\n|---|---|\n| 20 | ¦9,08 |\n", []string{"comma"}},
	{"two numbers", "[Air](figures:toy-air?salt=0)\n| Temperature (°C) | Air (mg/L) |\n|---|---|\n| 20 | ¦9.08 (8.14) |\n", []string{"has two numbers"}},
	{"range turned round", "[Stone](figures:toy-stone)\n| Stone | Surface (m²/m³) |\n|---|---|\n| gravel | ¦390 to 330 |\n", []string{"end is not above its start"}},
	{"one end of a range", "[Stone](figures:toy-stone)\n| Stone | Surface (m²/m³) |\n|---|---|\n| gravel | ¦330 |\n", []string{"expected 330 to 390 m²/m³"}},
	{"wrong end of a range", "[Stone](figures:toy-stone)\n| Stone | Surface (m²/m³) |\n|---|---|\n| gravel | ¦330 to 380 |\n", []string{"surface is 330 to 380 here; expected 330 to 390 m²/m³"}},
	{"open range that is closed", "[Stone](figures:toy-stone)\n| Stone | Surface (m²/m³) |\n|---|---|\n| gravel | ¦≥ 330 |\n", []string{"does not bear out"}},
	{"limit turned round", "[Limits](figures:toy-limit)\n| Limit | Value (mg/L) |\n|---|---|\n| good water | ¦≥ 0.02 |\n", []string{"does not bear out"}},
	{"mark without ground", "[Stone](figures:toy-stone)\n| Stone | Voids |\n|---|---|\n| gravel | ¦≥ 0.4 |\n", []string{"does not bear out"}},
	{"number where the figure is blank", "[Limits](figures:toy-limit)\n| Limit | [Value (°C)](figures:?column=value+[Cel]) |\n|---|---|\n| good water | ¦25 |\n", []string{"where the figures have none"}},
	{"unbound number", "[Air](figures:toy-air?salt=0)\n| Temperature (°C) | Air (mg/L) | Advice |\n|---|---|---|\n| 20 | 9.08 | ¦change 30 % |\n", []string{"the number 30 is bound to no figure"}},
	{"text that is no figure's", "[Stone](figures:toy-stone)\n| Stone | Voids |\n|---|---|\n| ¦gravle | 0.4 |\n", []string{"stone is gravle here; expected gravel"}},
	{"unknown set", "¦[Air](figures:toy-wind)\n| Temperature (°C) |\n|---|\n| 20 |\n", []string{"there is no figure set toy-wind"}},
	{"unknown column in the caption", "¦[Air](figures:toy-air?salinity=0)\n| Temperature (°C) |\n|---|\n| 20 |\n", []string{"no column salinity; expected one of temperature [Cel], salt [g/kg], air [mg/L]"}},
	{"unknown column in a heading", "[Air](figures:toy-air?salt=0)\n| Temperature (°C) | ¦[Wind](figures:?column=wind) |\n|---|---|\n| 20 | |\n", []string{"no column wind"}},
	{"value that no row has", "[Air](figures:toy-air?salt=5)\n| Temperature (°C) | Air (mg/L) |\n|---|---|\n| ¦20 | 9.08 |\n", []string{"no row of toy-air has salt = 5; expected one of 0 | 20"}},
	{"heading says another number than its link", "[Air](figures:toy-air)\n| Temperature (°C) | ¦[Salt 10](figures:?salt=20&column=air) |\n|---|---|\n| 10 | 10.0 mg/L |\n", []string{`the number 10 in "Salt 10" is bound to no figure`}},
	{"caption says another unit than its link", "¦[Air at 20 g/kg](figures:toy-air?temperature=20&salt=0)\n| Air (mg/L) |\n|---|\n| 9.08 |\n", []string{`the number 20 in "Air at 20 g/kg" is bound to no figure`}},
	{"row says another number than its figure", "[Stone](figures:toy-stone)\n| What | Voids |\n|---|---|\n| ¦[Foam, 95 % air](figures:?stone=foam) | 0.97 |\n", []string{"the number 95"}},
	{"hidden input", "[Air](figures:toy-air)\n| Temperature (°C) | Air (mg/L) |\n|---|---|\n| 20 | ¦9.08 |\n", []string{"9.08 is the figure for salt = 0, which the table does not say; expected one figure; for 20 it is 8.14 mg/L; add salt=0 to the link"}},
	{"invented figure unasked", "[Stone](figures:toy-stone)\n| Stone | Bed (L) |\n|---|---|\n| ¦mystery | 1 |\n", []string{"no row of toy-stone has stone mystery; expected one of gravel | brick | foam | glass; correct the cell"}},
	{"key that no row has", "[Air](figures:toy-air?salt=0)\n| Temperature (°C) | Air (mg/L) |\n|---|---|\n| ¦25 | 9.09 |\n", []string{"no row of toy-air has temperature 25; expected one of 10 °C | 20 °C | 30 °C; correct the cell"}},
	{"second key that no row has", "[Air](figures:toy-air)\n| Temperature (°C) | Salt (g/kg) | Air (mg/L) |\n|---|---|---|\n| 20 | ¦5 | 9.09 |\n", []string{"no row of toy-air has salt 5; expected one of 0 g/kg | 20 g/kg"}},
	{"key in another unit that no row has", "[Air](figures:toy-air?salt=0)\n| Temperature (°F) | Air (mg/L) |\n|---|---|\n| ¦77 | 9.09 |\n", []string{"no row of toy-air has temperature 77; expected one of 50 °F | 68 °F | 86 °F"}},
	{"key mistyped, and the rest right", "[Air](figures:toy-air?salt=0)\n| Temperature (°C) | Air (mg/L) |\n|---|---|\n| ¦21 | 9.08 |\n", []string{"temperature is 21 here; expected 20 °C for air 9.08"}},
	{"two outputs of a row that is found", "[Limits](figures:toy-limit)\n| Limit | Value (mg/L) | Open max (mm) |\n|---|---|---|\n| good water | ¦0.03 | 4 |\n", []string{"value is 0.03 here, and 1 more of this row's cells differ; expected 0.02 mg/L for limit good water"}},
	{"key of another row", "[Air](figures:toy-air?salt=0)\n| Temperature (°C) | Air (mg/L) |\n|---|---|\n| ¦20 | ¦11.25 |\n", []string{"or else temperature is 20 here; expected 10 °C for air 11.25 by toy-2001", "air is 11.25 here; expected 9.08 mg/L for temperature 20"}},
	{"key of another row in a pivot", "[Air](figures:toy-air)\n| Temperature (°C) | [Salt 0](figures:?salt=0&column=air) | [Salt 20](figures:?salt=20&column=air) |\n|---|---|---|\n| ¦20 | ¦11.25 mg/L | ¦9.96 mg/L |\n", []string{"or else temperature is 20 here; expected 10", "expected 9.08", "expected 8.14"}},
	{"two faults in two rows", "[Air](figures:toy-air?salt=0)\n| Temperature (°C) | Air (mg/L) |\n|---|---|\n| 10 | ¦11.35 |\n| 20 | ¦9.3 |\n", []string{"11.35", "9.3"}},
}

func TestBindTableReportsFaultsWhereTheyAre(t *testing.T) {
	lib := toyLibrary(t)
	for _, c := range badTables {
		t.Run(c.name, func(t *testing.T) {
			table, want := grid(t, c.sample)
			_, list := lib.BindTable(table)
			if len(list) != len(want) {
				t.Fatalf("%d faults, want %d:\n%v", len(list), len(want), list)
			}
			for i, d := range list {
				if d.Position != want[i] {
					t.Errorf("%s, want the fault at %s", d, want[i])
				}
				if !strings.Contains(d.String(), c.want[i]) {
					t.Errorf("%s, want %q in it", d, c.want[i])
				}
				if d.Remedy == "" {
					t.Errorf("%s has no remedy", d)
				}
			}
		})
	}
}

func TestBindFigure(t *testing.T) {
	lib := toyLibrary(t)
	for _, c := range []struct{ link, want string }{
		{"[9.1 mg/L](figure:toy-air?temperature=20&salt=0)", ""},
		{"[9.08 mg/L](figure:toy-air?temperature=68+[degF]&salt=0)", ""},
		{"[330 to 390 m²/m³](figure:toy-stone?stone=gravel)", ""},
		{"[40 %](figure:toy-stone?stone=gravel#voids)", ""},
		{"[330 m²/m³](figure:toy-stone?stone=gravel#surface_min)", ""},
		{"[390 m²/m³](figure:toy-stone?stone=gravel#surface_max)", ""},
		{"[270 gal (imp)](figure:toy-stone?stone=gravel#bed)", ""},
		{"[200 gal (imp)](figure:toy-stone?stone=gravel#bed)", "bed is 200 gal (imp) here"},
		{"[1,230 L](figure:toy-stone?stone=gravel#bed)", "bed is 1,230 L here"},
		{"[4 ft 6 in](figure:toy-length?plank=oak)", ""},
		{"[9.2 mg/L](figure:toy-air?temperature=20&salt=0)", "air is 9.2 mg/L here; expected 9.08 mg/L by toy-2001"},
		{"[9.1 mg/L](figure:toy-air?temperature=20)", "one of several figures that the link may mean; expected constraints that leave one; 8.14 mg/L in line 5 is another; add salt=0 to the link"},
		{"[0.4](figure:toy-stone?stone=gravel)", "may be of several columns; expected one of surface_min, voids, bore, bed"},
		{"[9.1 m](figure:toy-air?temperature=20&salt=0)", "in the unit of"},
		{"[9.1](figure:toy-air?temperature=20&salt=0)", "air has no unit here"},
		{"[9.1 mg/L](figure:toy-air?temperature=25&salt=0)", "no row of toy-air has temperature = 25"},
		{"[9.1 mg/L](figure:toy-wind)", "there is no figure set toy-wind"},
		{"[9.1 mg/L](figure:toy-air#wind)", "has no column wind"},
	} {
		ref := link(t, c.link, diag.Position{File: "x.md", Line: 1, Column: 1})
		a, err := ReadAmount(ref.Text)
		if err != nil {
			t.Fatal(err)
		}
		b, d := lib.BindFigure(*ref, a)
		switch {
		case d == nil && c.want != "":
			t.Errorf("%s binds to line %d, want the fault %q", c.link, b.Set.Rows[b.Row].Line, c.want)
		case d != nil && (c.want == "" || !strings.Contains(d.String(), c.want)):
			t.Errorf("%s: %s; want %q", c.link, d, c.want)
		case d == nil && !b.Numeric:
			t.Errorf("%s is not bound", c.link)
		}
	}
}
