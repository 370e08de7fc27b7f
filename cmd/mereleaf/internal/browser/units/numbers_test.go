package units

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"mereleaf/calculators/markup"
	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/browser/browsertest"
	"mereleaf/cmd/mereleaf/internal/website/units"
)

// TestTurnedNumbersAreRight compares every number that a page shows in another
// unit with an independent computation: factors of SP 811 as printed in a set of
// figures, its own rounding, no digit more than was written.
func TestTurnedNumbersAreRight(t *testing.T) {
	tb := browser.Open(t)
	tb.Visit("filtration/sizing.html")
	tb.Measure(units.US)
	// Quantities of every size besides those of the pages.
	var made strings.Builder
	state := uint64(7)
	for _, unit := range []string{"L", "m³", "L/h", "L/min", "mm", "cm", "m", "km", "m²", "kg", "g", "kg/m³", "m²/m³", "m/s", "km/h", "°C"} {
		for range 40 {
			state = state*6364136223846793005 + 1442695040888963407
			v := math.Pow(10, float64(state>>40)/(1<<24)*7-2)
			digits := 1 + int(state>>33)%5
			if unit == "°C" {
				v, digits = math.Mod(v, 100), max(digits, 2)
			}
			if unit == "g" {
				v += 3
			}
			made.WriteString(markup.Mark(fmt.Sprintf("<p>%s\u00a0%s.</p>", quantity.FormatNumber(v, digits), unit), quantity.Grammar{}))
		}
	}
	pairs := browsertest.Evaluate[[][2]string](tb, fmt.Sprintf(`(async () => {
		const main = document.querySelector("main");
		const all = [];
		for (const part of [%q, ...await Promise.all(%s.map(async (p) => new DOMParser().parseFromString(await (await fetch(%q + p)).text(), "text/html").querySelector("main").innerHTML))]) {
			main.innerHTML = part;
			await null;
			// What an author says in several units changes places, and is not converted.
			const marks = [...main.querySelectorAll(".turned")].filter((e) => e instanceof HTMLElement && !e.closest("[data-or], .also, dd:has([data-or]), .found:has(.also)") && !e.nextElementSibling?.matches("[data-or]"));
			const shown = marks.map((e) => e.textContent);
			document.documentElement.setAttribute("data-written", "");
			await new Promise((r) => setTimeout(r));
			marks.forEach((e, i) => all.push([e.textContent, shown[i]]));
			document.documentElement.removeAttribute("data-written");
			await new Promise((r) => setTimeout(r));
		}
		return all;
	})()`, made.String(), `["reckon/tower.html","stocking/feeding.html","filtration/first-run.html","water/pond-volume.html","safety/lifting-and-toppling.html","reckon/readings.html"]`, tb.Address))
	number := `[−-]?\d[\d,]*(?:\.\d+)?`
	list := regexp.MustCompile(`^(` + number + `(?: (?:to|by|x|×|and|or) ` + number + `)*) ([^\d,]+?)(?: \(.* mm\))?$`)
	each := regexp.MustCompile(number)
	plain := strings.NewReplacer("\u00a0a\u00a0day", "/d", "\u00a0", " ", "kilos", "kg", "litres", "L", "litre", "L", " a day", "/d", " an hour", "/h")
	checked := 0
	for _, pair := range pairs {
		written, shown := list.FindStringSubmatch(plain.Replace(pair[0])), list.FindStringSubmatch(plain.Replace(pair[1]))
		if written == nil || shown == nil {
			continue // the number of a table's cell, or what the author wrote in both
		}
		from, ok := published[written[2]]
		to, known := published[shown[2]]
		if ok && known && strings.HasPrefix(written[2], "gal") {
			continue // changed places with the answer above it
		}
		if !ok || !known || from.kind != to.kind {
			t.Errorf("%q is shown as %q: no published factor is bound to one of the units", pair[0], pair[1])
			continue
		}
		wrote, shows := each.FindAllString(written[1], -1), each.FindAllString(shown[1], -1)
		for i := range wrote {
			checked++
			compare(t, wrote[i], from, shows[i], to)
		}
	}
	if checked < 800 {
		t.Errorf("only %d numbers were compared", checked)
	}
}

