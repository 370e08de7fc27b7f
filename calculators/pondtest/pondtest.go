// Package pondtest gives tests the calculators with their examples about the
// handbook's ponds.
package pondtest

import (
	"encoding/json"
	"maps"
	"strconv"
	"strings"
	"sync"
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
	set, faults := catalog.All().With(handbook{t})
	if len(faults) > 0 {
		t.Fatal(strings.Join(faults, "\n"))
	}
	return set
}

// Some returns some of them.
func Some(t testing.TB, some ...calculators.Calculator) calculators.Set {
	t.Helper()
	all := All(t)
	for i := range some {
		c, ok := all.Find(some[i].ID)
		if !ok {
			t.Fatal("the catalog has no " + some[i].ID)
		}
		some[i] = c
	}
	return calculators.NewSet(some...)
}

// Given returns the inputs of a calculator's example.
func Given(t testing.TB, c calculators.Calculator) []calculators.Arg {
	t.Helper()
	return Some(t, c).All()[0].Example.Given
}

// Known returns what is known of a pond of the handbook.
func Known(t testing.TB, pond string) calculators.Known {
	t.Helper()
	known, ok := handbook{t}.Facts(pond, "")
	if !ok {
		t.Fatal("no pond " + pond)
	}
	return known
}

// handbook reads the ponds' files, which the program's packages record and
// logfile read for readers; those check what is taken for granted here.
type handbook struct{ t testing.TB }

// results are kept by pond, because each takes the plan of a tower.
var results sync.Map

func (h handbook) Facts(pond, day string) (calculators.Known, bool) {
	var record struct {
		Facts calculators.Facts `json:"facts"`
	}
	if !h.read(pond+".json", &record) {
		return calculators.Known{}, false
	}
	stated := record.Facts
	kept, ok := results.Load(pond)
	if !ok {
		kept, _ = results.LoadOrStore(pond, catalog.All().Results(stated))
	}
	found, _ := kept.(calculators.Facts)
	known := calculators.Known{Stated: stated, Found: found}
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
	days := 0
	h.read(pond+"-log.json", &log)
	weighs, _ := catalog.All().Find("readings")
	for _, r := range log.Readings {
		if !strings.HasPrefix(r.At, day) {
			continue
		}
		days++
		for name, number := range r.Numbers {
			d, _ := weighs.Input(name)
			text := strconv.FormatFloat(number, 'f', -1, 64)
			if quantity.Symbol(d.UnitCode()) != "" {
				text += " " + d.UnitCode()
			}
			stated[weighs.Key(d)] = text
		}
		for name, choice := range r.Choices {
			d, _ := weighs.Input(name)
			stated[weighs.Key(d)] = choice
		}
		if kh := stated["readings.kh"]; kh != "" {
			maps.Copy(stated, readings.KHFacts(kh, stated["kh-kit"]))
		}
	}
	return known, days == 1
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
