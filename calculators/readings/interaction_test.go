package readings_test

import (
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"mereleaf/calculators"
	"mereleaf/calculators/internal/reftest"
	"mereleaf/calculators/readings"
	"mereleaf/calculators/water"
)

func flagged(r calculators.Result, words string) bool {
	return slices.ContainsFunc(r.Flags, func(f string) bool { return strings.Contains(f, words) })
}

// Over ammonia that is toxic, or may be, pH and KH stay; over ammonia that is not,
// KH comes up in small steps, or a maturing filter uses it up and the pH falls.
func TestPHAndKHStayWhileAmmoniaIsToxic(t *testing.T) {
	for _, low := range [][]string{{"ph=8.4", "kh=30"}, {"kh=30"}, {"kh=80"}} {
		r := reckon(t, append(low, "tan=1 mg/L", "temperature=20 Cel")...)
		if !says(r, "", "do not raise the pH or the KH") || !says(r, "", "leave KH and pH as they are") {
			t.Errorf("%v: nothing against raising the pH in %q", low, r.Advice)
		}
		if says(r, "", "raise KH in small steps over days, before") || says(r, "", "top up the buffer") {
			t.Errorf("%v: raises KH over ammonia: %q", low, r.Advice)
		}
	}
	for _, low := range [][]string{{"ph=6.5"}, {"ph=6.9", "kh=40"}, {"ph=7.2", "kh=80"}} {
		r := reckon(t, append(low, "tan=1 mg/L", "temperature=20 Cel")...)
		if says(r, "", "do not raise") || !says(r, "", "only in small daily steps, testing ammonia and pH before each") || says(r, "", "leave KH and pH") {
			t.Errorf("%v: KH is not raised in steps over ammonia that is not toxic: %q", low, r.Advice)
		}
	}
	if r := reckon(t, "kh=30", "ph=7.4", "tan=0 mg/L", "temperature=20 Cel"); !says(r, "Today: ", "raise KH in small steps") || says(r, "", "test ammonia before") {
		t.Errorf("without ammonia KH is raised: %q", r.Advice)
	}
}

// A filter that works as designed leaves a little ammonia, and where there is
// chloride a little nitrite harms no one: neither is a reason to feed less.
func TestAWorkingFilterIsFedInFull(t *testing.T) {
	fed := func(args ...string) bool {
		r := reckon(t, append(args, "ph=7.4", "temperature=20 Cel")...)
		return !says(r, "", "stop feeding") && !says(r, "", "halve the feed") && !says(r, "", "less feed")
	}
	for _, c := range []struct {
		args []string
		want bool
	}{
		{[]string{"tan=0.25 mg/L"}, true}, {[]string{"tan=0.26 mg/L"}, false}, {[]string{"tan=0.25 mg/L", "nitrite=0.1 mg/L"}, false},
		{[]string{"tan=0.25 mg/L", "nitrite=0.1 mg/L", "chloride=20 mg/L"}, true}, {[]string{"nitrite=0.15 mg/L", "chloride=200 mg/L"}, false},
	} {
		if got := fed(c.args...); got != c.want {
			t.Errorf("%v: fed in full %v, want %v", c.args, got, c.want)
		}
	}
}

// In heat the oxygen at dawn decides, and not the thermometer alone.
func TestFeedInHeatFollowsTheOxygen(t *testing.T) {
	for arg, want := range map[string]string{"oxygen=6 mg/L": "little feed, in the morning", "oxygen=5 mg/L": "stop feeding", "nitrate=5 mg/L": "stop feeding"} {
		if r := reckon(t, "temperature=29 Cel", "time=dawn", arg); !says(r, "Today: ", want) {
			t.Errorf("%s: no %q in %q", arg, want, r.Advice)
		}
	}
}

