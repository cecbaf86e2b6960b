// Package ring finds the ring target in a photo and fits its plane.
//
// Edges of a small copy give ellipses; each ellipse, seen as a circle in one of
// the two ways it can be, gives frames in which the spec's rings are looked
// for at every scale; the best frames are traced at full size and fitted.
package ring

import (
	"math"
	"sync"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/photo"
	"burngauge.dev/burngauge/pkg/target"
)

// Options for Find. The zero value wants the index mark.
type Options struct {
	RollPhoto bool // take the photo's top for the target's top when no index mark is seen
}

// look is what one frame came to at full size.
type look struct {
	fit   *Fit
	lines float64 // mean over the spec's rings of the fraction seen
	rim   float64 // fraction of the rim seen
	index indexEvidence
	first float64 // the frame's own score on the small picture
}

// rank orders looks: what is seen at full size, and, less, at a glance.
func (l look) rank() float64 { return l.score() + 0.25*min(l.first, 1.5) }

// score is how much speaks for the target being there: all lines seen, or the
// rim instead of them, count 1 and a clear index bar 0.5. Circles that are no
// target rarely have both.
func (l look) score() float64 {
	s := l.lines
	if l.fit.Spec.RimMM > 0 {
		s = max(s, 0.5*s+0.5*l.rim)
	}
	if l.index.clear() {
		s += 0.5 * min(1, l.index.contrast/0.12)
	}
	return s
}

const (
	plainly = 1.25 // score at which no other frame needs a look
	// A frame with less is no target. Between this and what clutter reaches
	// with two of four rings and a chance bar lies a clear gap in simulated
	// photos (1.05 to 1.25).
	leastScore = 0.55
)

// Find fits the target's plane, or returns a *Refusal.
func Find(ph *photo.Photo, spec target.Spec, opt Options) (*Fit, error) {
	s := newSearch(ph, spec)
	best := s.best()
	if r := s.refuse(best, opt); r != nil {
		return nil, r
	}
	f := best.fit
	if best.index.clear() {
		f = f.withIndex(best.index)
	} else {
		f.Pose = f.Pose.Turned(-f.Roll())
	}
	if err := f.covariance(); err != nil {
		return nil, &Refusal{RingsUnclear, err.Error()}
	}
	if r := s.doubt(f); r != nil {
		return nil, r
	}
	return f, nil
}

// search is one photo being searched.
type search struct {
	photo      *photo.Photo
	spec       target.Spec
	priors     Priors
	small      *Raster
	candidates []candidate // in the photo's pixels
	frames     []frame
}

func newSearch(ph *photo.Photo, spec target.Spec) *search {
	im, small := smallPicture(ph)
	s := &search{photo: ph, spec: spec, priors: newPriors(ph), small: small}
	pictures := pyramid(im)
	found := make([][]candidate, len(pictures))
	var wait sync.WaitGroup
	for i, picture := range pictures {
		wait.Go(func() { found[i] = ellipses(findEdges(picture)) })
	}
	wait.Wait()
	for i, list := range found {
		for _, c := range list {
			c.Ellipse = full(c.Ellipse, small.Factor<<i)
			if !known(s.candidates, c) {
				s.candidates = append(s.candidates, c)
			}
		}
	}
	s.candidates = bestSupported(s.candidates)
	s.frames = frames(small, spec, s.priors, s.candidates)
	return s
}

// pyramid is the picture and up to two halvings of it: soft and faint lines
// show at a coarser scale, where noise is averaged out.
func pyramid(im photo.Image) []photo.Image {
	out := []photo.Image{im}
	for len(out) < 3 && min(im.Width, im.Height) >= 2*smallestPicture {
		im = reduced(im, 2)
		out = append(out, im)
	}
	return out
}

// smallestPicture is the short side in px below which edges are not worth
// looking for.
const smallestPicture = 150

// best refines the frames and keeps the one for which most speaks.
func (s *search) best() look {
	var best look
	for _, fr := range s.frames {
		l, ok := s.lookAt(fr)
		if ok && (best.fit == nil || l.rank() > best.rank()+0.03) {
			best = l
		}
		if best.fit != nil && best.score() >= plainly {
			break
		}
	}
	return best
}

