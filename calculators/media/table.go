package media

import (
	"strconv"

	"mereleaf/calculators"
)

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
	_           calculators.Incomparable
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
		{Name: "gravel-10", Label: "round gravel, 10 mm", Surface: design("gravel, rounded|8|12", 330, 390), Void: design("gravel, rounded|8|12", 0.35, 0.45), Dry: design("gravel, rounded|8|12", 1450, 1700), Wet: gravelWet,
			Note: calculators.Text("Fine gravel clogs and may flood from {flood m3/m2/d}: use it low in the stack, behind a screen.", floodingLoad)},
		{Name: "gravel-20", Label: "round gravel, 20 mm", Surface: design("gravel, rounded|16|25", 165, 195), Void: design("gravel, rounded|16|25", 0.38, 0.45), Dry: design("gravel, rounded|16|25", 1400, 1650), Wet: gravelWet},
		{Name: "lava", Label: calculators.Text("lava, about {size mm}", 20), Surface: Property{Figure{165, "media-sphere-identity", "20|0.45", "fluids-1.0.22", "library"}, Figure{400, set, "volcanic gravel (tuff, lava)", fao, "memory"}},
			Void: custom(0.45, 0.55), Dry: printed("media-bulk-density", "lava or scoria|loose", "", "practice", 600, 1000), Wet: drained("lava rock (scoria) 20 to 50 mm, drained wet", 800, 1100),
			Note: "Lava differs widely between quarries: weigh a bucketful of it, and wash out the dust."},
		{Name: "pumice", Label: "pumice", Surface: printed(set, "pumice", fao, "memory", 200, 300), Void: custom(0.4, 0.5),
			Dry: Property{Figure{431, "media-porous-substrates", "pumice", "fpls-2014-625", "published"}, Figure{641, "media-bulk-density", "pumice stone", "density-table-c", "memory"}}, Wet: drained("pumice, drained wet", 600, 900),
			Note: "Fresh pumice floats: soak it for some days."},
		{Name: "expanded-clay", Label: "expanded clay balls", Surface: printed(set, "expanded clay", fao, "memory", 250, 300), Void: custom(0.36, 0.45),
			Dry: printed("media-bulk-density", "expanded clay", "wiki-expanded-clay", "published", 250, 510), Wet: drained("expanded clay balls, drained wet", 450, 700),
			Note: "Fresh balls float: soak them, and lay a grid on top."},
		{Name: "crushed-brick", Label: calculators.Text("crushed brick, {least ~} to {most mm}", 10, 30), Surface: design("crushed brick or fired-clay grog", 150, 330), Void: design("crushed brick or fired-clay grog", 0.45, 0.55), Dry: design("crushed brick or fired-clay grog", 900, 1330), Wet: custom(1050, 1550),
			Note: "Use only hard-fired brick without mortar, and soak it until the water no longer changes its pH. Wear a dust mask when you break it."},
		{Name: "sintered-glass", Label: "porous glass or ceramic, blocks or rings", Surface: design("porous sintered glass, blocks or rings", 150, 400), Void: design("porous sintered glass, blocks or rings", 0.5, 0.7), Dry: design("porous sintered glass, blocks or rings", 350, 700), Wet: drained("ceramic rings or tubes, drained wet", 700, 1000),
			Note: "Sellers quote inner surfaces a thousand times larger: they do nothing for ammonia."},
	}
}

// hardPlastics is how many of the light media are of hard plastic: the first.
const hardPlastics = 4

func light() []Medium {
	const rings, packing = "media-random-packing", "media-trickling-packing"
	openPlastic := drained("open plastic random packing, drained wet with biofilm", 120, 250)
	foamWet := drained("reticulated foam sheet 10 to 30 ppi, drained", 200, 450)
	return []Medium{
		{Name: "chopped-tube", Label: "chopped corrugated tube", Surface: design("chopped corrugated tube", 100, 250), Void: design("chopped corrugated tube", 0.8, 0.92), Dry: design("chopped corrugated tube", 60, 150), Wet: openPlastic},
		{Name: "plastic-packing", Label: calculators.Text("open plastic rings, {least ~} to {most mm}", 25, 50), Surface: Property{Figure{102, rings, "slotted (Pall) ring|polypropylene|51", "sinnott-2005", "memory"}, Figure{206, rings, "slotted (Pall) ring|plastic|25", "perry-2008", "published"}},
			Void: Property{Figure{0.7, packing, "plastic random packing, high specific surface", "metcalf-eddy-2003", "published"}, Figure{0.9, rings, "slotted (Pall) ring|plastic|25", "perry-2008", "published"}},
			Dry:  Property{Figure{68, rings, "slotted (Pall) ring|polypropylene|51", "sinnott-2005", "memory"}, Figure{88, rings, "slotted (Pall) ring|polypropylene|25", "sinnott-2005", "memory"}}, Wet: openPlastic},
		{Name: "plastic-sheet", Label: "corrugated plastic sheet block", Surface: Property{Figure{90, packing, "structured plastic sheet, conventional", "metcalf-eddy-2003", "published"}, Figure{140, packing, "structured plastic sheet, high specific surface", "metcalf-eddy-2003", "published"}},
			Void: printed("media-trickling-packing-ranges", "plastic sheet, conventional", "metcalf-eddy-1991", "memory", 0.94, 0.97),
			Dry:  printed("media-trickling-packing-ranges", "plastic sheet, conventional", "metcalf-eddy-1991", "memory", 30, 100), Wet: openPlastic},
		{Name: "moving-bed", Label: "moving-bed elements, lying still", Surface: design("moving-bed element, protected area", 500, 800), Void: design("moving-bed element, protected area", 0.8, 0.9), Dry: design("moving-bed element, protected area", 90, 170), Wet: drained("small moving-type plastic media, drained wet with biofilm", 250, 400),
			Note: "The figure is the protected inner surface, of which a part stays dry in a shower: build for the upper end of the range."},
		foam(10, foamWet), foam(20, foamWet), foam(30, foamWet),
		{Name: "brush", Label: "filter brush", Surface: design("brush", 100, 250), Void: design("brush", 0.95, 0.98), Dry: design("brush", 20, 60), Wet: openPlastic,
			Note: "Brushes catch dirt: count on them as a screen, not as the nitrifying stage."},
		{Name: "fibre-matting", Label: "curled fibre matting", Surface: design("fibre matting", 250, 450), Void: design("fibre matting", 0.94, 0.97), Dry: design("fibre matting", 40, 90), Wet: custom(200, 450)},
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
	return Medium{Name: "foam-" + ppi, Label: calculators.Text("open foam, {pores ~} pores per inch", poresPerInch),
		Surface: Property{surface((1 - spread) * FoamSurface(poresPerInch, open)), surface((1 + spread) * FoamSurface(poresPerInch, dense))},
		Void:    void, Dry: custom(25, 35), Wet: wet,
		Note: "Foam catches dirt and then passes less water: rinse half of the sheets a week, in pond water."}
}
