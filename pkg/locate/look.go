package locate

import (
	"burngauge.dev/burngauge/pkg/decision"
	"burngauge.dev/burngauge/pkg/ring"
)

// Look is what one frame came to at full size.
type Look struct {
	Fit   *ring.Fit
	Lines float64 // mean over the spec's rings of the fraction seen
	Rim   float64 // fraction of the rim seen
	Index ring.IndexEvidence
	First float64 // the frame's own score on the small picture
	frame int     // its place among the frames
}

// rank orders looks: what is seen at full size, and, less, at a glance.
func (s *Sighting) rank(l Look) float64 {
	return s.Score(l) + s.set.FirstWorth*min(l.First, s.set.FirstMost)
}

// Score is how much speaks for the target being there: all lines seen, or the
// rim instead of them, count 1 and a clear index bar BarWorth. Circles that are no
// target rarely have both.
func (s *Sighting) Score(l Look) float64 {
	score := l.Lines
	if l.Fit.Spec.RimMM > 0 {
		score = max(score, 0.5*score+0.5*l.Rim) // the mean of rings and rim
	}
	if l.Index.Clear() {
		score += s.set.BarWorth * min(1, l.Index.Contrast/s.set.FullContrast)
	}
	return score
}

// best refines the frames and keeps the one for which most speaks. The first
// few are the target's as a rule; where a bed full of holes or coins comes
// before it, the others get a look too.
func (s *Sighting) best(opt Options, all []frame) Look {
	var best Look
	for i, fr := range all {
		if i >= s.set.MostFrames && best.Fit != nil && s.accepts(best, opt, nil) {
			break
		}
		l, ok := s.lookAt(fr, i)
		if !ok {
			continue
		}
		log := s.about(l, i)
		if best.Fit == nil || log.Above("locate.ClearlyBetter", s.rank(l)-s.rank(best), s.set.ClearlyBetter, "this look instead of the best one before") {
			best = l
		}
		if !log.Below("locate.Plainly", s.Score(best), s.set.Plainly, "the best look so far is not yet plainly the target") {
			break
		}
	}
	return best
}

// about is the log for what is decided on a look.
func (s *Sighting) about(l Look, frame int) *decision.Log {
	return s.log.About(l.Fit.Pixel(0, 0), "frame %d", frame+1)
}

// lookAt traces one frame at full size.
func (s *Sighting) lookAt(fr frame, number int) (Look, bool) {
	f := ring.Start(s.Spec, s.Priors, fr.pose, fr.sign)
	f.Log = s.log.About(f.Pixel(0, 0), "frame %d", number+1)
	f.Cut(s.Photo.Image)
	if err := f.Refine(); err != nil {
		return Look{}, false
	}
	l := Look{Fit: f, frame: number, First: fr.score, Rim: f.RimArc(), Index: f.FindIndex(ring.FineAngles)}
	for k := range s.Spec.RingsMM {
		l.Lines += f.Arc(k) / float64(len(s.Spec.RingsMM))
	}
	return l, true
}
