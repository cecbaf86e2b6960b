package locate

import (
	"burngauge.dev/burngauge/pkg/ring"
)

// Look is what one frame came to at full size.
type Look struct {
	Fit   *ring.Fit
	Lines float64 // mean over the spec's rings of the fraction seen
	Rim   float64 // fraction of the rim seen
	Index ring.IndexEvidence
	First float64 // the frame's own score on the small picture
}

// rank orders looks: what is seen at full size, and, less, at a glance.
func (l Look) rank() float64 { return l.Score() + 0.1*min(l.First, 1.5) }

// Score is how much speaks for the target being there: all lines seen, or the
// rim instead of them, count 1 and a clear index bar 0.5. Circles that are no
// target rarely have both.
func (l Look) Score() float64 {
	s := l.Lines
	if l.Fit.Spec.RimMM > 0 {
		s = max(s, 0.5*s+0.5*l.Rim)
	}
	if l.Index.Clear() {
		s += 0.5 * min(1, l.Index.Contrast/0.12)
	}
	return s
}

// plainly is the score at which no other frame needs a look: what clutter
// reaches with two of four rings and a chance bar stays below it in simulated
// photos (1.05 to 1.25).
const plainly = 1.25

// best refines the frames and keeps the one for which most speaks. The first
// few are the target's as a rule; where a bed full of holes or coins comes
// before it, the others get a look too.
func (s *Sighting) best(opt Options) Look {
	var best Look
	for i, fr := range s.frames {
		if i >= mostFrames && best.Fit != nil && s.Accepts(best, opt) {
			break
		}
		l, ok := s.lookAt(fr)
		if ok && (best.Fit == nil || l.rank() > best.rank()+0.03) {
			best = l
		}
		if best.Fit != nil && best.Score() >= plainly {
			break
		}
	}
	return best
}

// lookAt traces one frame at full size.
func (s *Sighting) lookAt(fr frame) (Look, bool) {
	f := ring.Start(s.Spec, s.Priors, fr.pose, fr.sign)
	f.Cut(s.Photo.Image)
	if err := f.Refine(); err != nil {
		return Look{}, false
	}
	l := Look{Fit: f, First: fr.score, Rim: f.RimArc(), Index: f.FindIndex(ring.FineAngles)}
	for k := range s.Spec.RingsMM {
		l.Lines += f.Arc(k) / float64(len(s.Spec.RingsMM))
	}
	return l, true
}
