package ring

import (
	"math"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/raster"
	"burngauge.dev/burngauge/pkg/stat"
)

// barSide is how far, in mm, a place on the target lies outside one side of
// the index bar (0 left, 1 right, 2 inner end, 3 outer end), the bar moved,
// turned and sized as the fit's departures say.
func (f *Fit) barSide(side int, x, y float64) float64 {
	bar := f.off[len(f.Spec.RingsMM)+1:] // right, up, turn, width, length
	from, to := f.barEnds()
	middle := (from + to) / 2
	x -= bar[0]
	y -= bar[1] + middle
	x, y = x+bar[2]*y, y-bar[2]*x // a small turn about the bar's middle
	switch side {
	case 0:
		return -x - f.Spec.Index.WidthMM/2 - bar[3]
	case 1:
		return x - f.Spec.Index.WidthMM/2 - bar[3]
	case 2:
		return -y - (to-from)/2 - bar[4]
	default:
		return y - (to-from)/2 - bar[4]
	}
}

// barEnds are the distances from the centre to the bar's inner and outer end.
func (f *Fit) barEnds() (from, to float64) {
	outer := f.Spec.OuterRadius()
	return outer + f.Spec.Index.FromMM, outer + f.Spec.Index.ToMM
}

// The index bar's evidence is its contrast, relative to the light around it,
// in the weakest of its bands, and by how much it stands out from every other
// direction.
type IndexEvidence struct {
	Angle    float64 // radians, counter-clockwise from the pose's up
	Contrast float64 // fraction
	Rival    float64 // best contrast elsewhere
}

// Clear says whether a bar is there, and only one.
func (e IndexEvidence) Clear() bool {
	return e.Contrast > leastIndex && e.Contrast > leastIndexLead*e.Rival
}

const (
	barBands       = 5
	FineAngles     = 480 // a quarter of the narrowest bar seen so far from the centre
	CoarseAngles   = 200
	leastIndex     = 0.05 // contrast; lines under tape are specified from 15 %
	leastIndexLead = 1.35 // over the best elsewhere
)

// FindIndex looks all round for the bar, in so many directions.
func (f *Fit) FindIndex(indexAngles int) IndexEvidence {
	scores := make([]float64, indexAngles)
	raster.InBands(indexAngles, func(from, to int) {
		for i := from; i < to; i++ {
			scores[i] = f.barContrast(2 * math.Pi * float64(i) / float64(indexAngles))
		}
	})
	at := 0
	for i, s := range scores {
		if s > scores[at] {
			at = i
		}
	}
	_, outer := f.barEnds()
	apart := int(math.Ceil(float64(indexAngles) * 1.2 * f.Spec.Index.WidthMM / (2 * math.Pi * outer)))
	rival := 0.0
	for i, s := range scores {
		if d := min((i-at+indexAngles)%indexAngles, (at-i+indexAngles)%indexAngles); d > apart && s > rival {
			rival = s
		}
	}
	return IndexEvidence{Angle: f.centredAngle(scores, at), Contrast: scores[at], Rival: rival}
}

// centredAngle is the middle of the peak at half its height.
func (f *Fit) centredAngle(scores []float64, at int) float64 {
	indexAngles := len(scores)
	half := scores[at] / 2
	left, right := 0, 0
	for left > -indexAngles/8 && scores[(at+left-1+indexAngles)%indexAngles] > half {
		left--
	}
	for right < indexAngles/8 && scores[(at+right+1)%indexAngles] > half {
		right++
	}
	return 2 * math.Pi * (float64(at) + float64(left+right)/2) / float64(indexAngles)
}

