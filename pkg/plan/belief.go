package plan

import (
	"gonum.org/v1/gonum/mat"

	"burngauge.dev/burngauge/pkg/coverage"
	"burngauge.dev/burngauge/pkg/machine"
	"burngauge.dev/burngauge/pkg/plan/leastsquares"
)

// estimator makes beliefs of rounds of readings.
type estimator struct {
	*geometry
	// What is expected of the bed's shape, as standard uncertainties: the settings', or
	// what the readings themselves show where that is more. See widen.
	twistU, stationU float64
}

func newEstimator(p machine.Profile, settings Settings) (*estimator, error) {
	g, err := newGeometry(p, settings)
	if err != nil {
		return nil, err
	}
	return &estimator{geometry: g, twistU: settings.Prior.TwistMM, stationU: settings.Prior.StationMM}, nil
}

// belief is what all readings together say of the machine: the unknowns' mean
// and covariance, normal by assumption. What layout lists are the unknowns u; every axis of
// every spot is a linear function cᵀu of them, so that all that is asked of a belief, where a
// spot is, where it will be, what a screw pulls, is cᵀ mean ± √(cᵀ cov c).
type belief struct {
	*estimator
	layout layout
	mean   []float64
	cov    *mat.SymDense
	now    round // the last round
}

// believe solves all rounds together by Bayesian linear least squares: the unknowns u
// have the normal prior N(u₀, P), a reading z is N(C u, R), and the posterior has
//
//	cov = (P⁻¹ + Σ CᵀR⁻¹C)⁻¹,   mean = cov (P⁻¹u₀ + Σ CᵀR⁻¹z),
//
// which is the least squares solution of all rows, those of the prior among them (A.
// Gelman et al., Bayesian Data Analysis, section 14.8 in the third edition [from
// memory]).
//
// One term is not linear: a longer leg lengthens what a screw does on it, gain times
// length. It is made linear about the gains of the pass before, first about 1; the
// lengths' own nominal value is 0, so that gain times 0 adds nothing to the mean.
func (e *estimator) believe(list []round) (*belief, error) {
	last := list[len(list)-1]
	l := layout{segments: last.segment + 1, stations: e.stations(), screws: e.screws(), legs: e.legs()}
	gains := make([]float64, l.screws)
	for j := range gains {
		gains[j] = 1
	}
	out := &belief{estimator: e, layout: l, now: last}
	for range e.settings.Prior.Passes {
		equations := &leastsquares.Equations{Width: l.size()}
		e.prior(l, equations)
		for _, r := range list {
			e.observe(l, r, gains, equations)
		}
		f, err := equations.Solve()
		if err != nil {
			return nil, err
		}
		out.mean, out.cov = f.X, f.Covariance
		copy(gains, f.X[l.gain(0):])
	}
	return out, nil
}

// prior adds what is known beforehand, P: one row for each unknown, independent of the
// others. Gains begin at 1 or what the profile has learnt (the response has it in
// already), everything else at 0.
func (e *estimator) prior(l layout, to *leastsquares.Equations) {
	known := func(at int, value, u float64) {
		c := make([]float64, l.size())
		c[at] = 1
		to.Add(c, value, u)
	}
	settings := e.settings.Prior
	for i := range l.own(0, 0) {
		u := settings.FieldMM
		if i%fieldTerms == twistTerm {
			u = e.twistU
		}
		known(i, 0, u)
	}
	for i := l.own(0, 0); i < l.gain(0); i++ {
		known(i, 0, e.stationU)
	}
	for j := range l.screws {
		known(l.gain(j), 1, e.gainU(j))
		known(l.play(j, -1), 0, settings.PlayTurns)
		known(l.play(j, +1), 0, settings.PlayTurns)
	}
	for i := range l.legs {
		known(l.leg(i), 0, settings.Length)
	}
}

// observe adds the readings of a round: for each the two rows C of its station and what was
// read, z = C u + e, with the joint covariance R of the two axes of e.
func (e *estimator) observe(l layout, r round, gains []float64, to *leastsquares.Equations) {
	for _, reading := range r.readings {
		k := e.response.Station(reading.station)
		pair := [axes][]float64{e.spot(l, r, k, 0, gains), e.spot(l, r, k, 1, gains)}
		to.AddPair(pair, reading.place, e.noise(reading, r, k))
	}
}

// noise of a reading, R: its own covariance, the head's coming back to the station, and
// the hand's setting of each screw that was turned so far, which are independent and
// add up. One setting moves the spots of all stations together; that this is common to
// them is left out.
func (e *estimator) noise(reading reading, r round, station int) [2][2]float64 {
	cov := coverage.Sum(reading.covariance, coverage.Isotropic(e.settings.Reading.RepeatMM))
	for j, last := range r.last {
		if last != 0 {
			cov = coverage.Sum(cov, e.setting(station, j))
		}
	}
	return cov
}

// spotNow is where the spot is believed to be at a station, no further screw turned,
// mm right and up, and its covariance. It is defined at stations that were not measured too:
// the field over the bed and the screws' answers, which all stations share, carry over, and
// the covariance says how far.
func (b *belief) spotNow(station int) (mean [2]float64, cov [2][2]float64) {
	return b.spread(b.rowsOf(station))
}

// rowsOf are the two axes of a station's spot now, as coefficients of the unknowns, at the
// gains that are believed.
func (b *belief) rowsOf(station int) [axes][]float64 {
	gains := b.mean[b.layout.gain(0):b.layout.gain(b.layout.screws)]
	return [axes][]float64{b.spot(b.layout, b.now, station, 0, gains), b.spot(b.layout, b.now, station, 1, gains)}
}

// spread takes two linear functions of the unknowns, c, to their mean and covariance:
// cᵀ m and cᵀ V c.
func (b *belief) spread(c [axes][]float64) (mean [2]float64, cov [2][2]float64) {
	size := len(b.mean)
	var through [axes]mat.VecDense
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
