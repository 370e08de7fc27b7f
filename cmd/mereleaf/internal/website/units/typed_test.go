package units_test

import (
	"bytes"
	"encoding/json"
	"math"
	"math/rand/v2"
	"os/exec"
	"strings"
	"testing"

	"mereleaf/calculators/quantity"
	"mereleaf/cmd/mereleaf/internal/website/bundle/scripttest"
)

// TestTypedNumbers compares how the form of the readings reads a typed number with how
// the calculators do: what both take must be one number, with the same second reading.
func TestTypedNumbers(t *testing.T) {
	node := scripttest.Node(t)
	random := rand.New(rand.NewPCG(1, 2))
	var texts []string
	for range 5000 {
		var b strings.Builder
		for i := range 1 + random.IntN(4) {
			if i > 0 || random.IntN(10) == 0 {
				b.WriteString([]string{".", ",", "\u00a0", "\u202f"}[random.IntN(4)])
			}
			for range 1 + random.IntN(4) {
				b.WriteByte("0123456789"[random.IntN(10)])
			}
		}
		if random.IntN(8) == 0 {
			b.WriteString("e2")
		}
		texts = append(texts, b.String())
	}
	list, err := json.Marshal(texts)
	if err != nil {
		t.Fatal(err)
	}
	command := exec.Command(node, scripttest.Compile(t, root, "readings.ts"))
	command.Stdin = bytes.NewReader(list)
	out, err := command.Output()
	if err != nil {
		t.Fatal(err)
	}
	var read [][2]*float64
	if err := json.Unmarshal(out, &read); err != nil || len(read) != len(texts) {
		t.Fatalf("%v: %d answers to %d texts", err, len(read), len(texts))
	}
	taken := 0
	for i, text := range texts {
		n, rest, err := quantity.ReadNumber(text)
		value, other := read[i][0], read[i][1]
		switch {
		case err != nil || rest != "":
			if value != nil {
				t.Errorf("%q is %v in the form, and no number in the calculators (%v, rest %q)", text, *value, err, rest)
			}
		case value == nil:
			t.Errorf("%q is no number in the form, and %v in the calculators", text, n.Value)
		case math.Abs(*value-n.Value) > 1e-12*n.Value || (other == nil) != (n.Other == 0) || other != nil && math.Abs(*other-n.Other) > 1e-12*n.Other:
			t.Errorf("%q: %v, perhaps %v, in the form; %+v in the calculators", text, *value, other, n)
		default:
			taken++
		}
	}
	if taken < len(texts)/10 {
		t.Errorf("only %d of %d texts are numbers", taken, len(texts))
	}
}
