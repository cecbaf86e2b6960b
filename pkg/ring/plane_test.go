package ring

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/lens"
)

// A surface h above the rings, seen under the angle t, seems to lie h tan(t)
// aside on the ring plane (closed form: a right triangle).
func TestHeightShiftsByHeightTimesTangent(t *testing.T) {
	for _, deg := range []float64{10, 20, 30, 45} {
		p := &Plane{Camera: lens.Camera{Focal: 3000, HalfDiagonal: 2500}, Pose: tilted(deg*math.Pi/180, 200)}
		x, y := p.At(conic.Point{}, 0.1)
		assert.InDelta(t, 0, x, 1e-12)
		assert.InDelta(t, 0.1*math.Tan(deg*math.Pi/180), math.Abs(y), 1e-12)
	}
}
