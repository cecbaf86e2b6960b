package burn

import (
	"cmp"
	"math"
	"slices"

	"burngauge.dev/burngauge/pkg/spot"
)

// char are the moments of the darkness above CharAbove: the mark's position.
func (d *darkness) char() spot.Moments { return d.above(d.set.CharAbove) }

// above are the moments of what is darker than a level, weighted by D - level.
func (d *darkness) above(level float64) spot.Moments {
	return d.weighted(func(k int) float64 {
		if !d.support.In[k] {
			return 0
		}
		return max(0, d.value[k]-level)
	})
}

// darkerThan are the moments of the region darker than a level, each cell alike.
func (d *darkness) darkerThan(level float64) spot.Moments {
	return d.weighted(func(k int) float64 {
		if d.support.In[k] && d.value[k] > level {
			return 1
		}
		return 0
	})
}

// weighted are the moments of any weight of the cells, in one pass: σ²x = Σ w x² /
// Σ w - x̄², which is exact enough since the field lies about the mark and a mark
// is no smaller than a twentieth of its distance from the origin. NaN without
// weight.
func (d *darkness) weighted(weight func(k int) float64) spot.Moments {
	var m spot.Moments
	cell := d.Step * d.Step
	for k := range d.value {
		w := weight(k)
		if w == 0 {
			continue
		}
		x, y := d.Centre(k)
		m.Area += w
		m.X += w * x
		m.Y += w * y
		m.XX += w * x * x
		m.YY += w * y * y
		m.XY += w * x * y
	}
	m.X, m.Y = m.X/m.Area, m.Y/m.Area
	m.XX, m.YY, m.XY = m.XX/m.Area-m.X*m.X, m.YY/m.Area-m.Y*m.Y, m.XY/m.Area-m.X*m.Y
	m.Area *= cell
	return m
}

// outline is the contour of half the darkness: the core's border cells in order
// of direction from its middle. That is the contour's own order as long as the
// middle sees all of it. Where it does not, as in a crescent or behind a ragged
// tongue, the drawn line jumps between near and far border; the points are those
// of the border all the same, and nothing that is measured looks at their order.
func (d *darkness) outline() [][2]float64 {
	border := d.core.Complement().Grown(1)
	type point struct{ angle, x, y float64 }
	var all []point
	m := d.char()
	for k, in := range d.core.In {
		if in && border.In[k] {
			x, y := d.Centre(k)
			all = append(all, point{math.Atan2(y-m.Y, x-m.X), x, y})
		}
	}
	slices.SortFunc(all, func(a, b point) int { return cmp.Compare(a.angle, b.angle) })
	out := make([][2]float64, len(all))
	for i, p := range all {
		out[i] = [2]float64{p.x, p.y}
	}
	return out
}
