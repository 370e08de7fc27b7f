package main

import (
	"math"
	"strconv"

	"mereleaf/calculators"
	"mereleaf/calculators/limits"
	"mereleaf/calculators/media"
)

// subject is what is compared, and how its questions are drawn. The ranges are those
// that the calculators accept, unless a comment says why not.
type subject struct {
	name, calculator string
	outputs          []string
	ask              func(*draw)

	// answer, where it is set, asks a function in the calculator's stead.
	answer func(*draw) (found map[string][3]float64, refused string)
}

func subjects() []subject {
	return []subject{
		{"ammonia", "free-ammonia", []string{"share", "toxic", "ionised", "highest-total"}, askAmmonia, nil},
		{"carbonate", "carbon-dioxide", []string{"carbon-dioxide"}, askCarbonate, nil},
		{"oxygen", "oxygen-saturation", []string{"saturation", "pressure", "percent"}, askOxygen, nil},
		{"friction", "pipe-loss", []string{"loss", "friction", "fittings-loss", "velocity", "reynolds"}, askFriction, nil},
		{"manifold", "spray-bar", []string{"head", "far", "first-flow", "last-flow", "evenness"}, askManifold, nil},
		{"night oxygen", "oxygen-night", []string{"dawn", "until-act", "until-last", "demand", "saturation"}, askNight, nil},
		{"start-up", "maturing", []string{"down", "tan-day", "tan-peak", "nitrite-day", "nitrite-peak"}, askStartUp, startUp},
	}
}

func askAmmonia(d *draw) {
	d.put("tan", d.ratio("tan", 0.01, 100), "mg/L")
	d.put("ph", d.even("ph", 4, 11), "")
	d.put("temperature", d.even("temperature", 0, 50), "Cel")
	salinity := 0.0 // fresh water as often as water with salt
	if d.share("salted") > 0.5 {
		salinity = d.even("salinity", 0, 35)
	}
	d.put("salinity", salinity, "g/kg")
}

func askCarbonate(d *draw) {
	d.put("ph", d.even("ph", 5.5, 9), "")
	d.put("alkalinity", d.ratio("alkalinity", 5, 500), "mg/L")
	d.put("temperature", d.even("temperature", 0, 40), "Cel")
}

func askOxygen(d *draw) {
	d.put("temperature", d.even("temperature", 0, 40), "Cel")
	d.put("salinity", d.even("salinity", 0, 40), "g/kg")
	from := d.one("from", "altitude", "barometer")
	d.word("pressure-from", from)
	if from == "altitude" {
		d.put("altitude", d.even("altitude", -430, 5000), "m")
	} else {
		d.put("pressure", d.even("pressure", 50, 110), "kPa")
	}
	d.put("reading", d.even("reading", 0.1, 30), "mg/L")
}

func askFriction(d *draw) {
	bore := d.ratio("bore", 5, 500)
	d.put("flow", d.ratio("flow", 1, 1e6), "L/h")
	d.put("bore", bore, "mm")
	d.put("length", d.ratio("length", 0.1, 500), "m")
	d.word("wall", "own")
	// Colebrook's formula is stated for walls as rough as a twentieth of the bore.
	d.put("roughness", d.ratio("roughness", 1e-4, min(10, bore/20)), "mm")
	d.put("more-k", d.even("more-k", 0, 30), "")
	d.put("temperature", d.even("temperature", 0, 40), "Cel")
}

// askManifold draws the share of the holes in the bore, which must not pass 160 %,
// and the hole itself, which must not be as wide as the bar: their limits hold
// together, not one by one.
func askManifold(d *draw) {
	bore := d.ratio("bore", 8, 200)
	hole := d.ratio("hole", max(1, bore/40), min(50, bore*0.85))
	one := hole * hole / (bore * bore)
	count := math.Max(1, math.Min(500, math.Round(d.even("share", 0.02, 1.58)/one)))
	d.put("flow", rounded(math.Pow(bore/1000, 2)*math.Pi/4*3.6e6*d.ratio("velocity", 0.05, 3)), "L/h")
	d.put("bore", bore, "mm")
	d.put("length", d.ratio("length", 0.1, 20), "m")
	d.put("hole", hole, "mm")
	d.word("find", "evenness")
	d.put("count", count, "")
	d.put("wall", d.ratio("wall", 0.3, 30), "mm")
	d.put("temperature", d.even("temperature", 0, 40), "Cel")
}

