package fire

import (
	"fmt"
	"math"
	"slices"

	"burngauge.dev/burngauge/pkg/machine"
	"burngauge.dev/burngauge/pkg/rehearsal"
	"burngauge.dev/burngauge/pkg/studio"
	"burngauge.dev/burngauge/pkg/studio/darkroom"
	"burngauge.dev/burngauge/pkg/target"
)

// Options say how the technician fires and photographs.
type Options struct {
	Target     target.Spec
	Ask        string // what --target of a measurement is to be: a built-in name or a file
	Exposure   Exposure
	Megapixels float64 // 1 to 12
	Pointer    bool    // the red pointer is on
}

// DefaultOptions are an ordinary pulse on the default target, pointer off,
// and a phone that saves 12 megapixels.
func DefaultOptions() Options {
	return Options{Target: target.Default(), Ask: target.DefaultName, Exposure: Normal, Megapixels: 12}
}

// Photo is one photo that was taken at a station.
type Photo struct {
	Station string
	Spot    rehearsal.Spot
	JPEG    []byte
	Truth   studio.Truth // Photo is still empty: the caller names the file
}

// Photograph fires at one station, lays fresh tape, and takes the photo. It does
// not change the bench: the same bench and options give the same bytes. Once a
// screw has been turned, tape, hand and light are others.
func Photograph(b *rehearsal.Bench, station string, o Options) (Photo, error) {
	finish, err := Expose(b, station, o)
	if err != nil {
		return Photo{}, err
	}
	return finish()
}

// Expose is the larger part of Photograph, which keeps all processors busy. What
// it returns does the rest on one of them, while another photo may be exposed.
func Expose(b *rehearsal.Bench, station string, o Options) (finish func() (Photo, error), err error) {
	i := slices.IndexFunc(b.Profile.Stations, func(s machine.Station) bool { return s.Name == station })
	if i < 0 {
		return nil, fmt.Errorf("the machine has no station %q", station)
	}
	spot := b.Spots()[i]
	s := pose(b, i, o)
	img := s.develop.Shoot(studio.QuickRows(&s.scene, &s.cam), s.cam.Width, s.cam.Height, s.exif.Orientation)
	return func() (Photo, error) {
		body, err := darkroom.EncodeStored(img, &s.exif, s.develop.Quality)
		darkroom.Release(img)
		if err != nil {
			return Photo{}, fmt.Errorf("photograph %s: %w", station, err)
		}
		return Photo{Station: station, Spot: spot, JPEG: body, Truth: s.truth(spot, o)}, nil
	}, nil
}

// truth states what is known of the photo.
func (s *shot) truth(spot rehearsal.Spot, o Options) studio.Truth {
	t := studio.NewTruth(&s.scene, &s.cam, s.framing.Pose.TiltDeg)
	t.Station, t.Spec, t.Mark = spot.Station, o.Ask, "burn"
	t.Category = string(o.Exposure) + " exposure"
	if len(s.scene.Pointers) > 0 {
		t.Mark = "both"
	}
	t.Expect = s.expect(spot)
	return t
}

// judged is when a burn's measurement can be demanded (chosen: wider than the burn's
// scorch and the dot's glow).
var judged = struct {
	apart  float64 // half axes of the burn between its middle and a pointer's dot
	sigmas float64 // and sigmas of the dot
	dotMM  float64 // and mm
	barMM  float64 // mm between the burn's outline and the index bar
}{apart: 1.2, sigmas: 3, dotMM: 0.4, barMM: 0.5}

// expect is what can be asked of a photo: nothing without a burn, and no more
// than a try when the burn lies on the index bar, off the rings or is half cut away.
func (s *shot) expect(spot rehearsal.Spot) string {
	if len(s.scene.Burns) == 0 {
		return studio.ExpectRefuse
	}
	b := &s.scene.Burns[0]
	size := b.Lobes[0].MajorMM
	spec := s.scene.Target
	reach := spec.OuterRadius() + spec.Index.ToMM
	for _, p := range s.scene.Pointers {
		if math.Hypot(p.Right-spot.RightMM, p.Up-spot.UpMM) < size*judged.apart+judged.sigmas*p.LongMM+judged.dotMM {
			return studio.ExpectEither // the dot lies on the burn
		}
	}
	bar := math.Abs(spot.RightMM) < spec.Index.WidthMM/2+size+judged.barMM && spot.UpMM+size+judged.barMM > spec.OuterRadius()+spec.Index.FromMM
	half := slices.ContainsFunc(spot.Cuts, func(c rehearsal.Cut) bool { return c.Room(spot.RightMM, spot.UpMM) < 0 })
	if bar || half || spot.Distance()+size > reach {
		return studio.ExpectEither
	}
	return studio.ExpectMeasure
}
