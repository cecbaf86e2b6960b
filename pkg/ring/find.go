// Package ring finds the ring target in a photo and fits its plane.
//
// Edges of a small copy give ellipses; each ellipse, seen as a circle in one of
// the two ways it can be, gives frames in which the spec's rings are looked
// for at every scale; the best frames are traced at full size and fitted.
package ring

import (
	"sync"

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
func (l look) rank() float64 { return l.score() + 0.1*min(l.first, 1.5) }

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

// plainly is the score at which no other frame needs a look: what clutter
// reaches with two of four rings and a chance bar stays below it in simulated
// photos (1.05 to 1.25).
const plainly = 1.25

// Find fits the target's plane, or returns a *Refusal.
func Find(ph *photo.Photo, spec target.Spec, opt Options) (*Fit, error) {
	if min(ph.Image.Width, ph.Image.Height) < leastShortSide {
		return nil, &Refusal{NoTarget, textTiny}
	}
	s := newSearch(ph, spec)
	best := s.best(opt)
	if r := s.refuse(best, opt); r != nil {
		return nil, s.clearer(r, best)
	}
	f, r := s.oriented(best, opt)
	if r != nil {
		return nil, s.clearer(r, best)
	}
	f = f.plainer().unheld()
	if !f.Indexed {
		f.levelRoll() // nothing in those fits held it
	}
	if err := f.covariance(); err != nil {
		return nil, &Refusal{RingsUnclear, textUnclear}
	}
	if r := s.doubt(f); r != nil {
		return nil, r
	}
	return f, nil
}

// oriented turns the best look to its index bar, or to the photo's top when no
// bar is seen. A finger or a shadow may be as dark as a bar: its sides must lie
// where the spec has them.
func (s *search) oriented(best look, opt Options) (*Fit, *Refusal) {
	if best.index.clear() {
		f := best.fit.withIndex(best.index)
		switch {
		case f.Indexed && (f.Circles() == 1 || f.barBelongs()): // one circle is judged when all is fitted
			return f, nil
		case f.Indexed && !opt.RollPhoto:
			return nil, &Refusal{IndexHidden, textIndex}
		case !opt.RollPhoto:
			return nil, s.otherOr(textBar)
		}
	}
	best.fit.levelRoll()
	return best.fit, nil
}

// leastShortSide in px: a smaller picture has no room for a target.
const leastShortSide = 48

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
	s.candidates = bestSupported(atAllScales(im, small.Factor, func(picture photo.Image) []candidate { return ellipses(findEdges(picture)) }))
	s.frames = frames(small, spec, s.priors, s.candidates)
	return s
}

// atAllScales looks for ellipses in a small picture and its halvings and gives
// them in the photo's pixels, each once.
func atAllScales(im photo.Image, factor int, find func(photo.Image) []candidate) []candidate {
	pictures := pyramid(im)
	found := make([][]candidate, len(pictures))
	var wait sync.WaitGroup
	for i, picture := range pictures {
		wait.Go(func() { found[i] = find(picture) })
	}
	wait.Wait()
	var out []candidate
	for i, list := range found {
		for _, c := range list {
			c.Ellipse = full(c.Ellipse, factor<<i)
			if !known(out, c) {
				out = append(out, c)
			}
		}
	}
	return out
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

// best refines the frames and keeps the one for which most speaks. The first
// few are the target's as a rule; where a bed full of holes or coins comes
// before it, the others get a look too.
func (s *search) best(opt Options) look {
	var best look
	for i, fr := range s.frames {
		if i >= mostFrames && best.fit != nil && s.accepted(best, opt) {
			break
		}
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
