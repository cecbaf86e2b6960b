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
	"burngauge.dev/burngauge/pkg/ellipse"
	"burngauge.dev/burngauge/pkg/lens"
	"burngauge.dev/burngauge/pkg/photo"
	"burngauge.dev/burngauge/pkg/raster"
	"burngauge.dev/burngauge/pkg/ring"
	"burngauge.dev/burngauge/pkg/target"
)

// Options for Target. The zero value wants the index mark.
type Options struct {
	RollPhoto bool // take the photo's top for the target's top when no index mark is seen
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

	frames []frame
}

// leastShortSide in px: a smaller picture has no room for a target.
const leastShortSide = 48

// Target finds the target and fits its plane. The fit is nil when the photo
// cannot be measured; the sighting's Failure then says at which point, and
// otherwise it is None.
func Target(ph *photo.Photo, spec target.Spec, opt Options) (*ring.Fit, *Sighting) {
	s := &Sighting{Photo: ph, Spec: spec}
	if min(ph.Image.Width, ph.Image.Height) < leastShortSide {
		s.Failure = TinyPicture
		return nil, s
	}
	s.search()
	s.Best = s.best(opt)
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
	if s.Failure = s.doubt(fit); s.Failure != None {
		return nil, s
	}
	return fit, s
}

// search looks for ellipses and frames.
func (s *Sighting) search() {
	im, small := raster.Small(s.Photo)
	s.Priors, s.Small = knownCamera(s.Photo), small
	s.Edges, s.Ellipses = ellipse.Detect(im, small.Factor)
	s.frames = frames(small, s.Spec, s.Priors, s.Ellipses)
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

// As is the best look for another spec in what was seen, among its best few
// frames. The Fit is nil when there is none.
func (s *Sighting) As(spec target.Spec, few int) Look {
	other := *s
	other.Spec = spec
	other.frames = frames(s.Small, spec, s.Priors, s.Ellipses)
	if len(other.frames) > few {
		other.frames = other.frames[:few]
	}
	return other.best(Options{})
}

// oriented turns the best look to its index bar, or to the photo's top when no
// bar is seen. A finger or a shadow may be as dark as a bar: its sides must lie
// where the spec has them.
func (s *Sighting) oriented(opt Options) *ring.Fit {
	best := s.Best
	if best.Index.Clear() {
		f := best.Fit.WithIndex(best.Index)
		switch {
		case f.Indexed && (f.Circles() == 1 || f.BarFits()): // one circle is judged when all is fitted
			return f
		case f.Indexed && !opt.RollPhoto:
			s.Failure = BarElsewhere
			return nil
		case !opt.RollPhoto:
			s.Failure = BarMisfits
			return nil
		}
	}
	best.Fit.LevelRoll()
	return best.Fit
}
