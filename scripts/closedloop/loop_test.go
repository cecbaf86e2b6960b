package main

import "testing"

func BenchmarkLoop(b *testing.B) {
	for i := range b.N {
		if _, err := loop(uint64(i), "hard"); err != nil {
			b.Fatal(err)
		}
	}
}
