// Package coverage does the arithmetic of uncertainty: how far a measured
// place may be off, how likely it lies within a limit, and how errors
// propagate and add up (JCGM 100:2008, "GUM"; JCGM 106:2012).
//
// Lengths are in whatever unit comes in, covariances in its square.
// Probabilities are 0..1.
package coverage

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
)

// Radius is the radius of the circle about the mean that holds a bivariate
// normal variable with probability p. It is exact: W. E. Hoover, NOAA
// Technical Report NOS 107 C&GS 3 (1984) calls it the confidence circle.
//
// A covariance of rank one or zero is fine; small negative eigenvalues count
// as zero. p <= 0 gives 0, p >= 1 gives +Inf, and NaN anywhere NaN.
func Radius(cov [2][2]float64, p float64) float64 {
	s := axes(cov).major
	switch {
	case math.IsNaN(p) || math.IsNaN(s):
		return math.NaN()
	case p <= 0 || s == 0:
		return 0
	case p >= 1 || math.IsInf(s, 1):
		return math.Inf(1)
	}
	// In one dimension the circle is smallest, with equal axes largest.
	low, high := s*Normal((1+p)/2), s*math.Sqrt(-2*math.Log1p(-p))
	for high-low > bisected*high {
		middle := (low + high) / 2
		if middle <= low || middle >= high {
			break
		}
		if Within([2]float64{}, cov, middle) < p {
			low = middle
		} else {
			high = middle
		}
	}
	return (low + high) / 2
}

// sharpest is the standard deviation, as a part of the limit, below which an
// axis counts as having none: 1e-7 of a limit of millimetres is less than an
// atom, and sharper peaks only cost time.
const sharpest = 1e-7

// reach is how many standard deviations are integrated over; 2e-19 of a normal
// variable lies beyond.
const reach = 9

// bisected is the relative width at which Radius stops: two digits above what doubles
// hold. Within is no more exact than that.
const bisected = 1e-13

// round is the relative difference of two axes below which a covariance counts as
// round, so that rounding does not choose its axes.
const round = 1e-12

// leastPanels are those that the integral has beyond one for each standard deviation of
// the minor axis: enough for the ends where the normal curve is cut off.
const leastPanels = 4

// Within is the probability that a bivariate normal variable with this mean
// and covariance lies within limit of the origin. It is exact to 1e-12 or so,
// for any ratio of limit and covariance; with no covariance it is 0 or 1.
//
// A limit <= 0 gives 0, NaN anywhere NaN.
func Within(mean [2]float64, cov [2][2]float64, limit float64) float64 {
	e := axes(cov)
	along, across := e.project(mean)
	if math.IsNaN(along+across+e.major+e.minor) || math.IsNaN(limit) {
		return math.NaN()
	}
	if !(limit > 0) {
		return 0
	}
	// All in units of the limit.
	d := disc{along / limit, across / limit, e.major / limit, e.minor / limit}
	if d.minor < sharpest {
		return d.strip(math.Asin(min(max(d.across, -1), 1)))
	}
	return min(max(d.integral(), 0), 1)
}

// disc is a normal variable in its principal axes beside the unit disc.
type disc struct{ along, across, major, minor float64 }

// strip is the probability that the variable's major part lies on the chord at
// the height sin(theta) of the minor axis. It is 0 beside the disc.
func (d disc) strip(theta float64) float64 {
	if d.minor < sharpest && math.Abs(d.across) > 1 {
		return 0
	}
	half := math.Cos(theta)
	return Conforms(d.along, d.major, -half, half)
}

// integral sums the strips over the minor axis, weighted by its density. The
// heights are sin(theta), which takes away the square root at the disc's edge;
// in panels as wide as the minor standard deviation nothing in the integrand
// changes by more than the normal curve does over one of its own.
func (d disc) integral() float64 {
	low := math.Asin(max(d.across-reach*d.minor, -1))
	high := math.Asin(min(d.across+reach*d.minor, 1))
	if !(low < high) { // also NaN: the whole normal curve is beside the disc
		return 0
	}
	panels := int(math.Ceil((high-low)/d.minor)) + leastPanels
	width := (high - low) / float64(panels)
	density := func(theta float64) float64 {
		sin, cos := math.Sincos(theta)
		z := (sin - d.across) / d.minor
		return math.Exp(-z*z/2) / (math.Sqrt(2*math.Pi) * d.minor) * cos * d.strip(theta)
	}
	var sum float64
	for i := range panels {
		from := low + float64(i)*width
		for k, x := range nodes {
			sum += weights[k] * width * density(from+x*width)
		}
	}
	return sum
}

// nodes and weights are Gauss and Legendre's on 0..1.
var nodes, weights = func() (x, w [10]float64) {
	quad.Legendre{}.FixedLocations(x[:], w[:], 0, 1)
	return x, w
}()

// principal is a covariance in its principal axes: standard deviations and the
// unit vector of the major one.
type principal struct{ major, minor, x, y float64 }

// axes finds them. The off-diagonal entries are averaged.
func axes(cov [2][2]float64) principal {
	xx, xy, yy := cov[0][0], (cov[0][1]+cov[1][0])/2, cov[1][1]
	mean, half := (xx+yy)/2, math.Hypot((xx-yy)/2, xy)
	sin, cos := math.Sincos(0.5 * math.Atan2(2*xy, xx-yy))
	return principal{root(mean + half), root(mean - half), cos, sin}
}

// root is the square root, 0 for what rounding made negative.
func root(v float64) float64 {
	if v < 0 {
		return 0
	}
	return math.Sqrt(v)
}

// project gives a place in the principal axes. Where the covariance is round,
// so that any axes are, the major one is laid through the place: the chords
// then change least over the minor one.
func (e principal) project(p [2]float64) (along, across float64) {
	if e.major-e.minor < round*e.major {
		return math.Hypot(p[0], p[1]), 0
	}
	return e.x*p[0] + e.y*p[1], e.x*p[1] - e.y*p[0]
}
