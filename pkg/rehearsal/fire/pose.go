package fire

import (
	"fmt"
	"math"
	"strings"

	"burngauge.dev/burngauge/pkg/chance"
	"burngauge.dev/burngauge/pkg/rehearsal"
	"burngauge.dev/burngauge/pkg/studio"
	"burngauge.dev/burngauge/pkg/studio/darkroom"
	"burngauge.dev/burngauge/pkg/studio/exif"
	"burngauge.dev/burngauge/pkg/studio/invent"
	"burngauge.dev/burngauge/pkg/target"
)

// shot is one photo in the making.
type shot struct {
	invent.Draws
	framing invent.Framing
	scene   studio.Scene
	cam     studio.Camera
	develop darkroom.Settings
	exif    exif.Block
}

// framings is how often a camera is placed again before a photo that does not hold the
// whole target is taken after all. With the built-in targets the first few serve.
const framings = 200

// pose sets up the scene of one station and the camera before it. Phone, target
// and workshop come from the bench's seed alone; tape, burn, hand and light from
// the seed, what was turned before, and the station.
func pose(b *rehearsal.Bench, station int, o Options) *shot {
	o.Target.TapeMM = tapeHeight(b, o.Target)
	shop := invent.New(b.Seed, chance.Stream("studio"))
	p := drawPhone(shop)
	look, plate, back := shop.Look(o.Target, false), drawPlate(shop, o.Target), shop.Background()
	name := b.Profile.Stations[station].Name
	for try := 0; ; try++ {
		s := &shot{Draws: invent.New(b.Seed, chance.Stream(fmt.Sprintf("photo/%d/%s/%d", len(b.Turns()), name, try)))}
		s.scene = studio.Scene{Target: o.Target, Seed: s.Uint32(), Look: look, Plate: plate, Background: back}
		if !s.frame(p, o) && try < framings {
			continue
		}
		s.marks(b.Spots()[station], o)
		if o.Pointer {
			dot := b.PointerSpots()[station]
			if !dot.Missing {
				s.point(dot)
			}
		}
		s.label(name)
		s.light()
		s.facts(p, taken(b, station, s.IntN(60)))
		return s
	}
}

// tapeHeight is how high in mm the tape of a photo lies above the rings. The bench's own
// is for a target that states nothing of its tape: mean m and standard deviation s of
// DefaultTapeMM and DefaultTapeUMM. A spec that states others, m' and s', is of other tape, or of
// none (0 and 0: the mark lies on the rings' own plane); this bench departs from it by as
// many standard deviations as from ordinary tape: h' = m' + s' (h - m)/s, not below 0.
//
// A bench from before it had tape takes what the spec states, and 0 where it states
// nothing.
func tapeHeight(b *rehearsal.Bench, spec target.Spec) float64 {
	ordinary := spec.TapeMM == target.DefaultTapeMM && spec.TapeUMM == target.DefaultTapeUMM
	switch own := b.Hidden.TapeMM; {
	case ordinary:
		return own
	case own == 0:
		return spec.TapeMM
	default:
		return max(0, spec.TapeMM+spec.TapeUMM*(own-target.DefaultTapeMM)/target.DefaultTapeUMM)
	}
}

// discs are the plates that carry the rings, in mm (common practice, no source).
var discs = struct {
	rim          span // face beyond the index bar, or beyond what the tape covers
	thick, bevel span
	shade        span // how much lighter (negative: darker) the rounded edge is
}{rim: span{1.5, 5}, thick: span{1.5, 5}, bevel: span{0, 0.6}, shade: span{-0.2, 0.2}}

// drawPlate draws what carries the rings: wide enough for a burn that is far off.
func drawPlate(d invent.Draws, spec target.Spec) studio.Plate {
	if spec.RimMM > 0 {
		return d.Plate(spec)
	}
	reach := max(spec.OuterRadius()+spec.Index.ToMM, rehearsal.TapeMM)
	return studio.Plate{Shape: studio.PlateDisc, WidthMM: 2 * (reach + d.In(discs.rim)), ThickMM: d.In(discs.thick), BevelMM: d.In(discs.bevel), Bevel: d.In(discs.shade)}
}

// held is how a phone is held before the target (common practice, no source).
var held = struct {
	fraction  span    // outer ring's diameter over the picture's short side: some 15 cm away
	offCentre span    // how far the target may lie off the picture's middle, 0..1
	tiltDeg   span    // degrees, between line of sight and the target's normal
	rollDeg   span    // degrees, off upright
	onSide    float64 // probability of a phone that is held on its side or upside down
}{fraction: span{0.24, 0.42}, offCentre: span{0.1, 0.5}, tiltDeg: span{2, 25}, rollDeg: span{-12, 12}, onSide: 0.2}

// frame draws how the phone is held: a little tilted, portrait or landscape.
func (s *shot) frame(p phone, o Options) bool {
	f := invent.Framing{Megapixels: o.Megapixels, Aspect: p.aspect, Portrait: s.Chance(0.5), Fraction: s.In(held.fraction),
		Focal35: p.focal35, K1: p.k1, K2: p.k2, OffCentre: s.In(held.offCentre)}
	f.Pose = studio.Pose{TiltDeg: s.In(held.tiltDeg), TowardDeg: s.Angle(), RollDeg: s.In(held.rollDeg)}
	if s.Chance(held.onSide) {
		f.Pose.RollDeg += chance.Pick(s.Dice, 90.0, 180, 270)
	}
	cam, ok := s.Camera(f, o.Target)
	s.framing, s.cam = f, cam
	return ok
}

