package burn

import (
	"math"

	"burngauge.dev/burngauge/pkg/spot"
	"burngauge.dev/burngauge/pkg/stat"
)

// uncertainty is how well a mark's centre is known: standard uncertainties in mm
// per axis, each from one source.
type uncertainty struct {
	d      *darkness
	centre spot.Moments
}

// edgeChoice is that from what counts as the mark, the largest of three: how far
// the centres that other sensible choices give scatter (root mean square over the
// axes); how far the whole darkness, down to the tape's, draws the centre; and how
// far a pale scorched fringe draws it from that of the char, as one blown to one
// side does, whose faint end lies beyond what is seen.
func (u uncertainty) edgeChoice() float64 {
	d, set := u.d, u.d.set
	whole, char := d.above(0), d.darkerThan(set.HalfAbove)
	sum := 0.0
	others := []spot.Moments{d.above(set.SizeAbove), d.above(set.PaleAbove), char, d.darkerThan(set.DeepAbove)}
	for _, o := range others {
		sum += o.Distance(u.centre) * o.Distance(u.centre)
	}
	scatter := math.Sqrt(sum / 2 / float64(len(others))) // of two axes
	return max(set.ChoiceWeight*scatter, set.FadeWeight*whole.Distance(u.centre), set.FringeWeight*whole.Distance(char))
}

// noise is that from noise and texture: the tape's scatter over the soft edge,
// and the mark's own within it, which a pale scorch has from the tape below and
// char from its grain. The centre is Σ w x / Σ w; errors s of the weight that are
// alike over squares of side a move it by
//
//	u² = Σ (s a)² step² ((x - x̄)² + (y - ȳ)²) / 2 / (Σ w step²)²
//
// per axis (JCGM 100, 5.1.2, with one error for each square). A Gaussian
// correlation of length l makes them alike over a square of side √π l.
func (u uncertainty) noise() float64 {
	d := u.d
	edge := d.set.EdgeScatter * d.scatter * math.Max(d.Step, math.Sqrt(math.Pi)*d.set.GrainMM)
	own := u.ownScatter() * d.set.BlockMM
	sum := 0.0
	for k, in := range d.support.In {
		if !in {
			continue
		}
		alike := edge // s a: scatter times the side of a square that shares one error
		if d.core.In[k] {
			alike = own
		}
		x, y := d.Centre(k)
		sum += alike * alike * ((x-u.centre.X)*(x-u.centre.X) + (y-u.centre.Y)*(y-u.centre.Y))
	}
	return math.Sqrt(sum/2) * d.Step / u.centre.Area
}

// ownScatter is how much the darkness differs from one square of BlockMM to the
// next, well within the mark, where its soft edge does not reach: the median
// step between neighbours, as a standard deviation of one (a difference of two
// has √2 times it). 0 in a mark too small to know.
func (u uncertainty) ownScatter() float64 {
	d := u.d
	side := max(1, int(math.Round(d.set.BlockMM/d.Step)))
	across := d.N / side
	mean := u.blockMeans(side, across)
	var steps []float64
	for b, v := range mean {
		if right := b + 1; right%across != 0 && !math.IsNaN(v-mean[right]) {
			steps = append(steps, math.Abs(v-mean[right]))
		}
		if below := b + across; below < len(mean) && !math.IsNaN(v-mean[below]) {
			steps = append(steps, math.Abs(v-mean[below]))
		}
	}
	if d.log.Below("burn.EnoughPairs", float64(len(steps)), float64(d.set.EnoughPairs), "the mark is too small to show its own scatter") {
		return 0
	}
	return stat.NormalMAD * stat.Median(steps) / math.Sqrt2
}

// blockMeans is the mean darkness of across x across squares of side cells; NaN
// where one is not well within the mark.
func (u uncertainty) blockMeans(side, across int) []float64 {
	d := u.d
	depth := d.core.Complement().Distance()
	mean := make([]float64, across*across)
	for b := range mean {
		for c := range side * side {
			k := (b/across*side+c/side)*d.N + b%across*side + c%side
			if depth[k]*d.Step < d.set.WithinMM {
				mean[b] = math.NaN()
			}
			mean[b] += d.value[k] / float64(side*side)
		}
	}
	return mean
}

// unevenLight is that from uneven light about the mark.
func (u uncertainty) unevenLight(unevenness float64) float64 {
	return u.d.set.UnevenMM * max(0, unevenness-u.d.set.EvenEnough)
}

// unevenness is the contrast, (high - low) / (high + low), between the lightest
// and the darkest of the directions about the mark; 0 without light.
func (u uncertainty) unevenness() float64 {
	d := u.d
	sectors := make([][]float64, d.set.Directions)
	for k, r := range d.fromCore() {
		mm := r * d.Step
		if d.core.In[k] || mm < d.set.UnevenFromMM || mm > d.set.HaloMM || math.IsNaN(d.Light[k]) {
			continue
		}
		x, y := d.Centre(k)
		turn := (math.Atan2(y-u.centre.Y, x-u.centre.X) + math.Pi) / (2 * math.Pi) // 0..1
		sector := min(int(turn*float64(len(sectors))), len(sectors)-1)
		sectors[sector] = append(sectors[sector], d.Light[k])
	}
	low, high := math.Inf(1), 0.0
	for _, light := range sectors {
		if len(light) > 0 {
			v := stat.Median(light)
			low, high = min(low, v), max(high, v)
		}
	}
	if !(high > 0) || math.IsInf(low, 1) {
		return 0
	}
	return (high - low) / (high + low)
}

// hidden is that from a mark's edge that runs under dark lines. The edge may lie
// on either side of its line or anywhere between: the centre is taken to be
// uniform between those of the two extremes, a variance of distance²/12 (JCGM
// 100, 4.3.7). What is hidden on one side of the mark says nothing of the others,
// so the four quarters about the centre count one by one.
func (u uncertainty) hidden() float64 {
	const quarterOffset = 1 + 1.0/8 // turns: quarters lie about the axes, and no angle is negative
	var quarters [4][]hiddenCell
	for _, c := range u.d.hidden {
		x, y := u.d.Centre(c.k)
		turn := math.Atan2(y-u.centre.Y, x-u.centre.X)/(2*math.Pi) + quarterOffset
		quarters[int(4*turn)%4] = append(quarters[int(4*turn)%4], c)
	}
	squares := 0.0
	for _, part := range quarters {
		low := u.d.charWith(part, func(c hiddenCell) float64 { return c.low })
		high := u.d.charWith(part, func(c hiddenCell) float64 { return c.high })
		squares += low.Distance(high) * low.Distance(high) / 12
	}
	return math.Sqrt(squares / 2) // of two axes
}

// charWith is the mark's position if each of these cells had this darkness.
func (d *darkness) charWith(part []hiddenCell, value func(hiddenCell) float64) spot.Moments {
	as := make(map[int]float64, len(part))
	for _, c := range part {
		as[c.k] = value(c)
	}
	return d.weighted(func(k int) float64 {
		if !d.support.In[k] {
			return 0
		}
		v := d.value[k]
		if own, hidden := as[k]; hidden {
			v = own
		}
		return max(0, v-d.set.CharAbove)
	})
}
