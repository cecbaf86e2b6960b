package ellipse

import (
	"math"

	"burngauge.dev/burngauge/pkg/conic"
)

// Line is a line as the search saw it: the middle between two ellipses of
// the photo, one for each flank.
type Line struct {
	conic.Ellipse         // px
	Width         float64 // px
}

// flanks makes a line of its outer and its inner flank.
func flanks(outer, inner conic.Ellipse) Line {
	return Line{
		Ellipse: conic.Ellipse{X: (outer.X + inner.X) / 2, Y: (outer.Y + inner.Y) / 2, A: (outer.A + inner.A) / 2, B: (outer.B + inner.B) / 2, Theta: outer.Theta},
		Width:   outer.A - inner.A,
	}
}

// Flat is the axis ratio.
func (l Line) Flat() float64 { return l.B / l.A }

// Two ellipses are the flanks of one line when they agree to this.
const (
	WholeArc     = 0.6 // of each flank is seen
	SameFlatness = 0.06
)

// LinesLike pairs ellipses to lines about the middle of a line
// and as wide as it, between a fifth and five quarters of its radius. Middle
// and width are the tolerances, as shares of its radius and width.
func LinesLike(candidates []Candidate, like Line, middle, width float64) []Line {
	var out []Line
	for _, c := range candidates {
		if c.Arc < WholeArc || math.Hypot(c.X-like.X, c.Y-like.Y) > middle*like.A || c.A < 0.2*like.A || c.A > 1.25*like.A {
			continue
		}
		for _, d := range candidates {
			w := c.A - d.A
			if d.Arc < WholeArc || math.Abs(w-like.Width) > width*like.Width || math.Hypot(c.X-d.X, c.Y-d.Y) > 0.5*w || math.Abs(c.B/c.A-d.B/d.A) > SameFlatness {
				continue
			}
			out = append(out, flanks(c.Ellipse, d.Ellipse))
		}
	}
	return out
}