// Water that is full takes up no more oxygen, however little it holds for its warmth and
// height: nobody is told to put more in. The saturation is that of the published set.
func TestFullWaterAsksForNoMoreAir(t *testing.T) {
	rows := reftest.Read(t, "water-oxygen-saturation-altitude-computed")
	rapid.Check(t, func(rt *rapid.T) {
		r := rows[rapid.IntRange(0, len(rows)-1).Draw(rt, "row")]
		args := []string{
			"temperature=" + r.Text("temperature [Cel]") + " Cel", "altitude=" + r.Text("altitude [m]") + " m",
			"oxygen=" + number(r.Float("oxygen [mg/L]")) + " mg/L", "time=dawn", "kh=100",
			"ph=" + number(rapid.Float64Range(7, 9.5).Draw(rt, "ph")),
			"nitrite=" + number(rapid.Float64Range(0, 1).Draw(rt, "nitrite")) + " mg/L",
			"tan=" + number(rapid.Float64Range(0, 3).Draw(rt, "tan")) + " mg/L",
			"fish=" + rapid.SampledFrom([]string{"normal", "hiding", "gasping"}).Draw(rt, "fish"),
		}
		for _, advice := range reckon(t, args...).Advice {
			for _, more := range []string{"add air", "more air, full on", "all the air", "more air:"} {
				if strings.Contains(advice, more) {
					rt.Errorf("%v: %q", args, advice)
				}
			}
		}
	})
}

// In a crash the pH must come up in spite of ammonia, but slowly.
func TestACrashOverAmmoniaIsRaisedSlowly(t *testing.T) {
	r := reckon(t, "ph=5.8", "tan=3 mg/L", "temperature=20 Cel", "kh=5")
	toxic := value(t, reckon(t, "ph=7.5", "tan=3 mg/L", "temperature=20 Cel"), "toxic")
	if says(r, "", "do not raise") || !says(r, "Now: ", "bicarbonate of soda for 5") || !says(r, "Now: ", calculators.Text("would be {2 mg/L} toxic", toxic)) {
		t.Errorf("%q", r.Advice)
	}
}

// Air drives carbon dioxide out, which raises the pH: over ammonia only slowly.
func TestAirRaisesThePHOnlySlowlyOverAmmonia(t *testing.T) {
	low := []string{"ph=6.5", "kh=150", "temperature=20 Cel"}
	for _, c := range []struct {
		more   []string
		freely bool
	}{{[]string{"tan=0 mg/L"}, true}, {[]string{"tan=3 mg/L"}, false}, {nil, false}} {
		r := reckon(t, append(c.more, low...)...)
		if says(r, "Today: ", "more air: it drives") != c.freely || says(r, "Today: ", "step by step") == c.freely {
			t.Errorf("%v: %q", c.more, r.Advice)
		}
	}
}

// A change is to cure a crashed pH, not to copy it; and it says what holds it
// back only where something does.
func TestTheChangeSaysWhatItNeeds(t *testing.T) {
	if r := reckon(t, "ph=5.8", "kh=20"); !says(r, "Now: ", "like temperature.") || says(r, "", "and pH.") {
		t.Errorf("copies the pH of a crash: %q", r.Advice)
	}
	if r := reckon(t, "fish=gasping"); !says(r, "Now: ", "like temperature and pH.") || says(r, "", "half at a time") {
		t.Errorf("a quarter is held to half: %q", r.Advice)
	}
	for arg, cooler := range map[string]bool{"temperature=30 Cel": true, "oxygen=2 mg/L": true, "nitrite=0.4 mg/L": false} {
		r := reckon(t, arg)
		if !says(r, "", "like temperature") || says(r, "", "or cooler") != cooler {
			t.Errorf("%s: %q", arg, r.Advice)
		}
	}
}

func TestKitErrorsThatAllowAWorseBandAreFlagged(t *testing.T) {
	for arg, want := range map[string]bool{"nitrite=0.13 mg/L": true, "nitrite=0.1 mg/L": false} {
		if got := flagged(reckon(t, arg), "allows a worse band"); got != want {
			t.Errorf("%s: %v", arg, got)
		}
	}
}

