package optics

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const tol = 1e-12

func near(t *testing.T, want, got Vec, tol float64) {
	t.Helper()
	assert.InDelta(t, 0, want.Minus(got).Len(), tol, "want %v, got %v", want, got)
}

// The law of reflection in vector form, r = d - 2(d·n)n: E. Hecht, Optics, on the
// laws of reflection [from memory]. Worked by hand: a 3-4-5 and a 1-2-2 normal.
func TestReflectionOfHandWorkedCases(t *testing.T) {
	for _, k := range []struct{ d, n, want Vec }{
		{Vec{1, 0, 0}, Vec{-1, 0, 0}, Vec{-1, 0, 0}},                                                               // straight back
		{Vec{0.6, -0.8, 0}, Vec{0, 1, 0}, Vec{0.6, 0.8, 0}},                                                        // a ball on a floor
		{Vec{1, 0, 0}, Vec{-math.Sqrt2 / 2, math.Sqrt2 / 2, 0}, Vec{0, 1, 0}},                                      // 45 degrees
		{Vec{1, 0, 0}, Vec{-0.6, 0.8, 0}, Vec{0.28, 0.96, 0}},                                                      // 1-2·0.36, 2·0.48
		{Vec{0, 0, -1}, Vec{1.0 / 3, 2.0 / 3, 2.0 / 3}, Vec{4.0 / 9, 8.0 / 9, -1.0 / 9}},                           // d·n = -2/3
		{Vec{2.0 / 7, 3.0 / 7, 6.0 / 7}, Vec{0, 0, -1}, Vec{2.0 / 7, 3.0 / 7, -6.0 / 7}},                           // only z turns round
		{Vec{1, 0, 0}, Vec{-1 / math.Sqrt(3), 1 / math.Sqrt(3), 1 / math.Sqrt(3)}, Vec{1.0 / 3, 2.0 / 3, 2.0 / 3}}, // d·n = -1/√3
	} {
		got := Reflect(k.d, k.n)
		near(t, k.want, got, tol)
		assert.InDelta(t, 1, got.Len(), tol)
		assert.InDelta(t, -k.d.Dot(k.n), got.Dot(k.n), tol, "angle in is angle out")
		assert.InDelta(t, 0, got.Dot(k.d.Cross(k.n)), tol, "in the plane of incidence")
	}
}

// Optical lever (any textbook): a mirror turned by
// δ about the axis square to the plane of incidence turns the beam by 2δ, exactly,
// whatever the angle of incidence.
func TestOpticalLeverTurnsTheBeamTwice(t *testing.T) {
	d := Vec{1, 0, 0}
	for _, incidence := range []float64{0.01, 0.3, math.Pi / 4, 1.2} {
		n := Vec{-math.Cos(incidence), math.Sin(incidence), 0}
		for _, delta := range []float64{1e-4, 0.005, 0.1, 0.3} {
			before, after := Reflect(d, n), Reflect(d, n.Turned(Vec{0, 0, delta}))
			near(t, before.Turned(Vec{0, 0, 2 * delta}), after, tol)
		}
	}
}

// By hand: about the axis in the mirror and in the plane of
// incidence the beam leaves that plane by 2δ cos i: factors for 0, 22.5, 45, 60 degrees.
func TestTiltAlongThePlaneOfIncidence(t *testing.T) {
	const delta = 1e-6
	for deg, factor := range map[float64]float64{0: 2, 22.5: 1.847759, 45: 1.414214, 60: 1} {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		n, axis := Vec{-cos, sin, 0}, Vec{sin, cos, 0}
		out := Reflect(Vec{1, 0, 0}, n.Turned(axis.Times(delta)))
		assert.InDelta(t, factor, math.Abs(out.Z)/delta, 1e-6, "%g degrees", deg)
	}
}

