package media

import "strconv"

// Figure is a number with its origin: the row of a figure set it stands in, or
// common practice without a row.
type Figure struct {
	Value  float64
	Set    string // figure set; "" for practice without one
	Row    string // cells that tell the row, joined by |
	Source string // key in content/sources.json; "" with the basis practice
	Basis  string // published, library, memory, practice
}

// Property is a range between two figures.
type Property struct{ Low, High Figure }

// Range returns the property without its origin.
func (p Property) Range() Range { return Between(p.Low.Value, p.High.Value) }

// Medium is a filter medium as it lies in a box.
type Medium struct {
	Name, Label string
	Surface     Property // outside surface, m2 per m3 of bed
	Void        Property // share of the bed between the pieces
	Dry         Property // bulk density, kg/m3
	Wet         Property // bulk density after the water has drained, grown in, kg/m3
	Note        string   // what to watch with it, one sentence; may be empty
}

// design returns figures of our own design table.
func design(row string, low, high float64) Property {
	f := func(v float64) Figure { return Figure{v, "media-design-properties", row, "", "practice"} }
	return Property{f(low), f(high)}
}

// printed returns one range of one row.
func printed(set, row, source, basis string, low, high float64) Property {
	return Property{Figure{low, set, row, source, basis}, Figure{high, set, row, source, basis}}
}

// drained returns the weight of drained media of a row of trade ranges.
func drained(row string, low, high float64) Property {
	return printed("hydraulics-bulk-density", row, "pond-practice", "practice", low, high)
}

// custom returns common practice for which no figure set has a row.
func custom(low, high float64) Property { return printed("", "", "", "practice", low, high) }

// Table returns the media, the stony ones first. Surfaces are outside surfaces:
// pores inside a grain do not count, because no water moves in them (figure set
// media-internal-surface).
func Table() []Medium { return append(stones(), light()...) }

func stones() []Medium {
	const fao = "fao-589"
	set := "media-design-properties"
	gravelWet := custom(1500, 1800)
	return []Medium{
		{"gravel-10", "round gravel, 10 mm", design("gravel, rounded|8|12", 330, 390), design("gravel, rounded|8|12", 0.35, 0.45), design("gravel, rounded|8|12", 1450, 1700), gravelWet,
			"Fine gravel clogs and may flood from 400 m³/m² a day: use it low in the stack, behind a screen."},
		{"gravel-20", "round gravel, 20 mm", design("gravel, rounded|16|25", 165, 195), design("gravel, rounded|16|25", 0.38, 0.45), design("gravel, rounded|16|25", 1400, 1650), gravelWet, ""},
		{"lava", "lava, about 20 mm", Property{Figure{165, "media-sphere-identity", "20|0.45", "fluids-1.0.22", "library"}, Figure{400, set, "volcanic gravel (tuff, lava)", fao, "memory"}},
			custom(0.45, 0.55), printed("media-bulk-density", "lava or scoria|loose", "", "practice", 600, 1000), drained("lava rock (scoria) 20 to 50 mm, drained wet", 800, 1100),
			"Lava differs widely between quarries: weigh a 10 litre bucket of it, and wash out the dust."},
		{"pumice", "pumice", printed(set, "pumice", fao, "memory", 200, 300), custom(0.4, 0.5),
			Property{Figure{431, "media-porous-substrates", "pumice", "fpls-2014-625", "published"}, Figure{641, "media-bulk-density", "pumice stone", "density-table-c", "memory"}}, drained("pumice, drained wet", 600, 900),
			"Fresh pumice floats: soak it for some days."},
		{"expanded-clay", "expanded clay balls", printed(set, "expanded clay", fao, "memory", 250, 300), custom(0.36, 0.45),
			printed("media-bulk-density", "expanded clay", "wiki-expanded-clay", "published", 250, 510), drained("expanded clay balls, drained wet", 450, 700),
			"Fresh balls float: soak them, and lay a grid on top."},
		{"crushed-brick", "crushed brick, 10 to 30 mm", design("crushed brick or fired-clay grog", 150, 330), design("crushed brick or fired-clay grog", 0.45, 0.55), design("crushed brick or fired-clay grog", 900, 1330), custom(1050, 1550),
			"Use only hard-fired brick without mortar, and soak it until the water no longer changes its pH. Wear a dust mask when you break it."},
		{"sintered-glass", "porous glass or ceramic, blocks or rings", design("porous sintered glass, blocks or rings", 150, 400), design("porous sintered glass, blocks or rings", 0.5, 0.7), design("porous sintered glass, blocks or rings", 350, 700), drained("ceramic rings or tubes, drained wet", 700, 1000),
			"Sellers quote inner surfaces a thousand times larger: they do nothing for ammonia."},
	}
}

