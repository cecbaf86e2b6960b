package locate

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/decision"
	"burngauge.dev/burngauge/pkg/raster"
	"burngauge.dev/burngauge/pkg/ring"
)

// judge decides whether the best look is a target that can be measured.
func (s *Sighting) judge(opt Options) Failure {
	if s.Best.Fit == nil {
		return NotFound
	}
	log := s.about(s.Best, s.Best.frame)
	if !s.accepts(s.Best, opt, log) {
		return NotFound
	}
	if f := s.limits(s.Best.Fit, log); f != None {
		return f
	}
	if !s.Best.Index.Clear() && !opt.RollPhoto {
		s.Best.Index.Missed(log, "refused: index-hidden")
		return NoIndex
	}
	return None
}

// Accepts says whether enough of the target is seen to know that it is one.
func (s *Sighting) Accepts(l Look, opt Options) bool { return s.accepts(l, opt, nil) }

func (s *Sighting) accepts(l Look, opt Options, log *decision.Log) bool {
	const not = "refused: no-target, not enough of the target is seen"
	set := s.set
	indexed := l.Index.Clear()
	rings := l.Fit.RingsSeen()
	switch {
	case log.Above("locate.MostSkipped", count(l.Fit.SkipsRing()), set.MostSkipped, "refused: no-target, a ring between two that are seen is not"):
		return false
	case !log.Below("locate.LeastRings", float64(rings), float64(set.LeastRings), "more than the rings must be seen") &&
		!log.Below("locate.LeastLines", l.Lines, set.LeastLines, "the rings alone are not enough"):
		return true
	case rings >= 1 && len(s.Spec.RingsMM) == 1:
		return s.hasTop(l, opt, log) && !log.Below("locate.LeastLines", l.Lines, set.LeastLines, not)
	case rings >= 1 && indexed: // a mark may cover the inner one of two
		return !log.Below("locate.LeastLinesIndexed", l.Lines, set.LeastLinesIndexed, not)
	case s.Spec.RimMM == 0: // nothing else shows that it is a target
		l.Index.Missed(log, "refused: no-target, a ring at most is seen, and no index mark")
		return false
	default:
		return s.hasTop(l, Options{}, log) && !log.Below("locate.LeastRim", l.Rim, set.LeastRim, not)
	}
}

// hasTop says whether one circle has what shows that it is a target's, and its top:
// a clear index bar, or somebody's word for the photo's top.
func (s *Sighting) hasTop(l Look, opt Options, log *decision.Log) bool {
	if l.Index.Clear() || opt.RollPhoto {
		return true
	}
	l.Index.Missed(log, "refused: no-target, one circle without an index mark")
	return false
}

// count is 1 for true.
func count(is bool) float64 {
	if is {
		return 1
	}
	return 0
}

// limits finds what is seen but cannot be measured well.
func (s *Sighting) limits(f *ring.Fit, log *decision.Log) Failure {
	set := s.set
	width, height := s.Photo.Image.Width, s.Photo.Image.Height
	size := 2 * f.Spec.OuterRadius() * f.Camera.Focal / f.Pose.T[2] // px
	switch {
	case log.Above("locate.Steepest", min(f.Pose.Tilt(), f.Pose.AxisTilt()), set.Steepest, "refused: too-tilted"):
		return TooTilted
	case log.Above("locate.MostGlare", f.Shine(), set.MostGlare, "refused: glare"): // what else is wrong may come of it
		return Shining
	case log.Below("locate.LeastSize", size/s.ShortSide(), set.LeastSize, "refused: too-small"):
		return TooSmall
	}
	side, share := outerOutside(f, width, height)
	if log.Above("locate.MostCut", share, set.MostCut, "refused: cut-off") {
		s.Side = side
		return CutOff
	}
	return None
}

// outerOutside is the share of the outer ring outside the photo and the side on
// which most of it is.
func outerOutside(f *ring.Fit, width, height int) (side string, share float64) {
	return raster.Outside(func(angle float64) conic.Point {
		s, c := math.Sincos(angle)
		return f.Pixel(f.Spec.OuterRadius()*c, f.Spec.OuterRadius()*s)
	}, width, height)
}

// doubts looks at the finished fit for what speaks against it: lines that the
// spec does not have, or an index bar that does not belong to these rings.
func (s *Sighting) doubts(f *ring.Fit) Failure {
	log := s.log.About(f.Pixel(0, 0), "finished fit")
	f.Log = log
	if r, ok := f.UnknownLine(); ok {
		s.RadiusMM = r
		return UnknownLine
	}
	switch {
	case log.Above("locate.RatioConfidence", ratioQuantile(f), s.set.RatioConfidence, "refused: wrong-target"):
		return Ratios
	case f.Circles() > 1 && log.Above("locate.MostDeparture", f.Strain(), s.set.MostDeparture, "refused: rings-unclear"):
		return Bent
	case f.Circles() == 1 && !f.RimOnly() && log.Above("locate.MostStrange", float64(s.strangeLines(f)), s.set.MostStrange, "refused: wrong-target"):
		return UnknownRing
	case f.Indexed && f.Circles() == 1 && !f.BarFits("refused: rings-unclear"):
		return BarStrained
	}
	return None
}

// ratioQuantile is the share of right targets whose rings' diameters depart less
// from the spec than the fit's: chi-squared's distribution function, with one
// degree of freedom for each ring seen.
func ratioQuantile(f *ring.Fit) float64 {
	return distuv.ChiSquared{K: float64(max(f.RingsSeen(), 1))}.CDF(f.RingStrain())
}
