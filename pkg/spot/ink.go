package spot

import (
	"math"
	"slices"

	"burngauge.dev/burngauge/pkg/ring"
	"burngauge.dev/burngauge/pkg/stat"
)

// printed are the places on the target where a cell's light is not only that
// of tape and mark: ring lines, cross and index bar.
type printed struct {
	fit    *ring.Fit
	dx, dy float64 // where the printed plane's origin appears on the tape's surface
	blur   float64 // mm
	soft   float64 // how much wider than its nominal width a line is seen
}

func newPrinted(f *ring.Fit) printed {
	origin := f.Pixel(0, 0)
	dx, dy := f.At(origin, f.Spec.TapeMM)
	return printed{fit: f, dx: dx, dy: dy, soft: f.Softness(), blur: 1.2 * float64(f.Raster().Factor) / f.PxPerMM()}
}

// ringNear is the ring whose line, with blur, covers the distance r from the
// centre, and how far the line reaches to either side; -1 when none does.
func (p printed) ringNear(r float64) (k int, half float64) {
	half = p.fit.Spec.LineMM*p.soft/2 + p.blur
	for k, d := range p.fit.Spec.RingsMM {
		if math.Abs(r-d/2) < half {
			return k, half
		}
	}
	return -1, half
}

// onBar tells whether a place lies on the index bar, with a margin.
func (p printed) onBar(x, y float64) bool {
	s := p.fit.Spec
	margin := p.blur + 0.1
	from, to := s.OuterRadius()+s.Index.FromMM, s.OuterRadius()+s.Index.ToMM
	return math.Abs(x) < s.Index.WidthMM/2+margin && y > from-margin && y < to+margin
}

// onCross tells whether a place lies on an arm of the cross: 1 the arm along
// right, 2 the arm along up, 3 where they meet, 0 neither.
func (p printed) onCross(x, y float64) int {
	s := p.fit.Spec
	if s.CrossMM == 0 {
		return 0
	}
	half, length := s.LineMM/2+p.blur, s.CrossMM+p.blur
	arm := 0
	if math.Abs(y) < half && math.Abs(x) < length {
		arm |= 1
	}
	if math.Abs(x) < half && math.Abs(y) < length {
		arm |= 2
	}
	return arm
}

// dimmed is the light of tape with the printed lines on it, as it would be
// without the mark: lines dim (or brighten) the tape by a factor that is learnt
// along each line where the mark does not lie. A mark that touches a line is
// then not pulled along it. Where nothing could be learnt of a line, as with a
// shadow's edge through the target, its cells are in unlearnt: their light tells
// nothing of the mark.
func (p printed) dimmed(d *flat, tape []float64, unknown mask) (out []float64, unlearnt mask) {
	out, unlearnt = slices.Clone(tape), newMask(d.n)
	profiles := p.learn(d, tape, unknown)
	inRows(d.n, func(j int) {
		for i := range d.n {
			x, y := d.place(i, j)
			if line, offset, ok := p.lineAt(x-p.dx, y-p.dy); ok {
				out[j*d.n+i] *= profiles[line].at(offset)
				unlearnt.in[j*d.n+i] = profiles[line] == nil
			}
		}
	})
	return out, unlearnt
}

// lineID names a printed line: a ring by its number, the arms of the cross.
type lineID int

const crossLine lineID = -1

// lineAt is the line a place on the printed plane lies on and the distance
// from the line's middle, mm.
func (p printed) lineAt(x, y float64) (lineID, float64, bool) {
	r := math.Hypot(x, y)
	if k, _ := p.ringNear(r); k >= 0 {
		return lineID(k), r - p.fit.Spec.RingsMM[k]/2, true
	}
	switch p.onCross(x, y) {
	case 1:
		return crossLine, y, math.Abs(x) < p.fit.Spec.CrossMM
	case 2:
		return crossLine, x, math.Abs(y) < p.fit.Spec.CrossMM
	case 3:
		return crossLine, math.Copysign(min(math.Abs(x), math.Abs(y)), x), true
	}
	return 0, 0, false
}

// profile is how much a line dims the tape, by distance from its middle.
type profile struct {
	half   float64
	factor []float64 // over [-half, half]
}

const profileBins = 25

func (q *profile) at(offset float64) float64 {
	if q == nil || math.Abs(offset) > q.half {
		return 1
	}
	t := (offset/q.half + 1) / 2 * (profileBins - 1)
	i := min(int(t), profileBins-2)
	return q.factor[i] + (t-float64(i))*(q.factor[i+1]-q.factor[i])
}

// learn measures each line's profile on the flat, outside the mark and on the
// surface that the mark lies on (a line is paler under tape).
func (p printed) learn(d *flat, tape []float64, unknown mask) map[lineID]*profile {
	var under []float64
	for k, in := range unknown.in {
		if in && !math.IsNaN(tape[k]) {
			under = append(under, tape[k])
		}
	}
	usual := stat.Median(under)
	samples := map[lineID][][]float64{}
	for k := range tape {
		if unknown.in[k] || !(math.Abs(tape[k]-usual) < 0.2*usual) {
			continue
		}
		x, y := d.place(k%d.n, k/d.n)
		line, offset, ok := p.lineAt(x-p.dx, y-p.dy)
		if !ok || math.IsNaN(d.light[k]) {
			continue
		}
		if samples[line] == nil {
			samples[line] = make([][]float64, profileBins)
		}
		bin := int(math.Round((offset/p.half(line) + 1) / 2 * (profileBins - 1)))
		samples[line][bin] = append(samples[line][bin], d.light[k]/tape[k])
	}
	out := map[lineID]*profile{}
	for line, bins := range samples {
		out[line] = newProfile(bins, p.half(line))
	}
	return p.lend(out)
}

// lend gives lines that the mark hides altogether the profile of another: they
// are printed alike.
func (p printed) lend(known map[lineID]*profile) map[lineID]*profile {
	for k := range p.fit.Spec.RingsMM {
		if known[lineID(k)] != nil {
			continue
		}
		for j := range p.fit.Spec.RingsMM {
			if q := known[lineID(j)]; q != nil {
				known[lineID(k)] = q
			}
		}
	}
	if known[crossLine] == nil && p.fit.Spec.CrossMM > 0 && len(p.fit.Spec.RingsMM) > 0 {
		known[crossLine] = known[0]
	}
	return known
}

// half is how far from its middle a line is looked at.
func (p printed) half(line lineID) float64 {
	if line == crossLine {
		return p.fit.Spec.LineMM/2 + p.blur
	}
	_, half := p.ringNear(-1)
	return half
}

// leastSamples of a profile's bin.
const leastSamples = 5

// newProfile takes the median of each bin; nil when bins are missing, since a
// guessed line is worse than none.
func newProfile(bins [][]float64, half float64) *profile {
	q := &profile{half: half, factor: make([]float64, profileBins)}
	for i, b := range bins {
		if len(b) < leastSamples {
			return nil
		}
		q.factor[i] = stat.Median(b)
	}
	return q
}