// compare holds a number that is shown against the one that is written.
func compare(t *testing.T, written string, from factor, shown string, to factor) {
	t.Helper()
	got, want := value(shown), value(written)*from.factor/to.factor
	if from.kind == "temperature" {
		want = value(written)*1.8 + 32
	}
	step := math.Pow(10, -float64(decimals(shown)))
	if from.kind != "temperature" && want != 0 {
		claimed := max(2, significant(written))
		step = max(step, math.Pow(10, math.Floor(math.Log10(math.Abs(want)))-float64(claimed)+1))
		if s := significant(shown); s > claimed {
			t.Errorf("%s of %v is shown as %s of %v: %d digits of %d", written, from, shown, to, s, claimed)
		}
	}
	if math.Abs(got-want) > 0.5000001*step {
		t.Errorf("%s of %v is shown as %s of %v; by the published factor %g", written, from, shown, to, want)
	}
}

type factor struct {
	kind   string
	factor float64
}

// published are units as factors of one of their kind, made of the definitions
// printed in NIST SP 811, appendix B, and in the set hydraulics-unit-conversions.
var published = map[string]factor{
	"L": {"volume", 1}, "m³": {"volume", 1000}, "gal (US)": {"volume", 3.785411784}, "gal (imp)": {"volume", 4.54609},
	"L/h": {"flow", 1}, "L/min": {"flow", 60}, "L/d": {"flow", 1. / 24}, "gal (US)/h": {"flow", 3.785411784}, "gal (US)/min": {"flow", 60 * 3.785411784}, "gal (US)/d": {"flow", 3.785411784 / 24},
	"mm": {"length", 1}, "cm": {"length", 10}, "m": {"length", 1000}, "km": {"length", 1e6}, "in": {"length", 25.4}, "ft": {"length", 304.8}, "mi": {"length", 1609344},
	"m²": {"area", 1}, "cm²": {"area", 1e-4}, "mm²": {"area", 1e-6}, "ft²": {"area", 0.09290304}, "in²": {"area", 0.00064516},
	"kg": {"mass", 1}, "g": {"mass", 0.001}, "t": {"mass", 1000}, "lb": {"mass", 0.45359237}, "oz": {"mass", 0.028349523125},
	"kg/d": {"feed", 24}, "g/d": {"feed", 0.024}, "g/h": {"feed", 0.576}, "oz/d": {"feed", 0.024 * 28.349523125}, "oz/h": {"feed", 0.576 * 28.349523125}, "lb/d": {"feed", 24 * 0.45359237},
	"kg/m³": {"density", 1}, "lb/ft³": {"density", 16.018463374}, "m²/m³": {"surface", 1}, "ft²/ft³": {"surface", 1 / 0.3048},
	"m/s": {"speed", 1}, "mm/s": {"speed", 0.001}, "ft/s": {"speed", 0.3048}, "in/s": {"speed", 0.0254}, "km/h": {"speed", 1 / 3.6}, "mph": {"speed", 0.44704},
	"m³/m²/d": {"load", 1}, "m³/m² a day": {"load", 1}, "gal (US)/ft²/d": {"load", 0.003785411784 / 0.09290304},
	"mm/d": {"fall", 1}, "m/d": {"fall", 1000}, "in/d": {"fall", 25.4}, "ft/d": {"fall", 304.8},
	"N": {"force", 1}, "lbf": {"force", 4.4482216152605}, "N·m": {"moment", 1}, "lbf·ft": {"moment", 1.3558179483314}, "kPa": {"pressure", 1}, "psi": {"pressure", 6.894757293168},
	"°C": {"temperature", 1}, "°F": {"temperature", 1},
}

func value(s string) float64 {
	v, _ := strconv.ParseFloat(strings.NewReplacer(",", "", "−", "-").Replace(s), 64)
	return v
}

func decimals(s string) int {
	_, after, _ := strings.Cut(s, ".")
	return len(after)
}

// significant counts the digits that a number claims; noughts that end a whole
// number claim nothing.
func significant(s string) int {
	s = strings.TrimLeft(strings.NewReplacer(",", "", "−", "", "-", "").Replace(s), "0")
	if strings.Contains(s, ".") {
		return len(strings.TrimLeft(strings.ReplaceAll(s, ".", ""), "0"))
	}
	return len(strings.TrimRight(s, "0"))
}
