package flat

import (
	"math"
	"slices"

	"burngauge.dev/burngauge/pkg/decision"
	"burngauge.dev/burngauge/pkg/spot/cells"
	"burngauge.dev/burngauge/pkg/stat"
)

// Dimmed is the light of tape with the printed lines on it, as it would be
// without the mark: lines dim (or brighten) the tape by a factor that is learnt
// along each line where the mark does not lie (outside unknown). A mark that
// touches a line is then not pulled along it. Where nothing could be learnt of a
// line, as with a shadow's edge through the target, its cells are in unlearnt:
// their light says nothing of the mark.
func (p Print) Dimmed(f *Field, tape []float64, unknown cells.Set) (out []float64, unlearnt cells.Set) {
	out, unlearnt = slices.Clone(tape), cells.New(f.N)
	profiles := p.learn(f, tape, unknown)
	cells.InRows(f.N, func(j int) {
		for i := range f.N {
			x, y := f.Place(i, j)
			if line, offset, ok := p.LineAt(x, y); ok {
				out[j*f.N+i] *= profiles[line].at(offset)
				unlearnt.In[j*f.N+i] = profiles[line] == nil
			}
		}
	})
	return out, unlearnt
}

// profile is how much a line dims the tape, by distance from its middle.
type profile struct {
	half   float64   // mm
	factor []float64 // light on the line over that of plain tape, evenly over [-half, half]
}

// at is the factor at a distance from the line's middle, mm; 1 off the line, and
// for a line that is not known.
func (q *profile) at(offset float64) float64 {
	if q == nil || math.Abs(offset) > q.half {
		return 1
	}
	bins := len(q.factor)
	t := (offset/q.half + 1) / 2 * float64(bins-1)
	i := min(int(t), bins-2)
	return q.factor[i] + (t-float64(i))*(q.factor[i+1]-q.factor[i])
}

// learn measures each line's profile on the field: outside the mark, and on the
// surface that the mark lies on, since a line is paler under tape.
func (p Print) learn(f *Field, tape []float64, unknown cells.Set) map[Line]*profile {
	var under []float64
	for k, in := range unknown.In {
		if in && !math.IsNaN(tape[k]) {
			under = append(under, tape[k])
		}
	}
	usual := stat.Median(under)
	samples := map[Line][][]float64{}
	for k := range tape {
		if unknown.In[k] || !(math.Abs(tape[k]-usual) < p.set.SameSurface*usual) {
			continue
		}
		x, y := f.Centre(k)
		line, offset, ok := p.LineAt(x, y)
		if !ok || math.IsNaN(f.Light[k]) {
			continue
		}
		if samples[line] == nil {
			samples[line] = make([][]float64, p.set.ProfileBins)
		}
		bin := int(math.Round((offset/p.halfMM(line) + 1) / 2 * float64(p.set.ProfileBins-1)))
		samples[line][bin] = append(samples[line][bin], f.Light[k]/tape[k])
	}
	return p.lend(p.profiles(samples))
}

// profiles takes the median of each bin of each line. A line of which a bin has
// too few cells is nil.
func (p Print) profiles(samples map[Line][][]float64) map[Line]*profile {
	few := p.log.Tally("flat.LeastSamples", decision.Below, float64(p.set.LeastSamples), "how dark a printed line is stays unknown")
	defer few.Record()
	out := map[Line]*profile{}
	for line, bins := range samples {
		q := &profile{half: p.halfMM(line), factor: make([]float64, len(bins))}
		for i, b := range bins {
			if few.Below(float64(len(b)), float64(p.set.LeastSamples)) {
				q = nil
				break
			}
			q.factor[i] = stat.Median(b)
		}
		out[line] = q
	}
	return out
}

// lend gives lines that the mark hides altogether the profile of another: they
// are printed alike.
func (p Print) lend(known map[Line]*profile) map[Line]*profile {
	for k := range p.fit.Spec.RingsMM {
		if known[Line(k)] != nil {
			continue
		}
		for j := range p.fit.Spec.RingsMM {
			if q := known[Line(j)]; q != nil {
				known[Line(k)] = q
			}
		}
	}
	if known[Cross] == nil && p.fit.Spec.CrossMM > 0 && len(p.fit.Spec.RingsMM) > 0 {
		known[Cross] = known[0]
	}
	return known
}
