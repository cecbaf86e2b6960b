package invent

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/studio"
	"burngauge.dev/burngauge/pkg/target"
)

// plain is a target for tests.
var plain = target.Spec{Name: "test", RingsMM: []float64{4, 8, 12, 16}, LineMM: 0.3, Index: target.Index{FromMM: 0.7, ToMM: 3, WidthMM: 1.3}}

// An ellipse of half axes a, b has the area πab: that of a circle of the burn's diameter.
func TestABurnHasTheAreaOfItsDiameter(t *testing.T) {
	d := New(1, 1)
	for range 50 {
		size := d.Between(1.5, 6)
		l := d.Burn(0.3, -0.2, size).Lobes[0]
		assert.InDelta(t, size*size/4, l.MajorMM*l.MinorMM, 1e-12)
		assert.LessOrEqual(t, l.MinorMM, l.MajorMM)
	}
}

// What is asked of a framing is in the picture: pixels and sides, the outer ring's
// diameter on the optical axis as a share of the short side, and all rings within.
func TestAFramingIsWhatTheCameraSees(t *testing.T) {
	d := New(2, 1)
	for range 20 {
		f := Framing{Megapixels: 3, Aspect: 4.0 / 3, Portrait: d.Chance(0.5), Fraction: d.Between(0.1, 0.3), Focal35: 26,
			Pose: studio.Pose{TiltDeg: d.Between(0, 30), TowardDeg: d.Angle(), RollDeg: d.Angle()}, OffCentre: 0.5}
		cam, ok := d.Camera(f, plain)
		require.True(t, ok)
		assert.InDelta(t, 3e6, cam.Width*cam.Height, 1e4)
		assert.Equal(t, f.Portrait, cam.Height > cam.Width)
		short := float64(min(cam.Width, cam.Height))
		assert.InDelta(t, f.Fraction, 16*cam.FocalPX/cam.T[2]/short, 1e-3)
		for a := 0.0; a < 2*math.Pi; a += 0.1 {
			x, y := cam.Project(8*math.Cos(a), 8*math.Sin(a), 0)
			assert.True(t, x > 0 && y > 0 && x < float64(cam.Width) && y < float64(cam.Height))
		}
	}
}

// A strip covers the mark with the room that was asked for, whatever its turn and ends.
func TestTapeCoversTheMark(t *testing.T) {
	d := New(3, 1)
	for range 200 {
		right, up, clear := d.Between(-8, 8), d.Between(-8, 8), d.Between(1, 5)
		tape := d.Tape(right, up, clear, 0.3)
		s, c := math.Sincos(tape.Deg * math.Pi / 180)
		along, across := c*(right-tape.Right)+s*(up-tape.Up), c*(up-tape.Up)-s*(right-tape.Right)
		assert.LessOrEqual(t, math.Abs(across)+clear, tape.WidthMM/2+1e-9)
		if tape.LengthMM > 0 {
			assert.LessOrEqual(t, math.Abs(along)+clear, tape.LengthMM/2+1e-9)
		}
		assert.True(t, tape.Holds(right, up, 0.999*clear-tape.TornMM), "and torn ends take no more than that")
	}
}

// The weights of IEC 61966-2-1 give the luminance asked for, in any hue.
func TestTintHasTheLuminanceAsked(t *testing.T) {
	d := New(4, 1)
	for range 50 {
		y := d.Between(0.02, 0.8)
		c := d.Tint(y, d.Between(0, 0.9))
		assert.InDelta(t, y, 0.2126*c.R+0.7152*c.G+0.0722*c.B, 1e-12)
		assert.True(t, min(c.R, c.G, c.B) > 0)
	}
}
