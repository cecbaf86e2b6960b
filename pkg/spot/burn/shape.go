package burn

import (
	"math"

	"burngauge.dev/burngauge/pkg/decision"
	"burngauge.dev/burngauge/pkg/spot"
)

// form is a mark's form, for the word that names it.
type form struct {
	d                  *darkness
	m                  spot.Moments
	major, minor, axis float64 // 4 sigma, mm; radians
	edge               [][2]float64
	radius             float64 // of a disc of the core's area, mm
}

func newForm(d *darkness, m spot.Moments) form {
	f := form{d: d, m: m, edge: d.outline(), radius: math.Sqrt(float64(d.core.Count())/math.Pi) * d.Step}
	f.major, f.minor, f.axis = m.Principal()
	return f
}

// name is the word for the form.
func (f form) name() spot.Shape {
	log, set := f.d.log, f.d.set
	switch {
	case f.hasWaist():
		return spot.Double
	case log.Above("burn.FlatLength", f.longestFlat()/f.radius, set.FlatLength, "shape: clipped"):
		return spot.Clipped
	case log.Above("burn.Rough", f.roughness(), set.Rough, "shape: ragged"):
		return spot.Ragged
	case log.Above("burn.Circular", f.minor/f.major, set.Circular, "shape: round"):
		return spot.Round
	}
	return spot.Oval
}

// hasWaist says whether the core is narrower between two wider places along its
// major axis.
func (f form) hasWaist() bool {
	waists := f.d.log.Tally("burn.Waist", decision.Below, f.d.set.Waist, "shape: double")
	defer waists.Record()
	width := f.widths()
	before := make([]float64, len(width)) // widest so far
	for i := 1; i < len(width); i++ {
		before[i] = max(before[i-1], width[i])
	}
	after := 0.0
	for i := len(width) - 1; i > 0; i-- {
		after = max(after, width[i])
		if width[i] > 0 && waists.Below(width[i]/min(before[i], after), f.d.set.Waist) {
			return true
		}
	}
	return false
}

// widths is the core's width across its major axis at each cell along it, in
// cells, smoothed by a running mean: a cell's side turned into the axes makes
// counts jump by one.
func (f form) widths() []float64 {
	const half = 3 // cells to either side, which is less than any waist is long
	s, c := math.Sincos(f.axis)
	count := make([]float64, 2*f.d.N+1)
	for k, in := range f.d.core.In {
		if in {
			x, y := f.d.Centre(k)
			along := ((x-f.m.X)*c + (y-f.m.Y)*s) / f.d.Step
			if i := int(math.Round(along)) + f.d.N; i >= 0 && i < len(count) {
				count[i]++
			}
		}
	}
	smooth := make([]float64, len(count))
	for i := half; i < len(count)-half; i++ {
		for j := -half; j <= half; j++ {
			smooth[i] += count[i+j] / (2*half + 1)
		}
	}
	return smooth
}

// longestFlat is the longest stretch of the outline, in mm, that lies within
// FlatDepth of a straight line touching it. Lines are tried every 4 degrees: a
// side of FlatLength turned by the half of that bulges by 0.02 of the radius.
func (f form) longestFlat() float64 {
	const lines = 90
	best := 0.0
	for i := range lines {
		s, c := math.Sincos(2 * math.Pi * float64(i) / lines)
		reach := math.Inf(-1)
		for _, p := range f.edge {
			reach = max(reach, p[0]*c+p[1]*s)
		}
		low, high := math.Inf(1), math.Inf(-1)
		for _, p := range f.edge {
			if reach-(p[0]*c+p[1]*s) < f.d.set.FlatDepth*f.radius {
				t := p[1]*c - p[0]*s
				low, high = min(low, t), max(high, t)
			}
		}
		best = max(best, high-low)
	}
	return best
}

// roughness is the rms of the outline about the ellipse of its second moments,
// scaled to it, as a share of the radius: with r² = (u/a)² + (v/b)² along and
// across the axis it is the standard deviation of r over its mean.
func (f form) roughness() float64 {
	a, b := f.major/2, f.minor/2
	if len(f.edge) == 0 || b <= 0 {
		return 0
	}
	s, c := math.Sincos(f.axis)
	sum, square := 0.0, 0.0
	for _, p := range f.edge {
		x, y := p[0]-f.m.X, p[1]-f.m.Y
		r := math.Hypot((x*c+y*s)/a, (y*c-x*s)/b)
		sum += r
		square += r * r
	}
	n := float64(len(f.edge))
	mean := sum / n
	return math.Sqrt(max(0, square/n-mean*mean)) / mean
}
