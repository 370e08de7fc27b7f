// Package pondtest gives tests the calculators with their examples about the
// handbook's ponds.
package pondtest

import (
	"encoding/json"
	"maps"
	"strconv"
	"strings"
	"testing"

	"mereleaf"
	"mereleaf/calculators"
	"mereleaf/calculators/catalog"
	"mereleaf/calculators/quantity"
	"mereleaf/calculators/readings"
)

// All returns all calculators, their examples and tables completed.
func All(t testing.TB) calculators.Set {
	t.Helper()
	return With(t, catalog.All().All()...)
}

// With returns the given calculators with their examples and tables completed.
func With(t testing.TB, all ...calculators.Calculator) calculators.Set {
	t.Helper()
	set, faults := calculators.NewSet(all...).With(handbook{t})
	if len(faults) > 0 {
		t.Fatal(strings.Join(faults, "\n"))
	}
	return set
}

// handbook reads the ponds' files, which the program's packages record and
// logfile read for readers; those check what is taken for granted here.
type handbook struct{ t testing.TB }

func (h handbook) Facts(pond, day string) (calculators.Facts, bool) {
	var record struct {
		Facts calculators.Facts `json:"facts"`
	}
	if !h.read(pond+".json", &record) {
		return nil, false
	}
	known := catalog.All().Results(record.Facts)
	for key, text := range record.Facts {
		known[key] = text
	}
	if day == "" {
		return known, true
	}
	var log struct {
		Readings []struct {
			At      string             `json:"at"`
			Numbers map[string]float64 `json:"numbers"`
			Choices map[string]string  `json:"choices"`
		} `json:"readings"`
	}
	found := 0
	h.read(pond+"-log.json", &log)
	weighs, _ := catalog.All().Find("readings")
	for _, r := range log.Readings {
		if !strings.HasPrefix(r.At, day) {
			continue
		}
		found++
		for name, number := range r.Numbers {
			d, _ := weighs.Input(name)
			text := strconv.FormatFloat(number, 'f', -1, 64)
			if quantity.Symbol(d.UnitCode()) != "" {
				text += " " + d.UnitCode()
			}
			known[weighs.Key(d)] = text
		}
		for name, choice := range r.Choices {
			d, _ := weighs.Input(name)
			known[weighs.Key(d)] = choice
		}
		if kh := known["readings.kh"]; kh != "" {
			maps.Copy(known, readings.KHFacts(kh, known["kh-kit"]))
		}
	}
	return known, found == 1
}

func (h handbook) read(name string, into any) bool {
	text, err := mereleaf.Ponds.ReadFile("content/ponds/" + name)
	if err != nil {
		return false
	}
	if err := json.Unmarshal(text, into); err != nil {
		h.t.Fatal(name, err)
	}
	return true
}
