package spot

import (
	"math"
)

// Limits between shapes, chosen between what simulated marks of each kind
// show; they name a mark, they do not move its centre.
const (
	circular   = 0.87 // minor over major: ISO 11146-1's limit of a circular beam
	waist      = 0.90 // of two overlapping discs: width between them over that of the narrower
	flatDepth  = 0.04 // of the mean radius: how far a flat side may bulge
	flatLength = 1.10 // of the mean radius: a circle has 0.56, an oval of 1.4 to 1 has 0.8, half a disc 2
	rough      = 0.055
)

// shape names the mark's form: double, clipped, ragged, oval or round.
func (d *darkness) shape(m moment) string {
	major, minor, axis := m.principal()
	edge := d.outline()
	radius := math.Sqrt(float64(d.core.count())/math.Pi) * d.step
	switch {
	case d.hasWaist(m, axis):
		return "double"
	case longestFlat(edge, radius) > flatLength*radius:
		return "clipped"
	case roughness(edge, m, major/2, minor/2, axis) > rough:
		return "ragged"
	case minor > circular*major:
		return "round"
	}
	return "oval"
}

// hasWaist tells whether the core is narrower between two wider places along
// its major axis.
func (d *darkness) hasWaist(m moment, axis float64) bool {
	s, c := math.Sincos(axis)
	bins := make([]float64, 2*d.n+1) // width across, by place along the axis, cells
	for k, in := range d.core.in {
		if in {
			x, y := d.place(k%d.n, k/d.n)
			along := ((x-m.x)*c + (y-m.y)*s) / d.step
			if i := int(math.Round(along)) + d.n; i >= 0 && i < len(bins) {
				bins[i]++
			}
		}
	}
	smooth := make([]float64, len(bins))
	for i := 3; i < len(bins)-3; i++ {
		for j := -3; j <= 3; j++ {
			smooth[i] += bins[i+j] / 7
		}
	}
	before := make([]float64, len(bins)) // widest so far
	for i := 1; i < len(bins); i++ {
		before[i] = max(before[i-1], smooth[i])
	}
	after := 0.0
	for i := len(bins) - 1; i > 0; i-- {
		after = max(after, smooth[i])
		if smooth[i] > 0 && smooth[i] < waist*min(before[i], after) {
			return true
		}
	}
	return false
}

// longestFlat is the longest stretch of the outline, in mm, that lies within
// flatDepth of a straight line touching it.
func longestFlat(edge [][2]float64, radius float64) float64 {
	best := 0.0
	for i := range 90 {
		s, c := math.Sincos(2 * math.Pi * float64(i) / 90)
		reach := math.Inf(-1)
		for _, p := range edge {
			reach = max(reach, p[0]*c+p[1]*s)
		}
		low, high := math.Inf(1), math.Inf(-1)
		for _, p := range edge {
			if reach-(p[0]*c+p[1]*s) < flatDepth*radius {
				t := p[1]*c - p[0]*s
				low, high = min(low, t), max(high, t)
			}
		}
		best = max(best, high-low)
	}
	return best
}

// roughness is the rms of the outline about the ellipse of its second moments,
// scaled to it, as a share of the radius.
func roughness(edge [][2]float64, m moment, a, b, axis float64) float64 {
	if len(edge) == 0 || b <= 0 {
		return 0
	}
	s, c := math.Sincos(axis)
	sum, square := 0.0, 0.0
	for _, p := range edge {
		x, y := p[0]-m.x, p[1]-m.y
		r := math.Hypot((x*c+y*s)/a, (y*c-x*s)/b)
		sum += r
		square += r * r
	}
	n := float64(len(edge))
	mean := sum / n
	return math.Sqrt(max(0, square/n-mean*mean)) / mean
}
