package flat

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/spot/cells"
	"burngauge.dev/burngauge/pkg/spot/scene"
	"burngauge.dev/burngauge/pkg/studio"
)

// looked is the default target (plain-4: rings of 4, 8, 12 and 16 mm) without a
// mark, its print, and a field over its inner half.
func looked(t *testing.T) (Print, *Field) {
	t.Helper()
	fit := scene.Fit(t, func(*studio.Scene) {})
	return NewPrint(fit, DefaultSettings()), Flatten(fit, Square{Half: 5, Step: 0.05}, DefaultSettings())
}

// filledWith is a value for each cell of a field.
func filledWith(f *Field, value func(x, y float64) float64) []float64 {
	out := make([]float64, f.N*f.N)
	for k := range out {
		out[k] = value(f.Centre(k))
	}
	return out
}

// Between its sides a line is bridged linearly, so that a plane stays as it is:
// bilinear reading and a straight line both reproduce it exactly.
func TestAPlaneIsBridgedAsItIs(t *testing.T) {
	const tol = 1e-9
	p, f := looked(t)
	plane := func(x, y float64) float64 { return 0.5 + 0.03*x - 0.02*y }
	values := filledWith(f, plane)
	bridged := 0
	for k := range values {
		x, y := f.Centre(k)
		if max(math.Abs(x), math.Abs(y)) > 4.5 {
			continue // the far side of a line may lie off the field
		}
		if s, ok := p.SpanAt(f, values, x, y); ok {
			bridged++
			require.InDelta(t, plane(x, y), s.Value, tol)
			require.LessOrEqual(t, s.Low, s.Value+tol)
			require.GreaterOrEqual(t, s.High, s.Value-tol)
		}
	}
	assert.Greater(t, bridged, 1000) // of 40 000 cells
}

// The rings' lines of plain-4 lie at 2 and 4 mm, its cross at the centre, and
// nothing is printed half way between two rings.
func TestLinesLieWhereTheSpecHasThem(t *testing.T) {
	p, _ := looked(t)
	for _, turn := range []float64{0.3, 1.7, 3.9} {
		sin, cos := math.Sincos(turn)
		for ring, radius := range []float64{2, 4} {
			line, offset, ok := p.LineAt(p.dx+radius*cos, p.dy+radius*sin)
			require.True(t, ok)
			assert.Equal(t, Line(ring), line)
			assert.InDelta(t, 0, offset, 1e-9)
		}
		_, _, ok := p.LineAt(p.dx+3*cos, p.dy+3*sin)
		assert.False(t, ok)
	}
	line, _, ok := p.LineAt(p.dx, p.dy)
	assert.True(t, ok)
	assert.Equal(t, Cross, line)
}

// A line that dims the tape by a known law of the distance from its middle is
// learnt where the mark does not lie, and predicted where it does.
func TestALinesDimmingIsLearntBesideTheMark(t *testing.T) {
	const tol = 0.5 / 12 // of the light: what the law changes by within one of the 25 bins
	p, f := looked(t)
	law := func(x, y float64) float64 {
		if line, offset, ok := p.LineAt(x, y); ok {
			return 1 - 0.5*(1-math.Abs(offset)/p.halfMM(line))
		}
		return 1
	}
	tape := filledWith(f, func(x, y float64) float64 { return 0.4 + 0.002*x })
	f.Light = filledWith(f, law)
	mark := cells.New(f.N)
	for k := range f.Light {
		x, y := f.Centre(k)
		f.Light[k] *= tape[k]
		if mark.In[k] = math.Hypot(x-2, y) < 1; mark.In[k] {
			f.Light[k] = 0.02
		}
	}
	dimmed, unlearnt := p.Dimmed(f, tape, mark)
	assert.Zero(t, unlearnt.Count())
	for k := range dimmed {
		require.InDelta(t, law(f.Centre(k)), dimmed[k]/tape[k], tol)
	}
}

// Where all of a line lies under the mark, and so does every other, nothing is
// known of it.
func TestALineUnderTheMarkIsUnlearnt(t *testing.T) {
	p, f := looked(t)
	everywhere := cells.New(f.N).Complement()
	_, unlearnt := p.Dimmed(f, filledWith(f, func(_, _ float64) float64 { return 0.4 }), everywhere)
	x, y := p.dx+2, p.dy
	i, j := int(math.Round((x-f.X0)/f.Step)), int(math.Round((y-f.Y0)/f.Step))
	assert.True(t, unlearnt.In[j*f.N+i])
}
