package ponds_test

import (
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"mereleaf/calculators"
	"mereleaf/calculators/catalog"
	"mereleaf/cmd/mereleaf/internal/ponds"
)

func handbook(t *testing.T) ponds.Ponds {
	t.Helper()
	all, faults := ponds.Read(os.DirFS("../../../.."), catalog.All())
	if len(faults) > 0 || len(all) == 0 {
		t.Fatalf("%d ponds; %v", len(all), faults)
	}
	return all
}

// The worked pond's keeper types a feed into no record: it follows from the fish,
// and the water through the filter from the pump.
func TestWhatFollowsFromTheRecord(t *testing.T) {
	ines, ok := handbook(t).Find("ines")
	if !ok {
		t.Fatal("there is no pond ines")
	}
	tower, _ := catalog.All().Find("tower")
	_, r, err := tower.Evaluate(ines.Args(tower, nil))
	if err != nil {
		t.Fatal(err)
	}
	shown := map[string]string{}
	for _, v := range r.Values {
		o, _ := tower.Output(v.Output)
		shown[v.Output] = strings.NewReplacer(",", "", "\u00a0", " ").Replace(calculators.ShowOutput(o, v.Likely))
	}
	for fact, output := range map[string]string{"feed-most": "eaten", "pump-flow": "flow", "filter-flow": "flow", "lift": "lift", "drill-template.count": "holes", "holes-per-tray.count": "holes"} {
		if got, ok := ines.Fact(fact); !ok || got != shown[output] {
			t.Errorf("%s is %q, but the tower finds %s %q", fact, got, output, shown[output])
		}
	}
	if got, ok := ines.Fact("volume"); !ok || got != "9100 L" {
		t.Errorf("the volume is %q", got)
	}
	if got, ok := ines.Fact("moat"); ok {
		t.Errorf("the moat is %q", got)
	}
}

// What is stated wins over what follows.
func TestStatedFactsWin(t *testing.T) {
	files := fstest.MapFS{"content/ponds/ines.json": {Data: []byte(`{"pond record": 1, "facts": {"volume": "9100 L", "fish": "koi, 30 cm, 20", "feed-most": "50 g/d", "pump-curve": "0 L/h, 3 m; 4000 L/h, 1 m", "box-length": "560 mm", "box-width": "360 mm", "box-height": "270 mm"}}`)}}
	all, faults := ponds.Read(files, catalog.All())
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	media, _ := catalog.All().Find("media-volume")
	args := all[0].Args(media, []calculators.Arg{{Name: "flow", Value: "2000 L/h"}})
	for name, want := range map[string]string{"feed": "50 g/d", "flow": "2000 L/h", "length": "560 mm"} {
		if got, _ := calculators.Find(args, name); got != want {
			t.Errorf("%s is %q; want %q", name, got, want)
		}
	}
}

func TestReadingsOfADay(t *testing.T) {
	files := fstest.MapFS{
		"content/ponds/a.json": {Data: []byte(`{"pond record": 1, "facts": {"volume": "9100 L", "ph": "7.0"}}`)},
		"content/ponds/a-log.json": {Data: []byte(`{"pond log": 1, "readings": [
			{"at": "2025-07-12T20:10:00+02:00", "numbers": {"tan": 1.5, "ph": 8.2}, "choices": {"ammonia-basis": "as-n"}},
			{"at": "2025-07-11T07:00:00+02:00", "numbers": {"temperature": 18.5}},
			{"at": "2025-07-11T20:00:00+02:00", "note": "rain"}]}`)},
	}
	all, faults := ponds.Read(files, catalog.All())
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	for _, c := range []struct {
		day, key, want string
		known          bool
	}{
		{"", "ph", "7.0", true},
		{"2025-07-12", "ph", "8.2", true},
		{"2025-07-12", "ammonia", "1.5 mg/L", true},
		{"2025-07-12", "ammonia-kit", "as-n", true},
		{"2025-07-12", "volume", "9100 L", true},
		{"2025-07-11T07:00", "temperature", "18.5 Cel", true},
		{"2025-07-11", "temperature", "", false}, // two readings
		{"2025-07-13", "volume", "9100 L", false},
	} {
		facts, known := all[0].On(c.day)
		if facts := facts.All(); facts[c.key] != c.want || known != c.known {
			t.Errorf("on %q: %s is %q, %v; want %q, %v", c.day, c.key, facts[c.key], known, c.want, c.known)
		}
	}
	if days := all[0].Days(); len(days) != 3 || days[0] != "2025-07-11T07:00" {
		t.Errorf("days %q", days)
	}
}

func TestFaultsHavePlaces(t *testing.T) {
	good := `{"pond record": 1, "facts": {}}`
	for _, c := range []struct{ file, text, want string }{
		{"a.json", "{\n \"pond record\": 1,\n \"facts\": {\n  \"volume\": \"lots\"\n }\n}", `content/ponds/a.json:4:3: volume: "lots"`},
		{"a.json", "{\"pond record\": 1,\n \"facts\": {\"volum\": \"9100 L\"}}", `content/ponds/a.json:2:12: volum: no calculator asks for it`},
		{"a.json", "{\"pond record\": 1,", "content/ponds/a.json:1:"},
		{"notes.txt", "x", "content/ponds/notes.txt: is no pond of the handbook"},
		{"b-log.json", `{"pond log": 1, "readings": []}`, "content/ponds/b-log.json: is the log of a pond that has no record"},
		{"a-log.json", "{\"pond log\": 1, \"readings\": [\n {\"at\": \"12 July\"}]}", `content/ponds/a-log.json:2:2: the date is "12 July"`},
		{"a-log.json", "{\"pond log\": 1, \"readings\": [\n {\"at\": \"2025-07-12T20:10:00+02:00\", \"numbers\": {\"ph\": 82}}]}", `content/ponds/a-log.json:2:2: ph is 82`},
		{"a-log.json", "{\"pond log\": 1, \"readings\": [\n {\"at\": \"2025-07-12T20:10:00+02:00\", \"numbers\": {\"hp\": 8.2}}]}", `hp is no test or choice`},
		{"a-log.json", "{\"pond log\": 1, \"units\": {\"tan\": \"g/L\"}, \"readings\": []}", `tan is in g/L; expected mg/L`},
		{"a-log.json", "{\"pond log\": 2, \"readings\": []}", `another edition`},
		{"a-log.json", "{\"pond log\": 1, \"readings\": [\n{]}", `content/ponds/a-log.json:2:2: is not JSON`},
	} {
		files := fstest.MapFS{"content/ponds/a.json": {Data: []byte(good)}}
		files["content/ponds/"+c.file] = &fstest.MapFile{Data: []byte(c.text)}
		_, faults := ponds.Read(files, catalog.All())
		if len(faults) != 1 || !strings.Contains(faults[0].String(), c.want) {
			t.Errorf("%s %s: %v; want %s", c.file, c.text, faults, c.want)
		}
	}
}

// A plan for other fish must not be told what the present ones eat.
func TestACalculatorIsNotToldItsOwnAnswer(t *testing.T) {
	ines, _ := handbook(t).Find("ines")
	tower, _ := catalog.All().Find("tower")
	if fed, ok := ines.Fact("feed-most"); !ok || fed == "" {
		t.Fatal("what the fish eat does not follow from the record")
	}
	if fed, told := calculators.Find(ines.Args(tower, nil), "feed"); told {
		t.Errorf("the tower is told a feed of %s, which it found itself", fed)
	}
}
