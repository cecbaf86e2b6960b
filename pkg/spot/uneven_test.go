package spot

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// lit is a mark of 1 mm radius on tape of which the light is given by place.
func lit(light func(x, y float64) float64) *darkness {
	const n, step = 121, 0.05
	d := &darkness{flat: &flat{n: n, step: step, x0: -3, y0: -3, light: make([]float64, n*n)}, core: discMask(n, 1/step)}
	for k := range d.light {
		x, y := d.place(k%n, k/n)
		d.light[k] = light(x, y)
	}
	return d
}

// A shadow that takes half of the light on one side is (1 - 0.5) / (1 + 0.5)
// uneven, by definition; its edge cuts the sectors beside it only.
func TestUnevennessOfAShadowsEdge(t *testing.T) {
	const tol = 1e-9
	d := lit(func(x, _ float64) float64 {
		if x < 0 {
			return 0.5
		}
		return 1
	})
	assert.InDelta(t, 1.0/3, d.unevenness(moment{}), tol)
	assert.InDelta(t, unevenMM*(1.0/3-evenEnough), d.unevenU(moment{}), tol)
}

// Light that falls off evenly over the picture is no edge.
func TestSmoothLightIsEvenEnough(t *testing.T) {
	d := lit(func(x, _ float64) float64 { return math.Exp(0.02 * x) }) // 2 % a mm
	assert.Less(t, d.unevenness(moment{}), evenEnough)
	assert.Zero(t, d.unevenU(moment{}))
}
