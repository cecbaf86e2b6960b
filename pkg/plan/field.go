package plan

import "math"

// fieldFit is the field of the current spots over the bed, per axis.
type fieldFit struct {
	corner, bow   [2]float64 // of x times y, and of x² + y²
	cornerU, bowU [2]float64
	hasCorner     bool
	hasBow        bool
}

// fieldOf fits a plane, the product of x and y, and a bow to the current readings, as
// far as there are enough of them. Places are -1..1 over the bed.
func (b *bench) fieldOf(readings []Reading) (f fieldFit) {
	const all = 5
	width := min(len(readings), all)
	if width < 4 {
		return f
	}
	equations := &rows{width: 2 * width}
	for _, r := range readings {
		x, y := b.place[b.response.Station(r.Station)][0], b.place[b.response.Station(r.Station)][1]
		terms := []float64{1, x, y, x * y, (x*x + y*y) / 2}[:width]
		right, up := make([]float64, 2*width), make([]float64, 2*width)
		copy(right, terms)
		copy(up[width:], terms)
		cov := r.Covariance
		cov[0][0], cov[1][1] = cov[0][0]+repeatMM*repeatMM, cov[1][1]+repeatMM*repeatMM
		equations.addPair([2][]float64{right, up}, [2]float64{r.RightMM, r.UpMM}, cov)
	}
	s, err := equations.solve()
	if err != nil || s.rank < 2*width {
		return f // the stations do not tell the terms apart
	}
	f.hasCorner, f.hasBow = true, width == all
	for a := range 2 {
		f.corner[a], f.cornerU[a] = s.x[a*width+3], math.Sqrt(s.unscaled.At(a*width+3, a*width+3))
		if f.hasBow {
			f.bow[a], f.bowU[a] = s.x[a*width+4], math.Sqrt(s.unscaled.At(a*width+4, a*width+4))
		}
	}
	return f
}

// shape widens what is expected of the bed's shape to what the readings show: a
// twist of millimetres must not be taken for a reading's noise.
func (b *bench) shape(list []round) {
	for _, r := range list {
		f := b.fieldOf(r.readings)
		for a := range 2 {
			if f.hasCorner {
				b.cornerU = max(b.cornerU, math.Abs(f.corner[a]))
			}
			if f.hasBow {
				b.ownU = max(b.ownU, math.Abs(f.bow[a])/2)
			}
		}
	}
}
