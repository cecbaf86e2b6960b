package rehearsal

import (
	"testing"

	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/machine"
)

// BenchmarkFire is what `rehearse fire` does at 12 megapixels, but for writing files:
//
//	go test ./pkg/rehearsal -run '^$' -bench Fire -benchtime 1x -cpuprofile cpu.out
func BenchmarkFire(b *testing.B) {
	bench, err := NewBench(machine.Default(), 7, Easy)
	require.NoError(b, err)
	for b.Loop() {
		for _, s := range bench.Profile.Stations {
			_, err := bench.Photograph(s.Name, DefaultPhotoOptions())
			require.NoError(b, err)
		}
	}
}
