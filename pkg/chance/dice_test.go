package chance

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The first numbers of PCG with the state (1, 2), as the test of Go's own math/rand/v2
// lists them (src/math/rand/v2/pcg_test.go, TestPCG). Seeds mean for ever what they mean now.
func TestASeedMeansTheSameForEver(t *testing.T) {
	d := New(1, 2)
	for _, want := range []uint64{0xc4f5a58656eef510, 0x9dcec3ad077dec6c} {
		assert.Equal(t, want, d.Uint64())
	}
}

// FNV-1a, 64 bit, of the test vectors of the IETF draft draft-eastlake-fnv, appendix C.
func TestStreamsAreNumberedByFNV1a(t *testing.T) {
	for name, want := range map[string]uint64{"": 0xcbf29ce484222325, "a": 0xaf63dc4c8601ec8c, "foobar": 0x85944171f73967e8} {
		assert.Equal(t, want, Stream(name), "%q", name)
	}
}

// Mean and variance of an even draw from a..b are (a+b)/2 and (b-a)²/12. The mean of n
// draws has the standard deviation √(var/n); five of them are passed once in two million.
func TestInDrawsEvenly(t *testing.T) {
	const n = 20000
	d, r := New(3, 4), Range{-2, 5}
	sum, square := 0.0, 0.0
	for range n {
		v := d.In(r)
		assert.True(t, v >= r[0] && v < r[1])
		sum, square = sum+v, square+v*v
	}
	variance := 49.0 / 12
	assert.InDelta(t, 1.5, sum/n, 5*math.Sqrt(variance/n))
	assert.InDelta(t, 1, (square/n-sum/n*sum/n)/variance, 0.05)
}

// Evenly by area: r² of a ring between 3 and 5 is even from 9 to 25, with the mean 17 and
// the variance 16²/12, and no direction is favoured.
func TestDiscDrawsEvenlyByArea(t *testing.T) {
	const n = 20000
	d := New(5, 6)
	var r2, x, y float64
	for range n {
		right, up := d.Disc(3, 5)
		r2, x, y = r2+(right*right+up*up)/n, x+right/n, y+up/n
	}
	assert.InDelta(t, 17, r2, 5*math.Sqrt(256.0/12/n))
	assert.InDelta(t, 0, x, 5*math.Sqrt(17.0/2/n))
	assert.InDelta(t, 0, y, 5*math.Sqrt(17.0/2/n))
}
