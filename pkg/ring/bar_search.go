package ring

import (
	"math"

	"burngauge.dev/burngauge/pkg/decision"
	"burngauge.dev/burngauge/pkg/raster"
	"burngauge.dev/burngauge/pkg/stat"
)

// IndexEvidence is what a look all round for the index bar came to. The contrast of
// a direction is that of the bar's place, if it lay there, to the light around it, in
// the weakest of its bands but one.
type IndexEvidence struct {
	Angle    float64 // radians, counter-clockwise from the pose's up
	Contrast float64 // fraction
	Rival    float64 // best contrast elsewhere

	clear       bool
	least, lead float64 // limits of Contrast and of its lead over Rival
}

// Clear says whether a bar is there, and only one.
func (e IndexEvidence) Clear() bool { return e.clear }

// Missed records which limit a bar that is not clear missed, for whoever gives the
// photo up for it: then says as what.
func (e IndexEvidence) Missed(log *decision.Log, then string) {
	if !log.Below("ring.LeastIndex", e.Contrast, e.least, then) {
		log.Below("ring.LeastIndexLead", e.leadOverRival(), e.lead, then)
	}
}

// noRival is the lead that stands for all larger ones: nothing like a bar elsewhere.
const noRival = 1000

// leadOverRival is how many times the best direction's contrast is that of the best
// elsewhere; NaN when there is neither.
func (e IndexEvidence) leadOverRival() float64 { return min(noRival, e.Contrast/e.Rival) }

// In how many directions to look for the bar.
const (
	FineAngles   = 480 // a quarter of the narrowest bar seen so far from the centre
	CoarseAngles = 200 // on a reduced picture: half of it
)

// FindIndex looks all round for the bar, in so many directions.
func (e *Evidence) FindIndex(directions int) IndexEvidence {
	found := barSearch{e.face()}.find(directions)
	found.least, found.lead = e.set.LeastIndex, e.set.LeastIndexLead
	found.clear = e.Log.Above("ring.LeastIndex", found.Contrast, found.least, "a bar may be there") &&
		e.Log.Above("ring.LeastIndexLead", found.leadOverRival(), found.lead, "the index bar is clear")
	return found
}

// barSearch looks for the index bar without tracing its sides.
type barSearch struct{ face }

// find scores each direction and takes the best, and the best of those that do not
// overlap with it. A bar of the width w whose outer end lies r from the centre covers
// w/(2πr) of a turn there.
func (b barSearch) find(directions int) IndexEvidence {
	scores := make([]float64, directions)
	raster.InBands(directions, func(from, to int) {
		for i := from; i < to; i++ {
			scores[i] = b.contrast(2 * math.Pi * float64(i) / float64(directions))
		}
	})
	at := 0
	for i, s := range scores {
		if s > scores[at] {
			at = i
		}
	}
	_, outer := b.barEnds()
	apart := int(math.Ceil(float64(directions) * b.set.RivalApart * b.Spec.Index.WidthMM / (2 * math.Pi * outer)))
	rival := 0.0
	for i, s := range scores {
		if d := min((i-at+directions)%directions, (at-i+directions)%directions); d > apart && s > rival {
			rival = s
		}
	}
	return IndexEvidence{Angle: b.peak(scores, at), Contrast: scores[at], Rival: rival}
}

// peak is the middle, in radians, of the peak at half its height, which noise moves
// less than its highest point.
func (b barSearch) peak(scores []float64, at int) float64 {
	n := len(scores)
	half, widest := scores[at]/2, n/b.set.PeakPart
	left, right := 0, 0
	for left > -widest && scores[(at+left-1+n)%n] > half {
		left--
	}
	for right < widest && scores[(at+right+1)%n] > half {
		right++
	}
	return 2 * math.Pi * (float64(at) + float64(left+right)/2) / float64(n)
}

// direction is the bar's frame when it lies in one direction: x across it, y outward
// from the rings' centre, mm.
type direction struct {
	face
	sin, cos float64
}