// askNight draws one shoal, by its weight to the volume, so that most nights are
// neither idle nor lost. Lengths are those for which the line of weight is stated.
func askNight(d *draw) {
	volume := d.ratio("volume", 0.5, 500)
	length := d.even("length", 20, 90)
	weight := math.Pow(10, -4.639+2.920*math.Log10(10*length)) / 1000
	count := math.Max(1, math.Min(10000, math.Round(volume*d.ratio("density", 0.02, 3)/weight)))
	d.given["length"], d.given["count"] = length, count
	d.args = append(d.args, calculators.Arg{Name: "fish", Value: "koi, " + plain(length) + " cm, " + plain(count)})
	d.put("volume", volume, "m3")
	d.put("area", rounded(volume/d.ratio("depth", 0.3, 3)), "m2")
	d.put("temperature", d.even("temperature", 0, 35), "Cel")
	d.put("start", d.even("start", 3, 16), "mg/L")
	d.word("look", d.one("look", "clear", "green", "thick"))
	d.put("feed", rounded(count*weight*1000*d.even("ration", 0, 0.02)), "g/d")
	d.put("protein", d.even("protein", 5, 70), "%")
	d.put("wind", d.even("wind", 0, 15), "m/s")
	d.put("altitude", d.even("altitude", -430, 5000), "m")
	d.put("night", d.even("night", 1, 24), "h")
	tower := d.one("tower", "none", "falls")
	d.word("tower", tower)
	if tower == "falls" {
		d.put("flow", rounded(volume*1000*d.ratio("turnover", 0.02, 2)), "L/h")
		d.put("tiers", d.whole("tiers", 1, 20), "")
		d.put("drop", d.even("drop", 0, 4.5), "m")
	}
	pump := d.one("pump", "none", "fine", "coarse")
	d.word("pump", pump)
	if pump != "none" {
		d.put("air", d.ratio("air", 1, 200), "L/min")
		d.put("stone-depth", d.even("stone-depth", 0.1, 6), "m")
	}
}

// askStartUp asks for one published set of bacteria at a time: the calculator shows
// what three of them say together. Where they cannot live it refuses: in much less
// warmth and oxygen, or where the water changes leave them no ammonia.
func askStartUp(d *draw) {
	d.put("set", float64(int(d.even("set", 0, 2.999))), "")
	d.put("load", d.ratio("load", 0.05, 5), "mg/L/d")
	d.put("temperature", d.even("temperature", 5, 28), "Cel")
	d.put("oxygen", d.even("oxygen", 2, 16), "mg/L")
	d.put("change", d.even("change", 0, 50), "%")
	d.put("moved", d.ratio("moved", 1e-4, 0.3), "") // of the bacteria that the load feeds
}

// tolerance of a step of the start-up, as a share: that of the calculator.
const tolerance = 1e-4

func startUp(d *draw) (found map[string][3]float64, refused string) {
	v := func(name string) float64 { return d.given[name].(float64) }
	ammonia, nitrite := media.NitrifierSet(int(v("set")))
	s := &media.StartUp{
		Ammonia: media.BacteriaAt(ammonia, v("temperature"), v("oxygen")), Nitrite: media.BacteriaAt(nitrite, v("temperature"), v("oxygen")),
		Load: v("load"), Dilution: -math.Log(1-v("change")/100) / 7,
	}
	s.SeedAmmonia, s.SeedNitrite = v("moved")*media.MatureBacteria(s.Ammonia, s.Load), v("moved")*media.MatureBacteria(s.Nitrite, s.Load)
	low := [2]float64{1.1 * media.SettledNitrogen(s.Ammonia), 1.1 * media.SettledNitrogen(s.Nitrite)}
	if !(s.Load > s.Dilution*(low[0]+low[1])) {
		return nil, "the bacteria cannot live on what the water changes leave"
	}
	c := media.RunStartUp(s, math.Max(limits.MatureAmmonia, low[0]), math.Max(limits.MatureNitrite, low[1]), tolerance)
	found = map[string][3]float64{}
	for output, value := range map[string]float64{"down": c.Down, "tan-day": c.TANPeakDay, "tan-peak": c.TANPeak, "nitrite-day": c.NitritePeakDay, "nitrite-peak": c.NitritePeak} {
		if !math.IsInf(value, 0) {
			found[output] = [3]float64{value, value, value}
		}
	}
	return found, ""
}

func plain(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
