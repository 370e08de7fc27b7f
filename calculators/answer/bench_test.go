package answer_test

import (
	"testing"

	"mereleaf/calculators/answer"
	"mereleaf/calculators/pondtest"
)

// BenchmarkAnswer shows worked examples as a page does at each key: what reckoning
// costs, and what writing and marking cost besides.
func BenchmarkAnswer(b *testing.B) {
	all := pondtest.All(b)
	for _, name := range []string{"tower", "free-ammonia"} {
		c, ok := all.Find(name)
		if !ok {
			b.Fatal(name)
		}
		view, err := c.Reckon(c.Example.Given)
		if err != nil {
			b.Fatal(err)
		}
		b.Run(name+"/reckon", func(b *testing.B) {
			for b.Loop() {
				if _, err := c.Reckon(c.Example.Given); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run(name+"/write", func(b *testing.B) {
			for b.Loop() {
				answer.HTML(view)
			}
		})
	}
}