// mean is the light over a window of the frame, from a few places evenly spread: the
// middles of its ninths. Turned by the direction φ, counter-clockwise from up, the
// place (x, y) of the frame is (x cos φ - y sin φ, x sin φ + y cos φ) on the target.
func (d direction) mean(x0, x1, y0, y1 float64) float64 {
	const nx, ny = 3, 3
	sum := 0.0
	for i := range nx {
		x := x0 + (x1-x0)*(float64(i)+0.5)/nx
		for j := range ny {
			y := y0 + (y1-y0)*(float64(j)+0.5)/ny
			sum += d.light(x*d.cos-y*d.sin, x*d.sin+y*d.cos)
		}
	}
	return sum / (nx * ny)
}

// contrast compares the bar's place, if its direction were angle, with what
// lies left and right of it in each of a few bands, and beyond its inner end. Tape
// may cross the bar within a band: of all the lower quartile counts, but no more than
// the median.
func (b barSearch) contrast(angle float64) float64 {
	from, to := b.barEnds()
	sin, cos := math.Sincos(angle)
	d := direction{b.face, sin, cos}
	contrasts := make([]float64, 0, b.set.BarBands+1)
	length := to - from
	inner := 1 - 2*b.set.BarMargin // of the length, without its ends
	bands := float64(b.set.BarBands)
	for i := range b.set.BarBands {
		y0 := from + length*(b.set.BarMargin+inner*float64(i)/bands)
		contrasts = append(contrasts, d.bandContrast(y0, y0+length*inner/bands))
	}
	if c, ok := d.endContrast(from, length); ok {
		contrasts = append(contrasts, c)
	}
	return min(stat.Quantile(contrasts, b.set.WeakQuantile), stat.Median(contrasts))
}

// Windows lie clear of the bar's sides by what blur may spread them:
//
//	       gap      bands
//	outer  :   ┌────┬────┬────┐   left side
//	ring ) :   │ ···│····│··· │   three strips
//	       :   └────┴────┴────┘   right side
//	       inner end      outer end

// bandContrast is that of a band of the bar to its two sides: of the weakest of three
// strips, since a pen stroke is narrower than the bar.
func (d direction) bandContrast(y0, y1 float64) float64 {
	set, width := d.set, d.Spec.Index.WidthMM
	left := d.mean(-set.BesideTo*width, -set.BesideFrom*width, y0, y1)
	right := d.mean(set.BesideFrom*width, set.BesideTo*width, y0, y1)
	weakest := math.Inf(1)
	for _, x := range []float64{-set.StripApart, 0, set.StripApart} {
		strip := d.mean((x-set.StripHalf)*width, (x+set.StripHalf)*width, y0, y1)
		weakest = min(weakest, d.relative(strip, left, right))
	}
	return weakest
}

// endContrast is that of the bar to the gap between it and the outer ring: beyond
// its ends the bar must stop, where a pen stroke or a tape's edge goes on. There is
// none where a soft line may reach into the gap.
func (d direction) endContrast(from, length float64) (float64, bool) {
	set, half := d.set, d.set.CoreHalf*d.Spec.Index.WidthMM
	bar := d.mean(-half, half, from+set.CoreFrom*length, from+set.CoreTo*length)
	gap := d.mean(-half, half, from-set.GapFrom*length, from-set.GapTo*length)
	if d.Spec.LineMM/2 < d.Spec.Index.FromMM-set.GapFrom*length {
		return d.relative(bar, gap, gap), true
	}
	return 0, false
}

// relative is the bar's contrast to the nearer of its two sides, positive in
// the sense of the rings' lines, as a fraction of the light beside it; 0 when the bar
// lies between its sides, or off the photo. That it must differ from both in the same
// sense keeps a step, a shadow's or a tape's edge, from being a bar.
func (f face) relative(bar, left, right float64) float64 {
	if math.IsNaN(bar + left + right) {
		return 0
	}
	a, b := f.sign*(bar-left), f.sign*(bar-right)
	if a <= 0 || b <= 0 {
		return 0
	}
	return min(a, b) / (max(left, right, bar) + f.set.LeastLight)
}
