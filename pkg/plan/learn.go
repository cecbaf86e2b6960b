package plan

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"burngauge.dev/burngauge/pkg/machine"
	"burngauge.dev/burngauge/pkg/report"
)

// Learnt is what past rounds say of each screw: its gain, how far it really moves
// the spots over what the profile's geometry says, and its standard uncertainty U, both
// without unit. A leg of the beam that is longer than in the profile shows in the gains
// too. All lists are in the order of Screws.
type Learnt struct {
	Screws   []machine.ScrewName
	Gain     []float64
	U        []float64
	New      []bool    // whether the rounds say anything of the screw
	Findings []Finding // rounds that contradict everything

	settings RoundSettings
}

// Learn updates each screw's gain from past rounds and what came of them: Bayesian
// least squares, from 1 ± GainU or what the profile has learnt before. current is the
// report after the last past round. Errors are those of Make.
func Learn(p machine.Profile, past []Past, current *report.Report) (Learnt, error) {
	e, err := newEstimator(p, DefaultSettings())
	if err != nil {
		return Learnt{}, err
	}
	s, err := e.historyOf(past, current)
	if err != nil {
		return Learnt{}, err
	}
	known, err := e.believe(s.rounds)
	if err != nil {
		return Learnt{}, err
	}
	l := known.learnt()
	l.Findings = s.findings
	return l, nil
}

// learnt reads the gains out of a belief. A screw's gain over the nominal pull is cᵀ mean,
// with c of effective, its variance cᵀ V c; times what the profile has learnt before it is
// that over the pitch. A screw counts as new when the rounds have narrowed its own gain to
// below LearntShare of what was known beforehand: of a screw that was never turned the
// posterior is the prior.
func (b *belief) learnt() (out Learnt) {
	out.Screws, out.settings = b.response.Screws, b.settings.Round
	for j := range b.screws() {
		c := mat.NewVecDense(b.layout.size(), b.effective(j))
		var through mat.VecDense
		through.MulVec(b.cov, c)
		gain := mat.Dot(c, mat.NewVecDense(len(b.mean), b.mean))
		u := math.Sqrt(max(mat.Dot(c, &through), 0))
		own := b.point(j).Pull()
		out.Gain, out.U = append(out.Gain, own*gain), append(out.U, own*u)
		// Only the screw's own part counts: lengths are shared.
		alone := math.Sqrt(b.cov.At(b.layout.gain(j), b.layout.gain(j)))
		out.New = append(out.New, alone < b.settings.Round.LearntShare*b.gainU(j))
	}
	return out
}

// effective is a screw's gain with the legs' lengths in it, as coefficients of the
// unknowns: the share of its nominal answers v in the true ones w, by least squares over
// all stations and both axes, Σ v w / Σ v².
func (b *belief) effective(screw int) []float64 {
	c := make([]float64, b.layout.size())
	total := 0.0
	for k := range b.stations() {
		for axis := range 2 {
			v := b.response.PerTurn[k][screw][axis]
			total += v * v
			for leg, part := range b.response.PerLeg[k][screw] {
				c[b.layout.leg(leg)] += v * part[axis]
			}
		}
	}
	if total > 0 {
		for leg := range b.layout.legs {
			c[b.layout.leg(leg)] /= total
		}
	}
	c[b.layout.gain(screw)] = 1
	return c
}

// Apply writes what was learnt into a profile; screws of which nothing was learnt
// stay as they are.
func (l Learnt) Apply(p machine.Profile) machine.Profile {
	p.Mirrors = slices.Clone(p.Mirrors)
	for i, name := range l.Screws {
		m, s := p.Mirror(name.Mirror), slices.Index(machine.ScrewNames[:], name.Screw)
		if m < 0 || s < 0 || !l.New[i] {
			continue
		}
		point := &p.Mirrors[m].Screws.Points[s]
		point.Gain, point.GainU = machine.BoundGain(l.rounded(l.Gain[i])), max(l.rounded(l.U[i]), l.settings.LeastGainU)
	}
	return p
}

// rounded to the places that a profile has.
func (l Learnt) rounded(v float64) float64 {
	scale := math.Pow10(l.settings.GainPlaces)
	return math.Round(v*scale) / scale
}
