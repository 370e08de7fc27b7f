package tower

import (
	"math"

	"mereleaf/calculators"
	"mereleaf/calculators/quantity"
)

// thread is a parallel pipe thread of ISO 228-1 (figure set build-thread).
type thread struct {
	_       calculators.Incomparable
	name    string  // "G 1¼"
	widest  float64 // mm, the largest bore of a pipe that a connector with it is for
	outside float64 // mm, major diameter
	memory  bool    // the diameter was not seen in print
}

// threads returns the threads that tank connectors have, by size.
func threads() []thread {
	return []thread{
		{name: "G ½", widest: 15, outside: 20.955},
		{name: "G ¾", widest: 21, outside: 26.441, memory: true},
		{name: "G 1", widest: 27, outside: 33.249},
		{name: "G 1¼", widest: 34, outside: 41.910},
		{name: "G 1½", widest: 42, outside: 47.803},
		{name: "G 2", widest: 54, outside: 59.614},
		{name: "G 2½", widest: 68, outside: 75.184, memory: true},
		{name: "G 3", widest: 82, outside: 87.884},
		{name: "G 4", widest: 106, outside: 113.030, memory: true},
	}
}

// connector names the tank connector of a bore in mm, with the hole it needs:
// the saw is the next even millimetre above the thread.
func connector(bore float64) string {
	for _, t := range threads() {
		if bore > t.widest {
			continue
		}
		text := "{thread}, hole saw about {saw 0 mm} (ISO 228-1; its leaflet decides)"
		if t.memory {
			text = "{thread}, hole saw about {saw 0 mm} (ISO 228-1, from memory; its leaflet decides)"
		}
		return quantity.Put(calculators.Text(text, 2*math.Ceil(t.outside/2)), "thread", t.name)
	}
	return "a flange for this pipe"
}

// outletFitting names what leads an outlet of a bore in mm through the wall.
func outletFitting(bore float64) string {
	if bore > widestConnector {
		return calculators.Text("wall fitting for soil pipe of {bore ~3 mm} bore; the hole is cut as its leaflet says", bore)
	}
	return connector(bore)
}