// lookAt traces one frame at full size.
func (s *search) lookAt(fr frame) (look, bool) {
	f := startFit(s.spec, s.priors, fr)
	f.cut(s.photo)
	if err := f.refine(); err != nil {
		return look{}, false
	}
	l := look{fit: f, first: fr.score, rim: f.seen(group{rimFeature, 0}), index: f.findIndex(fineAngles)}
	for k := range s.spec.RingsMM {
		l.lines += f.arc(k) / float64(len(s.spec.RingsMM))
	}
	return l, true
}

// startFit is a fit before anything is traced.
func startFit(spec target.Spec, priors Priors, fr frame) *Fit {
	return &Fit{
		Spec: spec, Camera: priors.Camera, Pose: fr.pose, Sign: fr.sign, priors: priors,
		off:    make([]float64, len(spec.RingsMM)+1+barParameters),
		looked: map[group]int{}, noise: map[int]float64{},
	}
}

// extent is the radius in mm of everything on the target that is looked at.
func (f *Fit) extent() float64 {
	return max(f.Spec.OuterRadius()+f.Spec.Index.ToMM, f.Spec.RimMM/2)
}

// cut takes the part of the photo that the target is on, reduced so that a
// line stays at least 6 px wide.
func (f *Fit) cut(ph *photo.Photo) {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for a := range 16 {
		s, c := math.Sincos(2 * math.Pi * float64(a) / 16)
		r := 1.1 * (f.extent() + 1)
		p := f.Pixel(r*c, r*s)
		if math.IsNaN(p.X) {
			continue
		}
		x0, y0, x1, y1 = min(x0, p.X), min(y0, p.Y), max(x1, p.X), max(y1, p.Y)
	}
	clamp := func(v float64, hi int) int { return int(max(0, min(v, float64(hi)))) }
	factor := min(max(int(f.Spec.LineMM*f.PxPerMM()/6), 1), 4)
	w, h := ph.Image.Width, ph.Image.Height
	f.raster = newRaster(ph.Image, clamp(x0, w), clamp(y0, h), clamp(x1+1, w), clamp(y1+1, h), factor)
}

// gap is the smallest distance in mm between neighbouring rings, or from the
// centre to the first.
func (f *Fit) gap() float64 {
	gap, last := math.Inf(1), 0.0
	for _, d := range f.Spec.RingsMM {
		gap, last = min(gap, (d-last)/2), d
	}
	return gap
}

// refine traces and fits in turn, looking less far each time, and keeps what
// is really seen.
func (f *Fit) refine() error {
	reach := min(0.42*f.gap(), 0.11*f.Spec.OuterRadius())
	for pass := range 3 {
		f.reach = reach
		f.sparse = pass < 2 // the first looks need only find the way
		f.traceAll(reach)
		if len(f.traces) < leastTraces/2 {
			return errFit
		}
		if err := f.solve(3); err != nil {
			return err
		}
		if !f.sane() {
			return errFit
		}
		reach = max(reach*0.6, 0.1*f.gap(), 3*float64(f.raster.Factor)/f.PxPerMM())
	}
	f.dropUnseen()
	if len(f.traces) < leastTraces {
		return errFit
	}
	if err := f.solve(2); err != nil || !f.sane() {
		return errFit
	}
	return nil
}

// leastTraces: a plane has 8 unknowns; fewer edge points than this leave no
// residuals to judge it by.
const leastTraces = 20

func (f *Fit) traceAll(reach float64) {
	f.traces = nil
	for k := range f.Spec.RingsMM {
		f.traces = append(f.traces, f.traceRing(k, reach)...)
	}
	if f.Spec.RimMM > 0 {
		f.traces = append(f.traces, f.traceRim(1.5*reach)...)
	}
}

// dropUnseen forgets the rings and the rim where what was found is no more
// than chance.
func (f *Fit) dropUnseen() {
	var kept []trace
	for _, t := range f.traces {
		if f.seen(group{t.kind, t.which}) >= leastSeen {
			kept = append(kept, t)
		}
	}
	f.traces = kept
	f.weights = nil
}

// leastSeen is the fraction of a ring that must be seen beyond chance.
const leastSeen = 0.15

// sane tells whether the fit is still a picture of the target: its centre on
// the photo, its plane in front of the camera and not edge-on.
func (f *Fit) sane() bool {
	c := f.Pixel(0, 0)
	size := f.PxPerMM() * f.Spec.OuterRadius()
	return f.raster.Contains(c) && f.Pose.Tilt() < 80*math.Pi/180 && size > 5 && size < 1e5
}

