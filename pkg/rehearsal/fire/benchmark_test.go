package fire

import (
	"testing"

	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/machine"
	"burngauge.dev/burngauge/pkg/rehearsal"
)

// BenchmarkFire is what `rehearse fire` does at 12 megapixels, but for writing files:
//
//	go test ./pkg/rehearsal/fire -run '^$' -bench Fire -benchtime 1x -cpuprofile cpu.out
func BenchmarkFire(b *testing.B) {
	bench, err := rehearsal.NewBench(machine.Default(), 7, rehearsal.Easy)
	require.NoError(b, err)
	for b.Loop() {
		for _, s := range bench.Profile.Stations {
			_, err := Photograph(bench, s.Name, DefaultOptions())
			require.NoError(b, err)
		}
	}
}
