package plan

import (
	"math"

	"burngauge.dev/burngauge/pkg/coverage"
	"burngauge.dev/burngauge/pkg/plan/leastsquares"
	"burngauge.dev/burngauge/pkg/plan/search"
)

// leanOf is how far the mirrors lean from where the profile has them, as the turns of
// screws that would make it: what was turned so far, and the misalignment that with a
// common shift explains the spots as they would lie without these turns,
//
//	spot_k - nominal_k = Σ_j v_kj t_j + shift,
//
// with v_kj the spot's way for a turn of screw j. Each row counts by its station's covariance,
// and each t_j has a row of its own, 0 ± the lean that a mount may have, which is Tikhonov's
// ridge: where mirrors do nearly the same the readings do not show which it is, and the least
// lean is taken. A beam that is off because a mirror leans comes back to the middles
// of those behind it when that is undone, so that its way must be counted from there.
func (t *task) leanOf() ([]float64, error) {
	n := t.screws()
	unturned := t.now
	unturned.turned, unturned.last = make([]float64, n), make([]float64, n)
	still := *t.belief
	still.now = unturned
	equations := &leastsquares.Equations{Width: n + axes} // the screws, the shift right and up
	for _, station := range t.stations {
		mean, cov := still.spotNow(station)
		var pair [axes][]float64
		for axis := range pair {
			pair[axis] = make([]float64, n+axes)
			for j := range n {
				pair[axis][j] = t.response.PerTurn[station][j][axis]
			}
			pair[axis][n+axis] = 1
			mean[axis] -= t.response.Nominal[station][axis]
		}
		equations.AddPair(pair, mean, coverage.Sum(cov, coverage.Isotropic(t.settings.Mirror.StationMM)))
	}
	for j := range n + axes {
		none, u := make([]float64, n+axes), t.settings.Mirror.ShiftMM
		none[j] = 1
		if j < n {
			u = t.leanU(j)
		}
		equations.Add(none, 0, u)
	}
	f, err := equations.Solve()
	if err != nil {
		return nil, err
	}
	for j, turned := range t.now.turned {
		f.X[j] += turned * t.mean[t.layout.gain(j)]
	}
	return f.X[:n], nil
}

// leanU is how far a mirror may lean beforehand, in turns of a screw: an angle of α over
// the mount's width w needs α w/pitch turns.
func (t *task) leanU(screw int) float64 {
	m, wide := t.mount(screw), 0.0
	for i, a := range m.Points {
		b := m.Points[(i+1)%len(m.Points)]
		wide = max(wide, math.Hypot(a.RightMM-b.RightMM, a.UpMM-b.UpMM))
	}
	return t.settings.Mirror.LeanRad * wide / m.PitchMM
}

// edge is how far the beam may go over a mirror at a station: to where its own radius
// and its unknown start still fit into the clear diameter, or a share of that at least.
// One that is believed to be out already may not go farther. In the mirror's own axes, right
// and up from its middle in mm, the beam is at now + Σ_j w_j t_j, with w_j its way over this
// mirror for a turn of screw j, times the believed gain, and
//
//	|now + Σ_j w_j t_j| <= max(clear/2 - beam - start, clear · share, |now|).
func (t *task) edge(station, mirror int, clearMM float64) search.Edge {
	e := search.Edge{}
	for j := range t.screws() {
		v, gain := t.response.OnMirror[station][j][mirror], t.mean[t.layout.gain(j)]
		e.PerTurn = append(e.PerTurn, [2]float64{v[0] * gain, v[1] * gain})
		e.NowMM[0] += v[0] * t.lean[j]
		e.NowMM[1] += v[1] * t.lean[j]
	}
	s := t.settings.Mirror
	e.MostMM = max(clearMM/2-s.BeamMM-s.StartMM, clearMM*s.LeastShare, math.Hypot(e.NowMM[0], e.NowMM[1]))
	return e
}