// arc is the fraction of ring k on which its line is seen where the fit has it.
func (f *Fit) arc(k int) float64 { return f.seen(group{lineFeature, k}) }

// seen is the fraction of a curve whose edge lies where the fit has it, less
// what would lie there by chance.
func (f *Fit) seen(g group) float64 {
	tolerance := max(1.2*float64(f.raster.Factor), 0.15*f.Spec.LineMM*f.PxPerMM())
	n := 0
	for _, t := range f.traces {
		if t.kind == g.kind && t.which == g.which && math.Abs(f.residual(t)) < tolerance {
			n++
		}
	}
	chance := min(0.8, tolerance/(f.reach*f.PxPerMM()))
	share := float64(n) / float64(max(f.looked[g], 1))
	return max(0, (share-chance)/(1-chance))
}

// Circles is how many concentric circles the fit rests on.
func (f *Fit) Circles() int {
	seen := map[group]bool{}
	for _, t := range f.traces {
		if t.kind != indexFeature {
			seen[group{t.kind, t.which}] = true
		}
	}
	return len(seen)
}

// RimOnly tells whether the rim is the only circle the fit rests on.
func (f *Fit) RimOnly() bool { return f.Circles() == 1 && f.ringsSeen() == 0 }

// withIndex turns the fit to the index bar and takes its sides into the fit.
// One circle alone leaves two tilts possible; each is tried, and the one in
// which the bar fits is kept.
func (f *Fit) withIndex(index indexEvidence) *Fit {
	turned := f.clone()
	turned.Pose = f.Pose.Turned(index.angle)
	starts := []*Fit{turned}
	if f.Circles() == 1 {
		starts = append(starts, f.twins()...)
	}
	var best *Fit
	bestCost := math.Inf(1)
	for _, start := range starts {
		g, cost := start.fitIndex()
		if g != nil && cost < bestCost {
			best, bestCost = g, cost
		}
	}
	if best == nil {
		return turned
	}
	best.Indexed = true
	return best
}

// twins are the two poses in which the one circle seen could lie, turned to
// the index bar.
func (f *Fit) twins() []*Fit {
	const n = 60
	points := make([]conic.Point, n)
	ideal := f.Camera
	ideal.K1 = 0
	for i := range points {
		s, c := math.Sincos(2 * math.Pi * float64(i) / n)
		points[i] = ideal.Project(f.Pose, c*f.Spec.OuterRadius(), s*f.Spec.OuterRadius())
	}
	el, err := conic.FitDirect(points)
	if err != nil {
		return nil
	}
	var out []*Fit
	for _, pose := range unitPoses(el, ideal) {
		g := f.clone()
		g.Pose = pose.Scaled(f.Spec.OuterRadius())
		g.Camera = f.priors.Camera
		index := g.findIndex(fineAngles)
		g.Pose = g.Pose.Turned(index.angle)
		out = append(out, g)
	}
	return out
}

// fitIndex traces the bar's sides and fits everything together; the cost is
// what rings, bar and prior knowledge leave unexplained.
func (f *Fit) fitIndex() (*Fit, float64) {
	g := f.clone()
	circles := f.traces
	width := f.Spec.Index.WidthMM
	reaches := []float64{0.3, 0.2}
	if f.Circles() == 1 { // the bar may still lie well off: it is what fixes the perspective
		reaches = []float64{0.55, 0.5, 0.4, 0.3, 0.2, 0.2}
	}
	for _, share := range reaches {
		reach := share * width
		g.traces = append(append([]trace(nil), circles...), g.traceIndex(reach)...)
		g.weights = nil
		if err := g.solve(2); err != nil || !g.sane() {
			return nil, math.Inf(1)
		}
	}
	return g, g.misfit(f.spread)
}

// misfit compares starts: the mean over curves and bar sides of the robust
// squared residual, circles in units of the scatter they had before the bar
// was looked at, sides in raster px, plus what prior knowledge is strained by.
func (f *Fit) misfit(scatter map[group]float64) float64 {
	sum, n := map[group]float64{}, map[group]float64{}
	for _, t := range f.traces {
		g := group{t.kind, t.which}
		unit, known := scatter[g]
		if !known {
			unit = 0.5 * float64(f.raster.Factor)
		}
		r := f.residual(t) / unit
		sum[g] += min(r*r, 9)
		n[g]++
	}
	total := 0.0
	for g := range sum {
		total += sum[g] / n[g] / float64(len(sum))
	}
	return total + 0.05*square(f.prior())
}