func light() []Medium {
	const rings, packing = "media-random-packing", "media-trickling-packing"
	openPlastic := drained("open plastic random packing, drained wet with biofilm", 120, 250)
	foamWet := drained("reticulated foam sheet 10 to 30 ppi, drained", 200, 450)
	return []Medium{
		{"chopped-tube", "chopped corrugated tube", design("chopped corrugated tube", 100, 250), design("chopped corrugated tube", 0.8, 0.92), design("chopped corrugated tube", 60, 150), openPlastic, ""},
		{"plastic-packing", "open plastic rings, 25 to 50 mm", Property{Figure{102, rings, "slotted (Pall) ring|polypropylene|51", "sinnott-2005", "memory"}, Figure{206, rings, "slotted (Pall) ring|plastic|25", "perry-2008", "published"}},
			Property{Figure{0.7, packing, "plastic random packing, high specific surface", "metcalf-eddy-2003", "published"}, Figure{0.9, rings, "slotted (Pall) ring|plastic|25", "perry-2008", "published"}},
			Property{Figure{68, rings, "slotted (Pall) ring|polypropylene|51", "sinnott-2005", "memory"}, Figure{88, rings, "slotted (Pall) ring|polypropylene|25", "sinnott-2005", "memory"}}, openPlastic, ""},
		{"plastic-sheet", "corrugated plastic sheet block", Property{Figure{90, packing, "structured plastic sheet, conventional", "metcalf-eddy-2003", "published"}, Figure{140, packing, "structured plastic sheet, high specific surface", "metcalf-eddy-2003", "published"}},
			printed("media-trickling-packing-ranges", "plastic sheet, conventional", "metcalf-eddy-1991", "memory", 0.94, 0.97),
			printed("media-trickling-packing-ranges", "plastic sheet, conventional", "metcalf-eddy-1991", "memory", 30, 100), openPlastic, ""},
		{"moving-bed", "moving-bed elements, lying still", design("moving-bed element, protected area", 500, 800), design("moving-bed element, protected area", 0.8, 0.9), design("moving-bed element, protected area", 90, 170), drained("small moving-type plastic media, drained wet with biofilm", 250, 400),
			"The figure is the protected inner surface, of which a part stays dry in a shower: build for the upper end of the range."},
		foam(10, foamWet), foam(20, foamWet), foam(30, foamWet),
		{"brush", "filter brush", design("brush", 100, 250), design("brush", 0.95, 0.98), design("brush", 20, 60), openPlastic,
			"Brushes catch dirt: count on them as a screen, not as the nitrifying stage."},
		{"fibre-matting", "curled fibre matting", design("fibre matting", 250, 450), design("fibre matting", 0.94, 0.97), design("fibre matting", 40, 90), custom(200, 450), ""},
	}
}

// foam returns open foam: the surface of the cubic-cell model, half less at the
// greater void fraction and half more at the smaller, because real foams differ
// by that.
func foam(poresPerInch float64, wet Property) Medium {
	const open, dense, spread = 0.97, 0.95, 0.5
	surface := func(v float64) Figure { return Figure{v, "", "", "lacroix-2007", "memory"} }
	void := Property{Figure{dense, "media-foam-published", "void fraction, reticulated foam, typical to high", "wiki-reticulated-foam", "published"},
		Figure{open, "media-foam-published", "void fraction, reticulated polyurethane foam", "gooch-polymers", "published"}}
	ppi := strconv.FormatFloat(poresPerInch, 'f', 0, 64)
	return Medium{"foam-" + ppi, "open foam, " + ppi + " pores per inch",
		Property{surface((1 - spread) * FoamSurface(poresPerInch, open)), surface((1 + spread) * FoamSurface(poresPerInch, dense))},
		void, custom(25, 35), wet,
		"Foam catches dirt and then passes less water: rinse half of the sheets a week, in pond water."}
}