// barContrast compares the bar's place, if its direction were angle, with what
// lies left and right of it in each of a few bands, and beyond its ends.
func (f *Fit) barContrast(angle float64) float64 {
	from, to := f.barEnds()
	width := f.Spec.Index.WidthMM
	sin, cos := math.Sincos(angle)
	mean := func(x0, x1, y0, y1 float64) float64 {
		const nx, ny = 3, 3
		sum := 0.0
		for i := range nx {
			x := x0 + (x1-x0)*(float64(i)+0.5)/nx
			for j := range ny {
				y := y0 + (y1-y0)*(float64(j)+0.5)/ny
				sum += f.raster.Sample(f.raster.Light, f.Camera.Project(f.Pose, x*cos-y*sin, x*sin+y*cos))
			}
		}
		return sum / (nx * ny)
	}
	contrasts := make([]float64, 0, barBands+1)
	length := to - from
	for b := range barBands {
		y0 := from + length*(0.06+0.88*float64(b)/barBands)
		y1 := y0 + length*0.88/barBands
		left, right := mean(-1.1*width, -0.66*width, y0, y1), mean(0.66*width, 1.1*width, y0, y1)
		weakest := math.Inf(1)
		for _, x := range []float64{-0.27, 0, 0.27} { // a pen stroke is narrower than the bar
			weakest = min(weakest, f.relative(mean((x-0.12)*width, (x+0.12)*width, y0, y1), left, right))
		}
		contrasts = append(contrasts, weakest)
	}
	// Beyond the ends the bar must stop: a pen stroke or a tape edge goes on.
	bar := mean(-0.3*width, 0.3*width, from+0.1*length, from+0.4*length)
	gap := mean(-0.3*width, 0.3*width, from-0.24*length, from-0.08*length)
	if f.Spec.LineMM/2 < f.Spec.Index.FromMM-0.24*length { // a soft line may reach into the gap
		contrasts = append(contrasts, f.relative(bar, gap, gap))
	}
	// The weakest band but one: tape may cross the bar within a band.
	return min(stat.Quantile(contrasts, 0.25), stat.Median(contrasts))
}

// relative is the bar's contrast to the nearer of its two sides, positive in
// the sense of the rings' lines, as a fraction of the light beside it.
func (f *Fit) relative(bar, left, right float64) float64 {
	if math.IsNaN(bar + left + right) {
		return 0
	}
	a, b := f.Sign*(bar-left), f.Sign*(bar-right)
	if a <= 0 || b <= 0 {
		return 0
	}
	return min(a, b) / (max(left, right, bar) + 1e-3)
}

// traceIndex finds the bar's four sides within reach mm of where the pose has
// them.
func (f *Fit) traceIndex(reach float64) []trace {
	from, to := f.barEnds()
	width, length := f.Spec.Index.WidthMM, to-from
	var out []trace
	for side, walk := range []struct {
		span float64 // half length along the side, its ends left out
		at   func(along, across float64) (x, y float64)
	}{
		{0.40 * length, func(l, d float64) (float64, float64) { return -width/2 - d, from + length/2 + l }},
		{0.40 * length, func(l, d float64) (float64, float64) { return width/2 + d, from + length/2 + l }},
		{0.36 * width, func(l, d float64) (float64, float64) { return l, from - d }},
		{0.36 * width, func(l, d float64) (float64, float64) { return l, to + d }},
	} {
		n := min(max(int(2*walk.span*f.PxPerMM()/float64(f.raster.Factor)), 6), 120)
		along := func(i int) float64 { return walk.span * (2*float64(i)/float64(n-1) - 1) }
		walks := f.cross(curve{
			at: func(i int, s float64) conic.Point {
				x, y := walk.at(along(i), s)
				return f.Camera.Project(f.Pose, x, y)
			},
			n: n, reach: reach + 0.2, smooth: 3,
		})
		var found []trace
		for i := range walks {
			p := &walks[i]
			if place, height := p.strongest(-f.Sign, reach); height > 0 { // outward, a dark bar ends in light
				found = append(found, trace{px: p.at(place), kind: indexFeature, which: side, angle: along(i), pxPerMM: p.pxPerMM, slope: height})
			}
		}
		out = append(out, strongOnes(found)...)
	}
	return out
}
