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

// flanksOfOne says whether two ellipses, the outer one first, have one middle and
// one flatness, as the flanks of a line w wide have.
func (set *Settings) flanksOfOne(outer, inner Candidate, w float64) bool {
	return math.Hypot(outer.X-inner.X, outer.Y-inner.Y) <= set.FlankMiddle*w && math.Abs(outer.B/outer.A-inner.B/inner.A) <= set.SameFlatness
}

// Like says which lines are looked for beside one.
type Like struct {
	Line
	Middle float64 // how far from its middle theirs may lie, over its radius
	Width  float64 // how far from its width theirs may lie, over its width
}

// LinesLike pairs whole ellipses to the lines about the middle of a line that are
// as wide as it.
func LinesLike(candidates []Candidate, like Like, set Settings) []Line {
	var out []Line
	for _, c := range candidates {
		if c.Arc < set.WholeArc || math.Hypot(c.X-like.X, c.Y-like.Y) > like.Middle*like.A || c.A < set.SmallestLike*like.A || c.A > set.LargestLike*like.A {
			continue
		}
		for _, d := range candidates {
			w := c.A - d.A
			if d.Arc < set.WholeArc || math.Abs(w-like.Line.Width) > like.Width*like.Line.Width || !set.flanksOfOne(c, d, w) {
				continue
			}
			out = append(out, flanks(c.Ellipse, d.Ellipse))
		}
	}
	return out
}
