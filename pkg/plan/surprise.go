package plan

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"burngauge.dev/burngauge/pkg/coverage"
	"burngauge.dev/burngauge/pkg/plan/leastsquares"
)

// expectation is what was expected of a round's readings, right and up of each in
// turn, and how far they are off.
type expectation struct {
	off    *mat.VecDense
	spread *mat.SymDense
}

// surprise is how far the readings of a round are from what was expected of them.
type surprise struct {
	square   float64 // of the distance in units of its uncertainty: chi-squared if nothing but the plan was done
	logDet   float64 // of the expectation's covariance
	readings int
	farthest string // the reading that is farthest off, in words
}

// share is the squared distance over the most that chance brings with that probability:
// a quantile of chi-squared with two degrees of freedom for each reading, its right and
// its up. Above 1 the round is less likely than that.
func (s surprise) share(sure float64) float64 {
	return s.square / distuv.ChiSquared{K: float64(2 * s.readings)}.Quantile(sure)
}

// likelihood is the logarithm of the readings' normal density, -(d² + ln det C)/2, but
// for a constant that depends on their number alone.
func (s surprise) likelihood() float64 { return -(s.square + s.logDet) / 2 }

// surprise compares a round with what was known before it: the turns that the plan says
// were done lead from the belief to what to expect of each reading.
func (b *belief) surprise(after round) (surprise, error) {
	known := *b
	after.segment = b.now.segment
	known.now = after
	e := known.expect()
	square, logDet, err := distance(e.off, e.spread)
	if err != nil {
		return surprise{}, err
	}
	farthest, err := e.farthest(after.readings)
	return surprise{square, logDet, len(after.readings), farthest}, err
}

// slip names what was done instead of the plan, where that is one of three slips that
// the readings distinguish from it; "" otherwise. Each slip is the same plan carried out
// 0, 2 or -1 times, and is weighed by Bayes's rule: it is named when the ratio of its
// likelihood to the plan's exceeds the settings' SlipRatio, the inverse of how rare slips
// are, and when it also fits the readings in itself.
func (b *belief) slip(after round, asPlanned surprise) (words string, err error) {
	settings := b.settings.Round
	most := asPlanned.likelihood() + math.Log(settings.SlipRatio)
	for _, one := range []struct {
		times float64
		words string
	}{
		{0, "none of the turns had been done"},
		{2, "all the turns had been done twice"},
		{-1, "all the turns had gone the other way"},
	} {
		instead := after
		instead.turned = slices.Clone(b.now.turned)
		for j := range instead.turned {
			instead.turned[j] += one.times * (after.turned[j] - b.now.turned[j])
		}
		if one.times == 0 {
			instead.last = b.now.last
		}
		off, err := b.surprise(instead)
		if err != nil {
			return "", err
		}
		if l := off.likelihood(); l > most && off.share(settings.SlipSure) <= 1 {
			most, words = l, one.words
		}
	}
	return words, nil
}

// distance is Mahalanobis's, squared, xᵀ C⁻¹ x, with ln det C, both by Cholesky's
// factor of C.
func distance(off *mat.VecDense, spread *mat.SymDense) (square, logDet float64, err error) {
	var chol mat.Cholesky
	var x mat.VecDense
	if !chol.Factorize(spread) || chol.SolveVecTo(&x, off) != nil {
		return 0, 0, leastsquares.ErrNotConverged
	}
	return mat.Dot(off, &x), chol.LogDet(), nil
}

// expect compares the readings of the last round with the belief. With C the readings'
// rows, the belief's covariance V and the readings' own noise R, the difference between
// readings and expectation is N(0, C V Cᵀ + R) when nothing but the plan was done: the
// innovation of a Kalman filter.
func (b *belief) expect() expectation {
	n := 2 * len(b.now.readings)
	c, noise, off := mat.NewDense(n, b.layout.size(), nil), mat.NewSymDense(n, nil), mat.NewVecDense(n, nil)
	for i, r := range b.now.readings {
		k := b.response.Station(r.station)
		pair := b.rowsOf(k)
		mean, _ := b.spread(pair)
		own := b.noise(r, b.now, k)
		for a, read := range r.place {
			c.SetRow(2*i+a, pair[a])
			off.SetVec(2*i+a, read-mean[a])
			noise.SetSym(2*i+a, 2*i+a, own[a][a])
		}
		noise.SetSym(2*i, 2*i+1, own[0][1])
	}
	e := expectation{off: off, spread: coverage.Propagate(c, b.cov)}
	e.spread.AddSym(e.spread, noise)
	return e
}

// farthest is in words the station that is farthest off for its uncertainty, by
// Mahalanobis's distance of its own two axes. The stations' differences hang together, so
// that none need be far off by itself for the whole to be unlikely.
func (e expectation) farthest(readings []reading) (string, error) {
	most, at := -1.0, 0
	for i := range readings {
		c := stationBlock(e.spread, i)
		d, _, err := distance(e.off.SliceVec(2*i, 2*i+2).(*mat.VecDense), mat.NewSymDense(2, []float64{c[0][0], c[0][1], c[1][0], c[1][1]}))
		if err != nil {
			return "", err
		}
		if d > most {
			most, at = d, i
		}
	}
	r, right, up := readings[at], e.off.AtVec(2*at), e.off.AtVec(2*at+1)
	radius := coverage.Radius(stationBlock(e.spread, at), coverage.Sure)
	text := fmt.Sprintf("%s: expected at %s to within %.2f mm, measured at %s",
		r.station, inWords([2]float64{r.place[0] - right, r.place[1] - up}, onTarget), radius, inWords(r.place, onTarget))
	if math.Hypot(right, up) <= radius {
		text += "; that alone may be, but it and the other stations together may not"
	}
	return text, nil
}
