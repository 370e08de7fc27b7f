package figures

import "testing"

// BenchmarkBindTable binds tables of every kind once each.
func BenchmarkBindTable(b *testing.B) {
	lib, list := Read(toyFiles(toySets))
	if err := list.Err(); err != nil {
		b.Fatal(err)
	}
	var tables []Table
	for _, c := range goodTables {
		table, _ := grid(b, c.sample)
		tables = append(tables, table)
	}
	b.ReportAllocs()
	for b.Loop() {
		for _, t := range tables {
			if _, list := lib.BindTable(t); len(list) > 0 {
				b.Fatal(list)
			}
		}
	}
}

// BenchmarkRead reads the handbook's own figures and sources.
func BenchmarkRead(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, list := Read(project()); len(list) > 0 {
			b.Fatal(list)
		}
	}
}