func TestLittleKHMakesChangesSmall(t *testing.T) {
	bad := []string{"tan=3 mg/L", "ph=8.2", "temperature=21 Cel", "volume=10000 L"}
	if got := value(t, reckon(t, bad...), "change-now"); got != 50 {
		t.Errorf("with KH unknown %v %%, want half", got)
	}
	low := []string{"nitrite=3 mg/L", "kh=40", "ph=7.4"}
	for tap, want := range map[string]float64{"7.6": 25, "7.7": 10} { // within the error of the kits, and beyond
		if got := value(t, reckon(t, append(low, "tap-ph="+tap)...), "change-now"); got != want {
			t.Errorf("danger over little KH, tap %s: %v %%, want %v", tap, got, want)
		}
	}
	if got := value(t, reckon(t, "nitrite=0.4 mg/L", "kh=40", "ph=7.4", "tap-ph=7.4"), "change-now"); got != 10 {
		t.Errorf("without danger %v %%, want a tenth", got)
	}
	for _, r := range reftest.Read(t, "safety-water-actions") {
		if r.Text("level") != "danger of pH crash" {
			continue
		}
		limit := r.Float("value [mg/L]")
		for kh, want := range map[float64]float64{limit: 10, limit + 1: 50} {
			got := reckon(t, append(bad, "kh="+number(kh))...)
			if value(t, got, "change-now") != want || value(t, got, "litres-now") != 100*want {
				t.Errorf("KH %v: %v %%, want %v", kh, value(t, got, "change-now"), want)
			}
		}
	}
}

func TestNewWaterLimitsTheChange(t *testing.T) {
	bad := []string{"tan=1.5 mg/L", "ph=8.2", "temperature=21 Cel"}
	for _, c := range []struct {
		more []string
		want float64
		says string
	}{
		{[]string{"tap-ph=8.5"}, 0, "test KH of both waters"},
		{[]string{"tap-ph=8.5", "kh=150", "tap-kh=60 mg/L"}, 10, "more toxic"}, // soft water hardly moves the pH
		{[]string{"tap-ph=8.9", "kh=60", "tap-kh=250 mg/L"}, 0, "change no water for the ammonia"},
		{[]string{"tap-tan=2 mg/L"}, 0, "change no water for the ammonia"},
		{[]string{"tap-tan=0.5 mg/L"}, 50, "no lower than 0.05"},
		{[]string{"tap-nitrite=0.4 mg/L", "nitrite=0 mg/L"}, 0, "makes ammonia or nitrite worse"},
		{[]string{"tap-ph=8.3"}, 50, "more than half"}, // within the error of the kits
		{[]string{"tap-ph=8.0"}, 50, "more than half"},
		{[]string{"tap-ph=7.6"}, 25, "differs by more than 0.5"},
		{[]string{"tap-temperature=11 Cel"}, 10, "temperature allows no more"}, // one degree of ten
		{[]string{"tap-temperature=11 Cel", "fish=gasping"}, 30, "temperature allows no more"},
		{[]string{"tap-temperature=20 Cel"}, 50, "more than half"},
	} {
		r := reckon(t, append(c.more, bad...)...)
		if got := value(t, r, "change-now"); math.Abs(got-c.want) > 1e-9 || !says(r, "", c.says) {
			t.Errorf("%v: %v %%, want %v; %q", c.more, got, c.want, r.Advice)
		}
	}
}

func TestChlorineComesBeforeAnyChange(t *testing.T) {
	r := reckon(t, "chlorine=0.1 mg/L", "tan=3 mg/L", "ph=8.5", "temperature=21 Cel", "volume=5000 L", "nitrite=1 mg/L")
	if value(t, r, "change-now") != 0 || value(t, r, "change-all") == 0 {
		t.Error("water is changed while chlorine shows, or never")
	}
	if !strings.Contains(r.Advice[1], "all the air") || !strings.Contains(r.Advice[2], "shut the tap") || !says(r, "Now: ", "5,000\u00a0L, by its label") || !says(r, "Now: ", "supplier") {
		t.Errorf("air, then the tap, then the dose for the volume: %q", r.Advice)
	}
	if low := reckon(t, "chlorine=0.1 mg/L", "oxygen=2 mg/L"); !strings.Contains(low.Advice[2], "shut the tap") {
		t.Errorf("low oxygen keeps the tap open: %q", low.Advice)
	}
	for _, line := range r.Advice {
		if strings.Contains(line, "hose") {
			t.Errorf("a hose brings tap water: %q", line)
		}
	}
	if !says(r, "Now: ", "one reading at a time") {
		t.Errorf("three bad readings are put right together: %q", r.Advice)
	}
}