// taped is how tape is laid for a pulse (common practice, no source).
var taped = struct {
	through span    // share of what lies below that shows
	clear   float64 // mm of tape round the burn, at least
	bare    float64 // mm of tape round the target's middle when no beam arrives, at least
	allOver float64 // mm, width of a strip that covers the whole target
}{through: span{0.22, 0.48}, clear: 1.2, bare: 2, allOver: 90}

// marks fires: the burn, cut where a mirror's edge cuts the beam, on its tape.
func (s *shot) marks(spot rehearsal.Spot, o Options) {
	right, up, clear := spot.RightMM, spot.UpMM, taped.bare
	if spot.Missing {
		right, up = 0, 0
	} else {
		burn := pulse(s.Draws, o.Exposure, right, up)
		clear = burn.Lobes[0].MajorMM + taped.clear
		s.clip(&burn, spot)
		// A short pulse burns less of the beam than edges may leave: then nothing turns dark.
		if len(burn.Clips) == 0 || !math.IsNaN(burn.Moments().SpreadMM) {
			s.scene.Burns = []studio.Burn{burn}
		}
	}
	t := s.Tape(right, up, clear, s.In(taped.through))
	if o.Target.TapeMM > 0 {
		// All over: otherwise the burn would not lie at the tape's height.
		t.WidthMM, t.LengthMM = taped.allOver, 0
	}
	s.scene.Tapes = []studio.Tape{t}
}

// clipSoft is the width in mm over which a mirror's edge takes the burn away: diffraction
// and the mirror's bevel blur it (chosen by eye).
var clipSoft = span{0.05, 0.25}

// clip cuts a burn off at each edge that reaches into it, all of them equally sharp.
func (s *shot) clip(burn *studio.Burn, spot rehearsal.Spot) {
	for _, cut := range spot.Cuts {
		if cut.Room(spot.RightMM, spot.UpMM) >= burn.Reach() {
			continue
		}
		clip := studio.Clip{AtMM: cut.MM, Deg: cut.Deg}
		if len(burn.Clips) > 0 {
			clip.SoftMM = burn.Clips[0].SoftMM
		} else {
			clip.SoftMM = s.In(clipSoft)
		}
		burn.Clips = append(burn.Clips, clip)
	}
}

// dotStrength is the pointer's, in white papers in full light. It is dimmer than the
// brightest there are: of one that blinds the camera nothing can be measured.
var dotStrength = span{1.5, 5}

// point switches the red pointer on.
func (s *shot) point(dot rehearsal.Spot) {
	p := s.Pointer(dot.RightMM, dot.UpMM)
	p.Strength = s.In(dotStrength)
	s.scene.Pointers, s.scene.CharSwallows = []studio.Pointer{p}, true
}

// initials are how a station is written on the tape (common practice, no source).
// Lengths are shares of the outer ring's radius.
var initials = struct {
	written     float64 // probability of a label
	right, down span    // where it begins, from the target's middle
	size        span    // height of the letters
	ink         studio.RGB
	clear       float64 // free room round the mark, as a factor on its half axis
	clearMM     float64 // and mm more
}{written: 0.35, right: span{-0.8, 0.4}, down: span{0.7, 1.05}, size: span{0.14, 0.24}, ink: studio.RGB{R: 0.02, G: 0.02, B: 0.03}, clear: 1.3, clearMM: 1}

// label writes the station's initials on the tape, clear of the mark.
func (s *shot) label(station string) {
	if !s.Chance(initials.written) {
		return
	}
	text := ""
	for _, word := range strings.Split(station, "-") {
		if word != "" {
			text += strings.ToUpper(word[:1])
		}
	}
	outer := s.scene.Target.OuterRadius()
	w := s.Writing(s.In(initials.right)*outer, -s.In(initials.down)*outer, outer*s.In(initials.size), initials.ink)
	w.Text = text
	for _, b := range s.scene.Burns {
		if w.Near(b.Lobes[0].Right, b.Lobes[0].Up, b.Lobes[0].MajorMM*initials.clear+initials.clearMM) {
			return
		}
	}
	s.scene.Writings = []studio.Writing{w}
}

// workshop is light, things and hand of an ordinary photo (common practice, no source).
var workshop = struct {
	uneven    float64 // how steep the light falls across the target, 0..1
	things    int     // that lie about: from none to fewer than this
	defocusMM span    // radius on the target over which a photo out of focus is smeared
	defocusPX float64 // px, at most
	shakeMM   span    // length on the target of a hand's shake
	shakePX   float64 // px, at most
	white     span    // share of the light's colour that the white balance finds
	bright    span    // of the target, linear: nine tenths of it are darker
}{uneven: 0.4, things: 6, defocusMM: span{0.03, 0.08}, defocusPX: 3.5, shakeMM: span{0.03, 0.1}, shakePX: 3, white: span{0.3, 1}, bright: span{0.35, 0.7}}

// light draws lamps and clutter, and the phone's processing. One photo in three is a
// little out of focus or shaken, as hand-held photos are.
func (s *shot) light() {
	g := &workshop
	s.scene.Lights = s.Lights(g.uneven)
	s.scene.Clutter = s.Clutter(&s.scene, &s.cam, s.IntN(g.things))
	s.develop = s.Processing()
	px := s.cam.PxPerMM()
	switch s.IntN(6) {
	case 0:
		s.develop.DefocusPX = min(px*s.In(g.defocusMM), g.defocusPX)
	case 1:
		s.develop.MotionPX, s.develop.MotionDeg = min(px*s.In(g.shakeMM), g.shakePX), s.Angle()
	}
	s.develop.White = s.scene.Lights.Balance(s.In(g.white)).Channels()
	s.develop.Exposure *= s.In(g.bright) / studio.Meter(&s.scene, &s.cam)
}
