package plan

import (
	"math"

	"burngauge.dev/burngauge/pkg/coverage"
)

// beamMM is the radius of the beam that a mirror must hold: raw beams are 3 to 7
// mm wide (common practice, no source). startMM is how far off a mirror's middle it
// may be for what no tilt explains: mounts, rails and the source are that much out of
// place, and no photo shows it.
const (
	beamMM  = 2.0
	startMM = 2.0
)

// What is known of a machine out of line beforehand: how far mirrors lean, from spots
// some millimetres off at the end of ways of a metre; how far all spots are shifted by
// parts out of place, and each by its own.
const (
	leanURad   = 2e-3
	shiftedUMM = 1.5
	apartUMM   = 0.3
)

// lean is how far the mirrors lean from where the profile has them, told as the turns
// of screws that would make it: what was turned so far, and the misalignment that with
// a common shift explains the spots as they would lie without. Where mirrors do nearly the same the
// readings do not tell which it is, and the least lean is taken. A beam that is off
// because a mirror leans comes back to the middles of those behind it when that
// is undone, so that its walk must be counted from there.
func (p *planner) lean() ([]float64, error) {
	unturned := p.now
	unturned.turned, unturned.last = make([]float64, p.screws()), make([]float64, p.screws())
	still := *p.belief
	still.now = unturned
	n := p.screws()
	equations := &rows{width: n + 2} // the screws, the shift right and up
	for _, station := range p.stations {
		mean, cov := still.spotNow(station)
		var pair [2][]float64
		for axis := range pair {
			pair[axis] = make([]float64, n+2)
			for j := range n {
				pair[axis][j] = p.response.PerTurn[station][j][axis]
			}
			pair[axis][n+axis] = 1
			mean[axis] -= p.response.Nominal[station][axis]
		}
		equations.addPair(pair, mean, coverage.Sum(cov, coverage.Isotropic(apartUMM)))
	}
	for j := range n + 2 {
		none, u := make([]float64, n+2), shiftedUMM
		none[j] = 1
		if j < n {
			u = p.leanU(j)
		}
		equations.add(none, 0, u)
	}
	f, err := equations.solve()
	if err != nil {
		return nil, err
	}
	for j, turned := range p.now.turned {
		f.x[j] += turned * p.mean[p.layout.gain(j)]
	}
	return f.x[:n], nil
}

// leanU is leanURad in turns of a screw, over the width of its mount.
func (p *planner) leanU(screw int) float64 {
	m, wide := p.mount(screw), 0.0
	for i, a := range m.Points {
		b := m.Points[(i+1)%len(m.Points)]
		wide = max(wide, math.Hypot(a.RightMM-b.RightMM, a.UpMM-b.UpMM))
	}
	return leanURad * wide / m.PitchMM
}

// walk is what the beam may do over a mirror. One that is believed to be out already
// may not go farther.
func (p *planner) walk(station, mirror int, clear float64) walk {
	w := walk{}
	for j := range p.screws() {
		v, gain := p.response.OnMirror[station][j][mirror], p.mean[p.layout.gain(j)]
		w.perTurn = append(w.perTurn, [2]float64{v[0] * gain, v[1] * gain})
		w.gone[0] += v[0] * p.leaning[j]
		w.gone[1] += v[1] * p.leaning[j]
	}
	w.most = max(clear/2-beamMM-startMM, clear/8, math.Hypot(w.gone[0], w.gone[1]))
	return w
}