func TestGoodReadingsDoNotClearGaspingFish(t *testing.T) {
	good := []string{"tan=0 mg/L", "ph=7.8", "temperature=20 Cel", "nitrite=0 mg/L", "oxygen=8 mg/L", "time=dawn", "chlorine=0 mg/L", "kh=120", "nitrate=10 mg/L"}
	if r := reckon(t, append(good, "fish=normal")...); urgency(t, r) != 0 || len(r.Advice) != 1 || !strings.HasPrefix(r.Advice[0], "In order: ") {
		t.Errorf("all good: %q", r.Advice)
	}
	if r := reckon(t, good[:4]...); !strings.HasPrefix(r.Advice[0], "In order, as far as you tested") {
		t.Errorf("not all tested: %q", r.Advice)
	}
	for _, fish := range []string{"gasping", "dying"} {
		r := reckon(t, append(good, "fish="+fish)...)
		if urgency(t, r) != 3 || !says(r, "Now: ", "good readings do not clear") || !says(r, "Now: ", "call a fish vet") || value(t, r, "change-now") != 20 {
			t.Errorf("%s: %q", fish, r.Advice)
		}
	}
	if r := reckon(t, "fish=gasping"); !says(r, "Now: ", "count it as lack of oxygen") || !says(r, "Now: ", "test too: chlorine, oxygen, ammonia, nitrite, pH.") {
		t.Errorf("gasping and nothing tested: %q", r.Advice)
	}
}

func TestNitriteAndChloride(t *testing.T) {
	bad := []string{"nitrite=0.5 mg/L"}
	_, wanted, _ := water.NitriteShield(0.5)
	enough := reckon(t, append(bad, "chloride="+number(wanted)+" mg/L")...)
	if !says(enough, "Now: ", "add no salt") || math.Abs(value(t, enough, "shield")-100) > 1e-9 {
		t.Errorf("chloride enough: %q", enough.Advice)
	}
	for _, more := range []string{"chloride=" + number(0.9*wanted) + " mg/L", "salt=0.02 g/L"} {
		if r := reckon(t, append(bad, more)...); !says(r, "Now: ", "ask a vet about salt") || flagged(r, "Chloride not tested") {
			t.Errorf("%s: %q", more, r.Advice)
		}
	}
	if r := reckon(t, append(bad, "salt=1 g/L")...); !says(r, "Now: ", "add no salt") {
		t.Errorf("salt enough: %q", r.Advice)
	}
	if r := reckon(t, bad...); !flagged(r, "Chloride not tested") || !says(r, "", "Zeolite out first") {
		t.Errorf("chloride not tested: %q %q", r.Flags, r.Advice)
	}
}

func TestWhatIsNotTestedIsFearedAndNamed(t *testing.T) {
	full := reckon(t, "tan=1 mg/L", "ph=7", "temperature=15 Cel")
	r := reckon(t, "tan=1 mg/L", "ph=7")
	if !says(r, "", "first and ask again") || !flagged(r, "Temperature not tested") || value(t, r, "toxic") <= value(t, full, "toxic") || !strings.Contains(r.Advice[0], "for all you tested") {
		t.Errorf("no temperature: %q %q", r.Flags, r.Advice)
	}
	for name, arg := range map[string]string{"oxygen": "oxygen=8 mg/L", "nitrite": "nitrite=0 mg/L", "KH": "kh=120", "chlorine": "chlorine=0 mg/L", "nitrate": "nitrate=9 mg/L", "the fish": "fish=normal"} {
		missing := func(r calculators.Result) bool {
			i := slices.IndexFunc(r.Flags, func(f string) bool { return strings.HasPrefix(f, "Not tested") })
			return i >= 0 && strings.Contains(r.Flags[i], " "+name)
		}
		if !missing(full) || missing(reckon(t, "tan=1 mg/L", "ph=7", "temperature=15 Cel", arg)) {
			t.Errorf("%s is named when tested, or not when it is not", name)
		}
	}
}

