package plan

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"burngauge.dev/burngauge/pkg/coverage"
)

// fineShare of the limit is how well a spot is worth knowing: to a tenth of it.
const fineShare = 0.1

// tellMost orders stations that are not measured by how much firing there would
// tell: each time the one that is expected to lessen the doubt about all spots
// the most, those before it taken as measured. It stops when every spot is
// determined, unless all are wanted.
func (p *planner) tellMost(missing []int, all bool) (names []string) {
	doubt := p.doubt()
	missing = slices.Clone(missing)
	for len(missing) > 0 && (all || !p.clear(doubt)) {
		best, least, after := 0, math.Inf(1), doubt
		for i, station := range missing {
			trial := p.measured(doubt, slices.Index(p.stations, station))
			if v := p.unknown(trial); v < least {
				best, least, after = i, v, trial
			}
		}
		names = append(names, p.response.Stations[missing[best]])
		doubt, missing = after, slices.Delete(missing, best, best+1)
	}
	return names
}

// doubt is the covariance of all spots, right and up of each station in turn.
func (p *planner) doubt() *mat.SymDense {
	c := mat.NewDense(2*len(p.stations), p.layout.size(), nil)
	for i, station := range p.stations {
		pair := p.rowsOf(station)
		c.SetRow(2*i, pair[0])
		c.SetRow(2*i+1, pair[1])
	}
	return coverage.Propagate(c, p.cov)
}

// block is one station's part.
func block(cov *mat.SymDense, i int) [2][2]float64 {
	return [2][2]float64{{cov.At(2*i, 2*i), cov.At(2*i, 2*i+1)}, {cov.At(2*i+1, 2*i), cov.At(2*i+1, 2*i+1)}}
}

// unknown is the doubt in nats beyond what is worth knowing.
func (p *planner) unknown(cov *mat.SymDense) (sum float64) {
	fine := p.limit * p.limit * fineShare * fineShare
	for i := range p.stations {
		c := block(cov, i)
		sum += math.Log((c[0][0]+fine)*(c[1][1]+fine)-c[0][1]*c[0][1]) / 2
	}
	return sum
}

// measured is the covariance when one station more is read: the update of a
// Kalman filter, one axis after the other.
func (p *planner) measured(cov *mat.SymDense, i int) *mat.SymDense {
	out := mat.NewSymDense(cov.SymmetricDim(), nil)
	out.CopySym(cov)
	for axis := range 2 {
		at := 2*i + axis
		column := mat.NewVecDense(out.SymmetricDim(), nil)
		for k := range out.SymmetricDim() {
			column.SetVec(k, out.At(k, at))
		}
		out.SymRankOne(out, -1/(out.At(at, at)+repeatMM*repeatMM), column)
	}
	return out
}

// clear says whether every spot is known to the limit.
func (p *planner) clear(cov *mat.SymDense) bool {
	for i := range p.stations {
		if coverage.Within([2]float64{}, block(cov, i), p.limit) < coverage.Sure {
			return false
		}
	}
	return true
}
