package record

import (
	"strings"
	"testing"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

func set() calculators.Set {
	return calculators.NewSet(calculators.Calculator{ID: "tub", Inputs: []calculators.Input{
		{Name: "volume", Fact: "volume", Kind: quantity.Volume, Accept: calculators.Range{Low: 1, High: 1000, Origin: "sanity limit"}},
		{Name: "depth", Kind: quantity.Length, Accept: calculators.Range{Low: 1, High: 2, Origin: "sanity limit"}},
	}, Compute: nothing}, calculators.Calculator{ID: "lake", Inputs: []calculators.Input{
		{Name: "volume", Fact: "volume", Kind: quantity.Volume, Accept: calculators.Range{Low: 1000, High: 1e6, Origin: "sanity limit"}},
	}, Compute: nothing})
}

func nothing(calculators.Inputs) (calculators.Result, error) { return calculators.Result{}, nil }

func TestReadSaysWhereAFileIsWrong(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"sound":           {`{"pond record": 1, "facts": {"volume": "9 L", "tub.depth": "1 m"}}`, ""},
		"facts first":     {`{"facts": {"tub.depth": "1 m"}, "pond record": 1}`, ""},
		"not closed":      {"{\"pond record\": 1,\n\"facts\": {\"volume\": \"9 L\"}", "r.json:2:26: is not JSON: "},
		"a comma":         {"{\n\"pond record\": 1,,\n}", "r.json:2:18: is not JSON: "},
		"empty":           {"", "r.json:1:1: is not JSON: "},
		"a list":          {`[1]`, "r.json: is no pond record"},
		"another file":    {`{"volume": "9 L"}`, "r.json: is no pond record; expected"},
		"newer":           {"{\n  \"pond record\": 7, \"facts\": {}}", "r.json:2:3: comes from another edition"},
		"facts in a list": {"{\"pond record\": 1,\n \"facts\": []}", "r.json:2:2: facts: are no list of names"},
		"unknown":         {"{\"pond record\": 1,\n \"facts\": {\"volume\": \"9 L\", \"volum\": \"9 L\"}}", "r.json:2:29: volum: no calculator asks for it; expected volume"},
		"no text":         {"{\"facts\": {\"tub.depth\": \"1 m\",\n\n  \"volume\": 9}, \"pond record\": 1}", "r.json:3:3: volume: is no text"},
		"any calculator":  {`{"pond record": 1, "facts": {"volume": "5000 L", "tub.depth": ""}}`, ""},
		"out of range":    {"{\"pond record\": 1, \"facts\": {\"volume\": \"5000 L\",\n \"tub.depth\": \"7 m\"}}", "r.json:2:2: tub.depth: is 7\u00a0m; expected 1 to 2\u00a0m"},
		"a script":        {"{\"pond record\": 1, \"facts\": {\n\"volume\": \"javascript:alert(1)\"}}", "r.json:2:1: volume: \"javascript:alert(1)\" is not a number; expected"},
		"long value":      {`{"pond record": 1, "facts": {"volume": "` + strings.Repeat("9", longestValue+1) + `"}}`, "r.json:1:30: volume: is longer than any field"},
		"facts deep down": {"{\"typed\": {\"facts\": {\"volum\": 3}}, \"pond record\": 1, \"facts\": {\"volum\": \"9 L\"}}", "r.json:1:64: volum: no"},
		"long":            {strings.Repeat(" ", Limit+1), "r.json: is longer than any pond record"},
	} {
		_, faults := Read("r.json", []byte(c.text), set())
		if got := faults.Error(); c.want == "" && got != "" || !strings.HasPrefix(got, c.want) || len(faults) > 1 {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}

func TestBlameFindsTheValue(t *testing.T) {
	r, faults := Read("r.json", []byte("{\"pond record\": 1, \"facts\": {\n\"volume\": \"5000 L\"}}"), set())
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	c, _ := set().Find("tub")
	for _, k := range []struct {
		given []calculators.Arg
		want  []string
	}{
		{nil, []string{"r.json: tub.depth: is missing; ", "r.json:2:1: volume: is 5,000\u00a0L; "}},
		{[]calculators.Arg{{Name: "depth", Value: "3 m"}}, []string{"mereleaf: depth: is 3\u00a0m; ", "r.json:2:1: volume: "}},
		{[]calculators.Arg{{Name: "volume", Value: "5 kg"}, {Name: "breadth", Value: "1"}}, []string{"mereleaf: breadth: is not an input", "mereleaf: volume: ", "r.json: tub.depth: is missing; "}},
	} {
		_, _, err := c.Evaluate(r.Over(c, k.given))
		if err == nil {
			t.Fatalf("%v is answered", k.given)
		}
		lines := strings.Split(r.Blame(c, k.given, err).Error(), "\n")
		if len(lines) != len(k.want) {
			t.Fatalf("%v: %q, want %q", k.given, lines, k.want)
		}
		for i, want := range k.want {
			if !strings.HasPrefix(lines[i], want) {
				t.Errorf("%v: %q, want %q", k.given, lines[i], want)
			}
		}
	}
}
