package burn

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
	d := blank(n, step, -2.475, -2.475)
	noise := make([]float64, n*n)
	for k := range noise {
		noise[k] = sigma * random.NormFloat64()
	}
	for k := range d.value {
		x, y := d.Centre(k)
		if math.Hypot(x, y) < 1.5 {
			d.core.In[k] = true
			d.value[k] = 0.75 + noise[(k/n/alike)*n+k%n/alike]
		}
	}
	d.support = d.core
	return d
}

func square(v float64) float64 { return v * v }

// The centre's scatter over many marks of the same grain, as JCGM 101 finds an
// uncertainty, against what each one states of itself.
func TestGrainMovesTheCentreByWhatIsStated(t *testing.T) {
	const (
		marks = 400
		tol   = 0.15 // of the uncertainty: 400 draws of two axes give a scatter to 2.5 %, blocks that cut grains in two the rest
	)
	random := rand.New(rand.NewPCG(1, 2))
	for _, alike := range []int{1, 5} { // one cell, and the side of a block
		squares, stated := 0.0, 0.0
		for range marks {
			d := grainy(random, 0.05, alike)
			m := d.char()
			squares += (m.X*m.X + m.Y*m.Y) / 2 / marks
			stated += square(uncertainty{d, m}.noise()) / marks
		}
		assert.InEpsilon(t, math.Sqrt(squares), math.Sqrt(stated), tol, "%d cells alike", alike)
	}
}

// A mark as dark as can be everywhere has no grain, and a small one does not show any.
func TestNoGrainWhereNoneIsSeen(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	assert.Zero(t, uncertainty{d: grainy(random, 0, 1)}.ownScatter())
	small := grainy(random, 0.05, 1)
	for k := range small.core.In {
		x, y := small.Centre(k)
		small.core.In[k] = math.Hypot(x, y) < 0.4
	}
	assert.Zero(t, uncertainty{d: small}.ownScatter())
}

// slab is a mark as dark as can be, from x -2 to 2 and y -1 to 1 mm, with lines
// of 0.4 mm beside it, under which it may go on.
func slab(lines ...float64) *darkness {
	const n, step = 160, 0.05
	d := blank(n, step, -3.975, -3.975)
	for k := range d.value {
		x, y := d.Centre(k)
		d.support.In[k] = true
		if math.Abs(y) > 1 {
			continue
		}
		if math.Abs(x) < 2 {
			d.value[k] = 1
		}
		for _, line := range lines {
			if math.Abs(x-line) < 0.2 {
				d.value[k] = 0.5
				d.hidden = append(d.hidden, hiddenCell{k, 0, 1})
			}
		}
	}
	return d
}

// The mark may end at the near or the far side of a line of 0.4 mm, which moves
// its middle by 0 to 0.2 mm: uniform, 0.2/√12 in one of two directions. What
// two lines hide on opposite sides adds in squares, it does not cancel.
func TestWhatALineHidesIsUncertain(t *testing.T) {
	const tol = 1e-9
	one := 0.2 / math.Sqrt(12) / math.Sqrt2
	d := slab(2.2)
	assert.InDelta(t, one, uncertainty{d, d.char()}.hidden(), tol)
	d = slab(2.2, -2.2)
	assert.InDelta(t, one*math.Sqrt2, uncertainty{d, d.char()}.hidden(), tol)
}

// A line right across the mark hides nothing: both its sides are dark.
func TestALineAcrossTheMarkHidesNothing(t *testing.T) {
	d := slab()
	for k := range d.value {
		if x, y := d.Centre(k); math.Abs(x-1) < 0.2 && math.Abs(y) <= 1 {
			d.hidden = append(d.hidden, hiddenCell{k, 1, 1})
		}
	}
	assert.InDelta(t, 0, uncertainty{d, d.char()}.hidden(), 1e-12)
}

// lit is a mark of 1 mm radius on tape of which the light is given by place.
func lit(light func(x, y float64) float64) uncertainty {
	const n, step = 121, 0.05
	d := blank(n, step, -3, -3)
	for k := range d.Light {
		x, y := d.Centre(k)
		d.core.In[k] = math.Hypot(x, y) <= 1
		d.Light[k] = light(x, y)
	}
	return uncertainty{d: d}
}

// A shadow that takes half of the light on one side is (1 - 0.5) / (1 + 0.5)
// uneven, by definition; its edge cuts the sectors beside it only.
func TestUnevennessOfAShadowsEdge(t *testing.T) {
	const tol = 1e-9
	u := lit(func(x, _ float64) float64 {
		if x < 0 {
			return 0.5
		}
		return 1
	})
	set := DefaultSettings()
	assert.InDelta(t, 1.0/3, u.unevenness(), tol)
	assert.InDelta(t, set.UnevenMM*(1.0/3-set.EvenEnough), u.unevenLight(u.unevenness()), tol)
}

// Light that falls off evenly over the picture is no edge.
func TestSmoothLightIsEvenEnough(t *testing.T) {
	u := lit(func(x, _ float64) float64 { return math.Exp(0.02 * x) }) // 2 % a mm
	assert.Less(t, u.unevenness(), DefaultSettings().EvenEnough)
	assert.Zero(t, u.unevenLight(u.unevenness()))
}