// A reading far below what a kit can show is none: it takes nothing from the rest.
func TestAReadingTooSmallForAnyKitHidesNothing(t *testing.T) {
	r := reckon(t, "nitrite=5e-310 mg/L", "chloride=30 mg/L", "fish=gasping")
	if _, ok := r.Value("shield"); ok || len(r.Unsaid) > 0 || urgency(t, r) != 3 || !says(r, "Now: ", "all the air") {
		t.Errorf("%v %q %q", r.Values, r.Unsaid, r.Advice)
	}
	least := "nitrite=" + number(water.LeastNitrite) + " mg/L"
	if got := value(t, reckon(t, least, "chloride=1 mg/L"), "shield"); !(got > 100) {
		t.Errorf("a chloride of 1 mg/L shields %v %% from %s", got, least)
	}
}

func TestBasesOfTheKits(t *testing.T) {
	for _, r := range reftest.Read(t, "water-nitrogen-unit-conversions") {
		switch r.Text("conversion") {
		case "ammonia NH3 per N":
			base := []string{"tan=1 mg/L", "ph=8", "temperature=20 Cel"}
			reftest.Near(t, r, value(t, reckon(t, base...), "toxic")/value(t, reckon(t, append(base, "ammonia-basis=as-nh3")...), "toxic"), "ratio [g/g]")
		case "nitrite NO2 per N":
			reftest.Near(t, r, 1/value(t, reckon(t, "nitrite=1 mg/L", "nitrite-basis=as-no2"), "nitrite-n"), "ratio [g/g]")
		}
	}
	if a, b := urgency(t, reckon(t, "nitrate=20 mg/L")), urgency(t, reckon(t, "nitrate=20 mg/L", "nitrate-basis=as-n")); a != 0 || b != 1 {
		t.Errorf("nitrate 20 mg/L: %d as NO3, %d as N", a, b)
	}
	if a, b := urgency(t, reckon(t, "kh=7")), urgency(t, reckon(t, "kh=7", "kh-unit=german")); a != 2 || b != 0 {
		t.Errorf("KH 7: %d in mg/L, %d in degrees", a, b)
	}
	if a, b := urgency(t, reckon(t, "kh=7 dKH")), urgency(t, reckon(t, "kh=7ppm", "kh-unit=german")); a != 0 || b != 2 {
		t.Errorf("KH 7: %d with degrees written behind it, %d with ppm", a, b)
	}
}

func TestRefusals(t *testing.T) {
	for _, args := range [][]calculators.Arg{nil, {{Name: "volume", Value: "900 L"}}, {{Name: "kh", Value: "60.1"}, {Name: "kh-unit", Value: "german"}}} {
		if _, _, err := readings.Readings().Evaluate(args); err == nil {
			t.Errorf("%v is answered", args)
		}
	}
	reckon(t, "kh=60", "kh-unit=german")
}

// drawn are the readings that a state may hold, from nothing to the most. They stand
// in a list and not in a map: a draw can be replayed only in the order it was made.
var drawn = []struct {
	name string
	most float64
}{
	{"tan", 5}, {"temperature", 35}, {"nitrite", 1}, {"oxygen", 12}, {"kh", 300}, {"nitrate", 200},
	{"chlorine", 0.05}, {"chloride", 100}, {"tap-ph", 0}, {"tap-temperature", 30},
}

// state draws readings; a name that is missing was not tested.
func state(t *rapid.T) map[string]string {
	s := map[string]string{"fish": rapid.SampledFrom([]string{"not-seen", "normal", "hiding", "gasping", "dying"}).Draw(t, "fish"), "ph": number(rapid.Float64Range(5, 10).Draw(t, "ph"))}
	for _, d := range drawn {
		name := d.name
		if !rapid.Bool().Draw(t, name+" tested") {
			continue
		}
		v := rapid.Float64Range(0, d.most).Draw(t, name)
		switch name {
		case "temperature", "tap-temperature":
			s[name] = number(v) + " Cel"
		case "kh":
			s[name] = number(v)
		case "tap-ph":
			s[name] = number(rapid.Float64Range(5, 10).Draw(t, "tap pH"))
		default:
			s[name] = number(v) + " mg/L"
		}
	}
	return s
}

func arguments(s map[string]string) []string {
	var args []string
	for _, name := range slices.Sorted(maps.Keys(s)) {
		args = append(args, name+"="+s[name])
	}
	return args
}

