package plan

import (
	"gonum.org/v1/gonum/mat"

	"burngauge.dev/burngauge/pkg/coverage"
)

// belief is what all readings together say of the machine: the unknowns' mean
// and covariance, normal by assumption.
type belief struct {
	*bench
	layout layout
	mean   []float64
	cov    *mat.SymDense
	now    round // the last round
}

// passes is how often the product of gain and length is made linear anew. Gains
// move by tenths and lengths by hundredths, so after the second pass what is left of
// their product is thousandths of a turn's effect.
const passes = 2

// believe solves all rounds together: Bayesian linear least squares, in which
// what is known beforehand counts as readings too.
func (b *bench) believe(list []round) (*belief, error) {
	last := list[len(list)-1]
	l := layout{segments: last.segment + 1, stations: b.stations(), screws: b.screws(), legs: b.legs()}
	gains := make([]float64, l.screws)
	for j := range gains {
		gains[j] = 1
	}
	out := &belief{bench: b, layout: l, now: last}
	for range passes {
		equations := &rows{width: l.size()}
		b.prior(l, equations)
		for _, r := range list {
			b.observe(l, r, gains, equations)
		}
		f, err := equations.solve()
		if err != nil {
			return nil, err
		}
		out.mean, out.cov = f.x, f.unscaled
		copy(gains, f.x[l.gain(0):])
	}
	return out, nil
}

// observe adds the readings of a round.
func (b *bench) observe(l layout, r round, gains []float64, to *rows) {
	for _, reading := range r.readings {
		k := b.response.Station(reading.Station)
		pair := [2][]float64{b.spot(l, r, k, 0, gains), b.spot(l, r, k, 1, gains)}
		to.addPair(pair, [2]float64{reading.RightMM, reading.UpMM}, b.noise(reading, r, k))
	}
}

// noise of a reading: its own, the head's coming back, and the hand's setting of the
// screws that were turned.
func (b *bench) noise(reading Reading, r round, station int) [2][2]float64 {
	cov := coverage.Sum(reading.Covariance, coverage.Isotropic(repeatMM))
	for j, last := range r.last {
		if last != 0 {
			cov = coverage.Sum(cov, b.setting(station, j))
		}
	}
	return cov
}

// setting is the covariance of a spot from a hand's setting of one screw.
func (b *bench) setting(station, screw int) [2][2]float64 {
	v, u := b.response.PerTurn[station][screw], b.settingUTurns(screw)
	x, y := v[0]*u, v[1]*u
	return [2][2]float64{{x * x, x * y}, {x * y, y * y}}
}

// spotNow is where the spot is believed to be at a station, no further screw turned.
func (b *belief) spotNow(station int) (mean [2]float64, cov [2][2]float64) {
	return b.spread(b.rowsOf(station))
}

// rowsOf are the two axes of a station's spot now.
func (b *belief) rowsOf(station int) [2][]float64 {
	gains := b.mean[b.layout.gain(0):b.layout.gain(b.layout.screws)]
	return [2][]float64{b.spot(b.layout, b.now, station, 0, gains), b.spot(b.layout, b.now, station, 1, gains)}
}

// spread takes two functionals of the unknowns to their mean and covariance.
func (b *belief) spread(c [2][]float64) (mean [2]float64, cov [2][2]float64) {
	size := len(b.mean)
	var through [2]mat.VecDense
	for i := range c {
		v := mat.NewVecDense(size, c[i])
		through[i].MulVec(b.cov, v)
		mean[i] = mat.Dot(v, mat.NewVecDense(size, b.mean))
	}
	for i := range c {
		for k := range c {
			cov[i][k] = mat.Dot(mat.NewVecDense(size, c[i]), &through[k])
		}
	}
	return mean, cov
}
