package overlay

import (
	"math"
	"slices"

	"burngauge.dev/burngauge/pkg/measure"
	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/target"
)

// Pens, in units. The limit's thick dashes show beside a ring of the same
// diameter, which is where the limit lies when none was given.
var (
	seenPen   = pen{colour: white, width: 3}
	unseenPen = pen{colour: white, width: 3, dash: 14, gap: 16}
	limitPen  = pen{colour: yellow, width: 6, dash: 26, gap: 34}
	crossPen  = pen{colour: white, width: 3}
	upPen     = pen{colour: white, width: 5}
	markPens  = map[string]pen{
		measure.Burn:    {colour: orange, width: 4},
		measure.Pointer: {colour: sky, width: 4, dash: 9, gap: 10},
	}
)

// ring is one of the target's circles.
type ring struct {
	diameter float64 // mm
	seen     bool    // the fit rests on a part of it
}

// scene is a result, ready to be drawn: what is missing in it is nil or empty.
type scene struct {
	res      measure.Result
	units    report.Units // of the lengths in the caption
	spec     target.Spec  // for the rings not seen and the index; the default when not known
	rings    []ring
	seenFrom *report.View // nil: none
}

// newScene gathers what there is to draw.
func newScene(res measure.Result, units report.Units) *scene {
	s := &scene{res: res, units: units, spec: target.Default()}
	for i := range res.Measurements {
		if v := res.Measurements[i].View; v != nil && s.seenFrom == nil {
			s.seenFrom = v
		}
	}
	for _, seen := range s.seen() {
		s.rings = append(s.rings, ring{seen.DiameterMM, true})
	}
	s.addUnseen()
	return s
}

// seen are the rings that the fit rests on.
func (s *scene) seen() []report.RingSeen {
	if s.seenFrom == nil {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(s.seenFrom.RingsSeen), func(r report.RingSeen) bool {
		return !(r.Arc > 0) || !(r.DiameterMM > 0)
	})
}

// addUnseen adds the target's other circles.
func (s *scene) addUnseen() {
	if len(s.res.Measurements) == 0 {
		return
	}
	spec := s.res.Target
	if len(spec.RingsMM) == 0 { // a result made by hand: its name may be enough
		spec, _ = target.Builtin(s.res.Measurements[0].Target)
	}
	if len(spec.RingsMM) == 0 {
		return
	}
	circles := slices.Clone(spec.RingsMM)
	if spec.RimMM > 0 {
		circles = append(circles, spec.RimMM)
	}
	for _, r := range s.rings {
		if nearest(circles, r.diameter) > sameDiameter {
			return
		}
	}
	s.spec = spec
	for _, diameter := range circles {
		if !slices.ContainsFunc(s.rings, func(r ring) bool { return math.Abs(r.diameter-diameter) <= sameDiameter }) {
			s.rings = append(s.rings, ring{diameter, false})
		}
	}
}

// sameDiameter is finer than any target is made, in mm.
const sameDiameter = 1e-3

// nearest is the distance to the nearest value.
func nearest(values []float64, v float64) float64 {
	least := math.Inf(1)
	for _, w := range values {
		least = min(least, math.Abs(w-v))
	}
	return least
}

// outer is the radius of the largest circle in mm; the default target's when no
// ring is known.
func (s *scene) outer() float64 {
	outer := 0.0
	for _, r := range s.rings {
		outer = max(outer, r.diameter/2)
	}
	if outer == 0 {
		return s.spec.OuterRadius()
	}
	return outer
}

// barEnd is where the index bar ends, in mm upward from the centre. It counts
// from the outer ring, also when there is a rim beyond.
func (s *scene) barEnd() float64 {
	return max(s.outer(), s.spec.OuterRadius()+s.spec.Index.ToMM)
}

// limit is the radius of the limit circle in mm, 0: none.
func (s *scene) limit() float64 {
	for _, m := range s.res.Measurements {
		if m.Verdict != nil && m.Verdict.LimitMM > 0 {
			return m.Verdict.LimitMM
		}
	}
	return 0
}

// outline is the i-th mark's in the photo's px, nil when there is none.
func (s *scene) outline(i int) [][2]float64 {
	if i >= len(s.res.Outlines) {
		return nil
	}
	return s.res.Outlines[i]
}

// circlePoints is how finely circles are drawn: at a radius of 1600 px, the
// chord is 0.2 px inside.
const circlePoints = 200

// ringPx is a circle about the target's centre in the photo's px.
func (s *scene) ringPx(radius float64) [][2]float64 {
	points := make([][2]float64, circlePoints)
	for i := range points {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / circlePoints)
		points[i][0], points[i][1] = s.res.ToPixel(radius*sin, radius*cos)
	}
	return points
}

// Room around the target, as a fraction of its size: for the arrow and the label
// beyond the index bar. A limit circle beyond mostLimit times the target's
// radius is not made room for: it would make the target small.
const (
	regionMargin = 0.13
	mostLimit    = 1.6
)

// region is the part of the photo to show, in its px: the target and the marks.
// Empty without a target: the whole photo.
func (s *scene) region() box {
	b := noBox()
	if s.res.ToPixel == nil {
		return b
	}
	radius := s.outer()
	if limit := s.limit(); limit <= mostLimit*radius {
		radius = max(radius, limit)
	}
	b = withPx(b, s.ringPx(radius))
	b = b.with(s.px(0, s.barEnd()))
	for i, m := range s.res.Measurements {
		b = withPx(b, s.outline(i))
		if m.Offset != nil {
			b = b.with(s.px(m.Offset.RightMM, m.Offset.UpMM))
		}
	}
	return b.padded(regionMargin * max(b.size().x, b.size().y))
}

// px is a place on the target (mm) in the photo's px.
func (s *scene) px(right, up float64) point {
	x, y := s.res.ToPixel(right, up)
	return point{x, y}
}

// withPx grows a box by points.
func withPx(b box, points [][2]float64) box {
	for _, p := range points {
		b = b.with(point{p[0], p[1]})
	}
	return b
}