func TestAdviceIsInOrderOfUrgency(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		r := reckon(rt, arguments(state(rt))...)
		u := urgency(rt, r)
		if begins := []string{"In order", "Watch: ", "Act today: ", "Danger now: "}[u]; !strings.HasPrefix(r.Advice[0], begins) {
			rt.Fatalf("urgency %d begins %q", u, r.Advice[0])
		}
		last := 3
		for _, line := range r.Advice[1:] {
			level := slices.IndexFunc([]string{"In order", "These days: ", "Today: ", "Now: "}, func(p string) bool { return strings.HasPrefix(line, p) })
			if level < 1 || level > last || level > u {
				rt.Fatalf("urgency %d: %q stands out of order", u, line)
			}
			last = level
		}
		if len(r.Advice) > 1 != (u > 0) || u > 0 && !strings.HasPrefix(r.Advice[1], prefixOf(u)) {
			rt.Fatalf("urgency %d: nothing to do in %q", u, r.Advice)
		}
		if i := slices.IndexFunc(r.Advice, func(line string) bool { return strings.Contains(line, "all the air you have") }); i > 1 {
			rt.Fatalf("air comes only as step %d", i)
		}
		if now, all := value(rt, r, "change-now"), value(rt, r, "change-all"); now > 50 || now > all || now < 0 || all >= 100 {
			rt.Fatalf("change %v %% of %v %%", now, all)
		}
		if u < 2 && value(rt, r, "change-all") > 0 {
			rt.Fatalf("changes water in no need")
		}
	})
}

func TestAWorseReadingNeverLowersTheUrgency(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s := state(rt)
		before := urgency(rt, reckon(rt, arguments(s)...))
		name := rapid.SampledFrom([]string{"fish", "tan", "nitrite", "nitrate", "chlorine", "oxygen", "kh"}).Draw(rt, "worse")
		number := func() float64 {
			text, _, _ := strings.Cut(s[name], " ")
			return parse(rt, text)
		}
		switch name {
		case "fish":
			s["fish"] = "gasping"
		case "oxygen", "kh":
			v := 0.0
			if s[name] != "" && name == "oxygen" {
				v = rapid.Float64Range(0, number()).Draw(rt, "lower")
			}
			if s[name] != "" && name == "kh" && number() <= 100 {
				v = rapid.Float64Range(0, number()).Draw(rt, "lower")
			}
			s[name] = written(name, v)
		default:
			v := 0.0
			if s[name] != "" {
				v = number()
			}
			s[name] = written(name, v+rapid.Float64Range(0, 5).Draw(rt, "more"))
		}
		if after := urgency(rt, reckon(rt, arguments(s)...)); after < before {
			rt.Fatalf("a worse %s takes the urgency from %d to %d", name, before, after)
		}
	})
}

func TestShareForStepKeepsTheStep(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		pond, tap, step := rapid.Float64Range(0, 35).Draw(rt, "pond"), rapid.Float64Range(0, 35).Draw(rt, "tap"), rapid.Float64Range(0.1, 5).Draw(rt, "step")
		share := readings.ShareForStep(pond, tap, step)
		moved := math.Abs(water.Mixed(pond, tap, share) - pond)
		if share < 0 || share > 1 || moved > step+1e-9 || share < 1 && math.Abs(moved-step) > 1e-9 {
			rt.Fatalf("a share of %v moves by %v, want %v", share, moved, step)
		}
	})
}

func parse(t *rapid.T, text string) float64 {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func written(name string, v float64) string {
	if name == "kh" {
		return number(v)
	}
	return number(v) + " mg/L"
}

// Ammonia that is not toxic today still says that the filter does not keep up.
func TestMuchTotalAmmoniaStopsTheFeed(t *testing.T) {
	for _, c := range []struct{ tan, says string }{{"8 mg/L", "stop feeding"}, {"1 mg/L", "stop feeding"}, {"0.5 mg/L", "halve the feed"}} {
		r := reckon(t, "tan="+c.tan, "ph=6.9", "temperature=12 Cel", "kh=100")
		if !says(r, "", c.says) {
			t.Errorf("%s: %q", c.tan, r.Advice)
		}
	}
	if r := reckon(t, "tan=0.3 mg/L", "temperature=12 Cel"); !says(r, "", "stop feeding") {
		t.Errorf("pH not tested: %q", r.Advice)
	}
}