// At 45 degrees the spot moves across by √2 L tan δ, not by 2, and by L tan² δ
// along. Exact: r = (sin²δ, cos²δ, √2 sinδ cosδ); the numbers for 5 mrad
// are worked by hand.
func TestAt45DegreesTheSpotMovesByRootTwo(t *testing.T) {
	h := math.Sqrt2 / 2
	const delta, away = 5e-3, 1000.0
	m := Mirror{Plane: Plane{Normal: Vec{-h, h, 0}.Turned(Vec{h, h, 0}.Times(delta))}, Clear: 20}
	end, ok := Follow(Ray{Vec{-100, 0, 0}, Vec{1, 0, 0}}, []Mirror{m}, Plane{Vec{0, away, 0}, Vec{0, -1, 0}})
	require.True(t, ok)
	near(t, Vec{2.49998e-5, 0.9999750002, math.Copysign(0.0070709500, end.Along.Z)}, end.Along, 1e-9)
	assert.InDelta(t, math.Sqrt2*away*math.Tan(delta), math.Abs(end.At.Z), 1e-9)
	assert.InDelta(t, away*math.Tan(delta)*math.Tan(delta), end.At.X, 1e-9)
	assert.InDelta(t, 0.007071126738, math.Abs(end.At.Z)/away, 1e-12)
}

// A mirror moved by t along its normal shifts the beam by 2t cos i: √2 t at 45 degrees.
func TestAMirrorMovedAlongItsNormalShiftsTheBeam(t *testing.T) {
	h := math.Sqrt2 / 2
	m := Mount{Right: Vec{h, h, 0}, Up: Vec{0, 0, 1}, Normal: Vec{-h, h, 0}, Points: [3][2]float64{{-18, 18}, {18, 18}, {-18, -18}}, Clear: 20}
	screen := Plane{Vec{0, 500, 0}, Vec{0, -1, 0}}
	beam := Ray{Vec{-100, 0, 0}, Vec{1, 0, 0}}
	before, _ := Follow(beam, []Mirror{m.Set([3]float64{})}, screen)
	after, ok := Follow(beam, []Mirror{m.Set([3]float64{0.5, 0.5, 0.5})}, screen)
	require.True(t, ok)
	near(t, before.Along, after.Along, tol)
	assert.InDelta(t, math.Sqrt2*0.5, before.At.Minus(after.At).Len(), 1e-9)
}

// By hand: three screws at (0,0), (40,0), (0,40), pitch 0.5:
// one turn at (40,0) slopes the plate by 12.5 mm/m, at (0,40) likewise, at the corner by
// both, backwards; all three alike do not tilt.
func TestThreeScrewsSlopeThePlateExactly(t *testing.T) {
	m := Mount{Right: Vec{1, 0, 0}, Up: Vec{0, 1, 0}, Normal: Vec{0, 0, 1}, Points: [3][2]float64{{0, 0}, {40, 0}, {0, 40}}, Clear: 20}
	for _, k := range []struct {
		advance        [3]float64
		right, up, mid float64
	}{
		{[3]float64{0, 0.5, 0}, 0.0125, 0, 0}, {[3]float64{0, 0, 0.5}, 0, 0.0125, 0},
		{[3]float64{0.5, 0, 0}, -0.0125, -0.0125, 0.5}, {[3]float64{0.5, 0.5, 0.5}, 0, 0, 0.5},
		{[3]float64{0, 10, 0}, 0.25, 0, 0}, // far from small: still the plane through the points
	} {
		got := m.Set(k.advance)
		n := got.Plane.Normal
		assert.InDelta(t, k.right, -n.X/n.Z, tol)
		assert.InDelta(t, k.up, -n.Y/n.Z, tol)
		near(t, Vec{0, 0, k.mid}, got.Middle, tol)
		assert.InDelta(t, 1, n.Len(), tol)
	}
	// With the screws about the middle, as (±20, ±20), one turn lifts the middle by half the pitch.
	m.Points = [3][2]float64{{-20, -20}, {20, -20}, {-20, 20}}
	near(t, Vec{0, 0, 0.25}, m.Set([3]float64{0, 0.5, 0}).Middle, tol)
}

