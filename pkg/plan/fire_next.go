package plan

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"burngauge.dev/burngauge/pkg/coverage"
)

// uncertainty is that of the spots that must be good, all of them together: their joint
// covariance, right and up of each station in turn, mm². Values are never changed.
type uncertainty struct {
	cov       *mat.SymDense
	limitMM   float64
	fineShare float64 // of the limit: how well a spot is worth knowing
	repeatMM  float64 // of a reading yet to come
}

// uncertainty of the task's spots as they are now: with K their rows of coefficients by the
// unknowns and V the belief's covariance, K V Kᵀ. Stations hang together in it: one
// reading says something of all of them.
func (t *task) uncertainty() uncertainty {
	c := mat.NewDense(axes*len(t.stations), t.layout.size(), nil)
	for i, station := range t.stations {
		pair := t.rowsOf(station)
		c.SetRow(axes*i, pair[0])
		c.SetRow(axes*i+1, pair[1])
	}
	return uncertainty{cov: coverage.Propagate(c, t.cov), limitMM: t.limitMM, fineShare: t.settings.Fire.FineShare, repeatMM: t.settings.Reading.RepeatMM}
}

// determined says whether the readings show every spot well enough to turn screws
// by: to the limit itself.
func (t *task) determined() bool { return t.uncertainty().withinLimit() }

// fireNext orders stations that are not measured, the one that says most first: each
// time the one that is expected to lessen the uncertainty of all spots together the most, those before it taken as
// measured. It stops when every spot is determined, unless all are wanted. Taking the best
// one each time need not find the best set of several; the first one asked for is the
// best there is.
func (t *task) fireNext(missing []int, all bool) (names []string) {
	now := t.uncertainty()
	missing = slices.Clone(missing)
	for len(missing) > 0 && (all || !now.withinLimit()) {
		best, least, after := 0, math.Inf(1), now
		for i, station := range missing {
			trial := now.afterReading(slices.Index(t.stations, station))
			if v := trial.entropy(); v < least {
				best, least, after = i, v, trial
			}
		}
		names = append(names, t.response.Stations[missing[best]])
		now, missing = after, slices.Delete(missing, best, best+1)
	}
	return names
}

// stationBlock is one station's part of a covariance of stations.
func stationBlock(cov *mat.SymDense, i int) [2][2]float64 {
	return [2][2]float64{{cov.At(2*i, 2*i), cov.At(2*i, 2*i+1)}, {cov.At(2*i+1, 2*i), cov.At(2*i+1, 2*i+1)}}
}

// entropy is how much is not known beyond what is worth knowing: Σ ln det(C_k + fine² I)/2
// over the stations. A normal distribution of two dimensions has the entropy
// 1 + ln 2π + ln det(C)/2 nats (C. E. Shannon, Bell System Technical Journal 27, 1948); fine²
// I is a blur in which differences of no use drown, and the constant is left out.
func (u uncertainty) entropy() (sum float64) {
	fine := u.limitMM * u.limitMM * u.fineShare * u.fineShare
	for i := range u.cov.SymmetricDim() / axes {
		c := stationBlock(u.cov, i)
		sum += math.Log((c[0][0]+fine)*(c[1][1]+fine)-c[0][1]*c[0][1]) / 2
	}
	return sum
}

// afterReading is the uncertainty when station i is read too: the update of a Kalman
// filter (R. E. Kalman, Journal of Basic Engineering 82, 1960),
//
//	C ← C - c cᵀ / (c_aa + r²),
//
// with c the column of axis a and r the standard uncertainty of a reading, one axis after
// the other, as the two have independent errors. What will be read does not matter for
// it: that is why a station can be chosen before it is fired at.
func (u uncertainty) afterReading(i int) uncertainty {
	out := mat.NewSymDense(u.cov.SymmetricDim(), nil)
	out.CopySym(u.cov)
	for axis := range axes {
		at := axes*i + axis
		column := mat.NewVecDense(out.SymmetricDim(), nil)
		for k := range out.SymmetricDim() {
			column.SetVec(k, out.At(k, at))
		}
		out.SymRankOne(out, -1/(out.At(at, at)+u.repeatMM*u.repeatMM), column)
	}
	u.cov = out
	return u
}

// withinLimit says whether every spot is known to the limit: a circle of that radius about
// where the spot is believed to be holds it with probability coverage.Sure.
func (u uncertainty) withinLimit() bool {
	for i := range u.cov.SymmetricDim() / axes {
		if coverage.Within([2]float64{}, stationBlock(u.cov, i), u.limitMM) < coverage.Sure {
			return false
		}
	}
	return true
}
