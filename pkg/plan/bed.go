package plan

import (
	"math"

	"burngauge.dev/burngauge/pkg/plan/leastsquares"
)

// bedShape is what no tilt of a mirror explains in the current spots over the bed,
// and its standard uncertainties, mm right and up. Places are -1..1 over the bed.
type bedShape struct {
	twist, bow   [2]float64 // coefficients of x y, and of (x² + y²)/2
	twistU, bowU [2]float64
	hasTwist     bool // whether the stations determine it
	hasBow       bool
}

// Terms of the fit: the plane 1, x, y, then the twist, and with five stations the bow.
const (
	twistTerms = 4
	bowTerms   = 5
	bowTerm    = 4
)

// shapeOf fits, for each axis, a plane, the product of x and y, and a bow
//
//	a + b x + c y + d xy + e (x² + y²)/2
//
// to the current readings, as far as there are enough of them. Tilts of mirrors, with the
// legs' lengths linear in the head's place, give the plane and next to nothing of the rest:
// what the fit finds in d and e comes from how the head travels. Four stations determine d,
// a fifth e; more of them are fitted by least squares, each weighed by its covariance.
func (g *geometry) shapeOf(readings []reading) (shape bedShape) {
	terms := min(len(readings), bowTerms)
	if terms < twistTerms {
		return shape
	}
	equations := &leastsquares.Equations{Width: axes * terms}
	for _, r := range readings {
		x, y := g.place[g.response.Station(r.station)][0], g.place[g.response.Station(r.station)][1]
		values := []float64{1, x, y, x * y, (x*x + y*y) / 2}[:terms]
		right, up := make([]float64, axes*terms), make([]float64, axes*terms)
		copy(right, values)
		copy(up[terms:], values)
		cov, repeat := r.covariance, g.settings.Reading.RepeatMM
		cov[0][0], cov[1][1] = cov[0][0]+repeat*repeat, cov[1][1]+repeat*repeat
		equations.AddPair([axes][]float64{right, up}, r.place, cov)
	}
	f, err := equations.Solve()
	if err != nil || f.Rank < axes*terms {
		return shape // the stations do not separate the terms
	}
	shape.hasTwist, shape.hasBow = true, terms == bowTerms
	for a := range axes {
		at := a*terms + twistTerm
		shape.twist[a], shape.twistU[a] = f.X[at], math.Sqrt(f.Covariance.At(at, at))
		if shape.hasBow {
			at = a*terms + bowTerm
			shape.bow[a], shape.bowU[a] = f.X[at], math.Sqrt(f.Covariance.At(at, at))
		}
	}
	return shape
}

// widen widens what is expected of the bed's shape to what the readings show: a
// twist of millimetres must not be taken for a reading's noise. A bow is not among
// the unknowns: at the middle and at the corners it shows as the stations' own errors,
// half of it at each.
func (e *estimator) widen(list []round) {
	for _, r := range list {
		shape := e.shapeOf(r.readings)
		for a := range axes {
			if shape.hasTwist {
				e.twistU = max(e.twistU, math.Abs(shape.twist[a]))
			}
			if shape.hasBow {
				e.stationU = max(e.stationU, math.Abs(shape.bow[a])/2)
			}
		}
	}
}
