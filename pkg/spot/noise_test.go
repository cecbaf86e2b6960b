package spot

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

// grainy is a round mark of 1.5 mm radius whose darkness is 0.75 with normal
// noise, alike over squares of so many cells of 0.05 mm.
func grainy(random *rand.Rand, sigma float64, alike int) *darkness {
	const n, step = 100, 0.05
	d := &darkness{flat: &flat{n: n, step: step, x0: -2.475, y0: -2.475}, value: make([]float64, n*n), core: newMask(n)}
	noise := make([]float64, n*n)
	for k := range noise {
		noise[k] = sigma * random.NormFloat64()
	}
	for k := range d.value {
		x, y := d.place(k%n, k/n)
		if math.Hypot(x, y) < 1.5 {
			d.core.in[k] = true
			d.value[k] = 0.75 + noise[(k/n/alike)*n+k%n/alike]
		}
	}
	d.support = d.core
	return d
}

// The centre's scatter over many marks of the same grain, as JCGM 101 finds an
// uncertainty, against what each one tells of itself.
func TestGrainMovesTheCentreByWhatIsStated(t *testing.T) {
	const (
		marks = 400
		tol   = 0.15 // of the uncertainty: 400 draws of two axes tell a scatter to 2.5 %, blocks that cut grains in two the rest
	)
	random := rand.New(rand.NewPCG(1, 2))
	for _, alike := range []int{1, 5} { // one cell, and the side of a block
		squares, stated := 0.0, 0.0
		for range marks {
			d := grainy(random, 0.05, alike)
			m := d.char()
			squares += (m.x*m.x + m.y*m.y) / 2 / marks
			stated += d.noise(m) * d.noise(m) / marks
		}
		assert.InEpsilon(t, math.Sqrt(squares), math.Sqrt(stated), tol, "%d cells alike", alike)
	}
}

// A mark as dark as can be everywhere has no grain, and a small one cannot tell.
func TestNoGrainWhereNoneIsSeen(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	assert.Zero(t, grainy(random, 0, 1).ownScatter())
	small := grainy(random, 0.05, 1)
	for k := range small.core.in {
		x, y := small.place(k%small.n, k/small.n)
		small.core.in[k] = math.Hypot(x, y) < 0.4
	}
	assert.Zero(t, small.ownScatter())
}
