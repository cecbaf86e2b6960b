package plan

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"burngauge.dev/burngauge/pkg/coverage"
)

// doubt is what is not known of the spots that must be good: their covariance, right
// and up of each station in turn, mm². Values are never changed.
type doubt struct {
	cov       *mat.SymDense
	limitMM   float64
	fineShare float64 // of the limit: how well a spot is worth knowing
	repeatMM  float64 // of a reading yet to come
}

// doubt about the task's spots as they are now.
func (t *task) doubt() doubt {
	c := mat.NewDense(axes*len(t.stations), t.layout.size(), nil)
	for i, station := range t.stations {
		pair := t.rowsOf(station)
		c.SetRow(axes*i, pair[0])
		c.SetRow(axes*i+1, pair[1])
	}
	return doubt{cov: coverage.Propagate(c, t.cov), limitMM: t.limitMM, fineShare: t.settings.Fire.FineShare, repeatMM: t.settings.Reading.RepeatMM}
}

// determined says whether the readings show every spot well enough to turn screws
// by: to the limit itself.
func (t *task) determined() bool { return t.doubt().clear() }

// fireNext orders stations that are not measured, the one that says most first: each
// time the one that is expected to lessen the doubt about all spots the most, those
// before it taken as measured. It stops when every spot is determined, unless all are
// wanted.
func (t *task) fireNext(missing []int, all bool) (names []string) {
	now := t.doubt()
	missing = slices.Clone(missing)
	for len(missing) > 0 && (all || !now.clear()) {
		best, least, after := 0, math.Inf(1), now
		for i, station := range missing {
			trial := now.measured(slices.Index(t.stations, station))
			if v := trial.nats(); v < least {
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

// nats is how much is not known beyond what is worth knowing: Σ ln det(C_k + fine² I)/2
// over the stations, which is the entropy of normal spots seen through a blur of fine,
// but for a constant.
func (d doubt) nats() (sum float64) {
	fine := d.limitMM * d.limitMM * d.fineShare * d.fineShare
	for i := range d.cov.SymmetricDim() / axes {
		c := stationBlock(d.cov, i)
		sum += math.Log((c[0][0]+fine)*(c[1][1]+fine)-c[0][1]*c[0][1]) / 2
	}
	return sum
}

// measured is the doubt when station i is read too: the update of a Kalman filter,
// C - c cᵀ / (c_aa + r²) with c the column of axis a, one axis after the other.
func (d doubt) measured(i int) doubt {
	out := mat.NewSymDense(d.cov.SymmetricDim(), nil)
	out.CopySym(d.cov)
	for axis := range axes {
		at := axes*i + axis
		column := mat.NewVecDense(out.SymmetricDim(), nil)
		for k := range out.SymmetricDim() {
			column.SetVec(k, out.At(k, at))
		}
		out.SymRankOne(out, -1/(out.At(at, at)+d.repeatMM*d.repeatMM), column)
	}
	d.cov = out
	return d
}

// clear says whether every spot is known to the limit.
func (d doubt) clear() bool {
	for i := range d.cov.SymmetricDim() / axes {
		if coverage.Within([2]float64{}, stationBlock(d.cov, i), d.limitMM) < coverage.Sure {
			return false
		}
	}
	return true
}
