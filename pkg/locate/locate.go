// Package locate finds the ring target in a photo and decides whether it can be
// measured.
//
// Edges of a small copy give ellipses; each ellipse, seen as a circle in one of
// the two ways it can be, gives frames in which the spec's rings are looked
// for at every scale; the best frames are traced at full size and fitted. What
// was seen on the way is handed on: why a photo was not measured is explained by
// pkg/cause.
package locate

import (
	"burngauge.dev/burngauge/pkg/decision"
	"burngauge.dev/burngauge/pkg/ellipse"
	"burngauge.dev/burngauge/pkg/lens"
	"burngauge.dev/burngauge/pkg/photo"
	"burngauge.dev/burngauge/pkg/raster"
	"burngauge.dev/burngauge/pkg/ring"
	"burngauge.dev/burngauge/pkg/target"
)

// Options for Target. The zero value wants the index mark.
type Options struct {
	RollPhoto bool          // take the photo's top for the target's top when no index mark is seen
	Settings  *Settings     // nil: DefaultSettings
	Log       *decision.Log // nil: nothing is recorded
}

// Failure is the point of the way at which a photo was given up.
type Failure int

// The points, in the order in which a photo comes to them.
const (
	None         Failure = iota
	TinyPicture          // no room for a target
	NotFound             // no look shows enough of the target
	TooTilted            // seen too much from the side
	Shining              // light is reflected off its face
	TooSmall             // too small in the photo
	CutOff               // a part lies outside the photo: Side
	NoIndex              // rings without an index bar
	BarElsewhere         // something dark where the bar should be, whose sides are not the bar's
	BarMisfits           // the bar that is seen does not fit the rings
	Unsettled            // the fit has no covariance
	UnknownLine          // a line is seen that the spec does not have: RadiusMM
	Ratios               // the rings' diameters are not in the spec's ratio
	Bent                 // rings and index do not lie as on a flat target seen by a camera
	UnknownRing          // about the one ring that is seen lies a line that the spec does not have
	BarStrained          // the finished fit's bar does not belong to its one circle
)

// Sighting is what was seen of a photo while the target was looked for.
type Sighting struct {
	Photo    *photo.Photo
	Spec     target.Spec
	Priors   lens.Priors
	Small    *raster.Raster // the photo reduced, in code values
	Edges    *ellipse.Edges
	Ellipses []ellipse.Candidate // in the photo's pixels, the best supported first
	Best     Look                // the look for which most spoke; its Fit is nil when there was none

	Failure  Failure
	Side     string  // of the photo at which the target is cut off: left, right, top or bottom
	RadiusMM float64 // of the line that the spec does not have

	set *Settings
	log *decision.Log
}

// Target finds the target and fits its plane. The fit is nil when the photo
// cannot be measured; the sighting's Failure then says at which point, and
// otherwise it is None.
func Target(ph *photo.Photo, spec target.Spec, opt Options) (*ring.Fit, *Sighting) {
	s := newSighting(ph, spec, opt)
	if s.log.Below("locate.LeastShortSidePx", s.ShortSide(), s.set.LeastShortSidePx, "refused: no-target") {
		s.Failure = TinyPicture
		return nil, s
	}
	s.search()
	s.Best = s.best(opt, frameSearch{s}.frames())
	if s.Failure = s.judge(opt); s.Failure != None {
		return nil, s
	}
	fit := s.oriented(opt)
	if s.Failure != None {
		return nil, s
	}
	fit = fit.BetterTilt().FreeCamera()
	if !fit.Indexed {
		fit.LevelRoll() // nothing in those fits held it
	}
	if err := fit.SetCovariance(); err != nil {
		s.Failure = Unsettled
		return nil, s
	}
	if s.Failure = s.doubts(fit); s.Failure != None {
		return nil, s
	}
	return fit, s
}

func newSighting(ph *photo.Photo, spec target.Spec, opt Options) *Sighting {
	s := &Sighting{Photo: ph, Spec: spec, set: opt.Settings, log: opt.Log}
	if s.set == nil {
		usual := DefaultSettings()
		s.set = &usual
	}
	return s
}

// search looks for ellipses.
func (s *Sighting) search() {
	im, small := raster.Small(s.Photo)
	s.Priors, s.Small = knownCamera(s.Photo), small
	s.Edges, s.Ellipses = ellipse.Detect(im, small.Factor, ellipse.Options{Settings: s.set.Ellipse, Log: s.log})
}

// knownCamera is what the file says of the camera.
func knownCamera(ph *photo.Photo) lens.Priors {
	focal, _ := ph.FocalPx()
	return lens.NewPriors(lens.Picture{Width: ph.Image.Width, Height: ph.Image.Height, FocalPx: focal, Cropped: ph.Image.Cropped()})
}

// ShortSide is the photo's shorter side, px.
func (s *Sighting) ShortSide() float64 {
	return float64(min(s.Photo.Image.Width, s.Photo.Image.Height))
}

// Settings are those that the photo was searched with; the default ones of a
// Sighting that did not come from Target.
func (s *Sighting) Settings() Settings {
	if s.set == nil {
		return DefaultSettings()
	}
	return *s.set
}

// Log is that of the search, nil when nothing is recorded.
func (s *Sighting) Log() *decision.Log { return s.log }

// As is the best look for another spec in what was seen, among its best few
// frames. The Fit is nil when there is none. Nothing of it is recorded.
func (s *Sighting) As(spec target.Spec, few int) Look {
	other := *s
	other.Spec, other.log = spec, nil
	all := frameSearch{&other}.frames()
	return other.best(Options{}, all[:min(len(all), few)])
}

// oriented turns the best look to its index bar, or to the photo's top when no
// bar is seen. A finger or a shadow may be as dark as a bar: its sides must lie
// where the spec has them.
func (s *Sighting) oriented(opt Options) *ring.Fit {
	best := s.Best
	if best.Index.Clear() {
		f := best.Fit.WithIndex(best.Index)
		log := s.about(best, best.frame)
		switch {
		case log.Below("locate.LeastBarTilts", count(f.Indexed), s.set.LeastBarTilts, "refused: rings-unclear, unless the photo's top counts"):
			s.Failure = BarMisfits
		case f.Circles() == 1: // judged when all is fitted
			return f
		case f.BarFits("refused: index-hidden, unless the photo's top counts"):
			return f
		default:
			s.Failure = BarElsewhere
		}
		if !opt.RollPhoto {
			return nil
		}
		s.Failure = None
	}
	best.Fit.LevelRoll()
	return best.Fit
}