func TestARayFromBehindOrAwayMisses(t *testing.T) {
	p := Plane{Normal: Vec{0, 0, 1}}
	for _, r := range []Ray{{Vec{0, 0, -1}, Vec{0, 0, 1}}, {Vec{0, 0, 1}, Vec{0, 0, 1}}, {Vec{0, 0, 1}, Vec{1, 0, 0}}, {Vec{0, 0, -1}, Vec{0, 0, -1}}} {
		_, ok := r.Meet(p)
		assert.False(t, ok, "%v", r)
	}
	_, ok := Ray{Vec{0, 0, 1}, Vec{0, 0, -1}}.Meet(p)
	assert.True(t, ok)
}

// The edge against rays themselves: displaced rays on its dark side meet the
// mirror outside its clear circle, to second order in the edge's bend.
func TestTheEdgeIsWhereParallelRaysLeaveTheMirror(t *testing.T) {
	h := math.Sqrt2 / 2
	m := []Mirror{
		{Plane: Plane{Normal: Vec{-h, h, 0}}, Middle: Vec{7, 7, -4}, Clear: 24},
		{Plane: Plane{Vec{0, 400, 0}, Vec{h, -h, 0}}, Middle: Vec{0, 400, 0}, Clear: 60},
	}
	screen := Plane{Vec{300, 400, 0}, Vec{-1, 0, 0}}
	beam := Ray{Vec{-100, 0.3, 0.2}, Vec{1, 0.002, -0.001}.Unit()}
	end, ok := Follow(beam, m, screen)
	require.True(t, ok)
	require.Len(t, end.Edges, 2)
	edge := end.Edges[0]
	assert.InDelta(t, 0, edge.Toward.Dot(end.Along), 1e-9, "across the beam")
	out := edge.Toward
	// Back to the start: the two mirrors are undone in turn.
	s := Reflect(Reflect(out, m[1].Plane.Normal), m[0].Plane.Normal)
	hit := func(k float64) float64 {
		moved, _ := Follow(Ray{beam.From.Plus(s.Times(k)), beam.Along}, m, screen)
		return moved.Hits[0].Minus(m[0].Middle).Len()
	}
	assert.InDelta(t, 12, hit(edge.At), 0.2, "on the clear circle")
	assert.Less(t, hit(edge.At-0.5), 12.0)
	assert.Greater(t, hit(edge.At+0.5), 12.0)
	// On the screen a ray displaced by k along the edge's direction lands k along it.
	moved, _ := Follow(Ray{beam.From.Plus(s), beam.Along}, m, screen)
	assert.InDelta(t, 1, moved.At.Minus(end.At).Dot(out), 1e-4)
}

// Quarter turns about x, y, z by the right-hand rule, and the angle of a general one.
func TestTurnedByTheRightHandRule(t *testing.T) {
	near(t, Vec{0, 0, 1}, Vec{0, 1, 0}.Turned(Vec{math.Pi / 2, 0, 0}), tol)
	near(t, Vec{1, 0, 0}, Vec{0, 0, 1}.Turned(Vec{0, math.Pi / 2, 0}), tol)
	near(t, Vec{0, 1, 0}, Vec{1, 0, 0}.Turned(Vec{0, 0, math.Pi / 2}), tol)
	near(t, Vec{2, 3, 1}, Vec{1, 2, 3}.Turned(Vec{1, 1, 1}.Unit().Times(-2*math.Pi/3)), tol)
}

func TestAcrossIsSquare(t *testing.T) {
	for _, d := range []Vec{{1, 0, 0}, {0, 1, 0}, {0, 0, -1}, Vec{1, 2, 3}.Unit(), Vec{0.95, 0.1, 0}.Unit()} {
		a, b := Across(d)
		for _, v := range []float64{a.Dot(b), a.Dot(d), b.Dot(d), a.Len() - 1, b.Len() - 1} {
			assert.InDelta(t, 0, v, tol)
		}
	}
}
