package fire

import (
	"fmt"
	"math"
	"strings"
	"time"

	"burngauge.dev/burngauge/pkg/chance"
	"burngauge.dev/burngauge/pkg/rehearsal"
	"burngauge.dev/burngauge/pkg/studio"
	"burngauge.dev/burngauge/pkg/studio/darkroom"
	"burngauge.dev/burngauge/pkg/studio/exif"
	"burngauge.dev/burngauge/pkg/studio/invent"
	"burngauge.dev/burngauge/pkg/target"
)

// session is one photo in the making.
type session struct {
	invent.Draws
	framing invent.Framing
	scene   studio.Scene
	cam     studio.Camera
	develop darkroom.Settings
	exif    exif.Block
}

// phone is the technician's, the same for a whole bench.
type phone struct {
	make, model string
	focal35     float64
	k1, k2      float64
	aspect      float64
	offset      string // of its clock from UTC
}

// phones are invented makes and models.
var phones = [][2]string{{"Halden", "H4 Lite"}, {"Orbis", "Nine"}, {"Quarz Mobil", "QM-210"}, {"Tessel", "T7 Pro"}, {"Brio Works", "Rugged 2"}}

func drawPhone(d invent.Draws) phone {
	name := chance.Pick(d.Dice, phones...)
	p := phone{make: name[0], model: name[1], focal35: chance.Pick(d.Dice, 24.0, 26, 27, 28, 35, 50) + d.Between(-0.4, 0.4),
		k1: d.Between(-0.03, 0.03), aspect: chance.Pick(d.Dice, 4.0/3, 4.0/3, 16.0/9), offset: chance.Pick(d.Dice, "+01:00", "+02:00", "-05:00", "+00:00")}
	p.k2 = d.Between(-0.3, 0.3) * p.k1
	return p
}

// pose sets up the scene of one station and the camera before it. Phone, target
// and workshop come from the bench's seed alone; tape, burn, hand and light from
// the seed, what was turned before, and the station.
func pose(b *rehearsal.Bench, station int, o Options) *session {
	shop := invent.New(b.Seed, chance.Stream("studio"))
	p := drawPhone(shop)
	look, plate, back := shop.Look(o.Target, false), drawPlate(shop, o.Target), shop.Background()
	name := b.Profile.Stations[station].Name
	for try := 0; ; try++ {
		s := &session{Draws: invent.New(b.Seed, chance.Stream(fmt.Sprintf("photo/%d/%s/%d", len(b.Turns()), name, try)))}
		s.scene = studio.Scene{Target: o.Target, Seed: s.Uint32(), Look: look, Plate: plate, Background: back}
		if !s.frame(p, o) && try < 200 {
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
		s.light(p)
		s.facts(p, taken(b, station, s.IntN(60)))
		return s
	}
}

// drawPlate draws what carries the rings: wide enough for a burn that is far off.
func drawPlate(d invent.Draws, spec target.Spec) studio.Plate {
	if spec.RimMM > 0 {
		return d.Plate(spec)
	}
	reach := max(spec.OuterRadius()+spec.Index.ToMM, rehearsal.TapeMM)
	return studio.Plate{Shape: studio.PlateDisc, WidthMM: 2 * (reach + d.Between(1.5, 5)), ThickMM: d.Between(1.5, 5), BevelMM: d.Between(0, 0.6), Bevel: d.Between(-0.2, 0.2)}
}

// frame draws how the phone is held: a little tilted, some 15 cm away, portrait or landscape.
func (s *session) frame(p phone, o Options) bool {
	f := invent.Framing{Megapixels: o.Megapixels, Aspect: p.aspect, Portrait: s.Chance(0.5), Fraction: s.Between(0.24, 0.42),
		Focal35: p.focal35, K1: p.k1, K2: p.k2, OffCentre: s.Between(0.1, 0.5)}
	f.Pose = studio.Pose{TiltDeg: s.Between(2, 25), TowardDeg: s.Angle(), RollDeg: s.Between(-12, 12)}
	if s.Chance(0.2) {
		f.Pose.RollDeg += chance.Pick(s.Dice, 90.0, 180, 270)
	}
	cam, ok := s.Camera(f, o.Target)
	s.framing, s.cam = f, cam
	return ok
}

// marks fires: the burn, cut where a mirror's edge cuts the beam, on its tape.
func (s *session) marks(spot rehearsal.Spot, o Options) {
	right, up, clear := spot.RightMM, spot.UpMM, 2.0
	if spot.Missing {
		right, up = 0, 0
	} else {
		burn := pulse(s.Draws, o.Exposure, right, up)
		clear = burn.Lobes[0].MajorMM + 1.2
		s.clip(&burn, spot)
		// A short pulse burns less of the beam than edges may leave: then nothing turns dark.
		if len(burn.Clips) == 0 || !math.IsNaN(burn.Moments().SpreadMM) {
			s.scene.Burns = []studio.Burn{burn}
		}
	}
	t := s.Tape(right, up, clear, s.Between(0.22, 0.48))
	if o.Target.TapeMM > 0 {
		// All over: otherwise the burn would not lie at the tape's height.
		t.WidthMM, t.LengthMM = 90, 0
	}
	s.scene.Tapes = []studio.Tape{t}
}

// clip cuts a burn off at each edge that reaches into it, all of them equally sharp.
func (s *session) clip(burn *studio.Burn, spot rehearsal.Spot) {
	for _, cut := range spot.Cuts {
		if cut.Room(spot.RightMM, spot.UpMM) >= burn.Reach() {
			continue
		}
		clip := studio.Clip{AtMM: cut.MM, Deg: cut.Deg}
		if len(burn.Clips) > 0 {
			clip.SoftMM = burn.Clips[0].SoftMM
		} else {
			clip.SoftMM = s.Between(0.05, 0.25)
		}
		burn.Clips = append(burn.Clips, clip)
	}
}

// point switches the red pointer on. It is dimmer than the brightest there are:
// one that blinds the camera tells nothing.
func (s *session) point(dot rehearsal.Spot) {
	p := s.Pointer(dot.RightMM, dot.UpMM)
	p.Strength = s.Between(1.5, 5)
	s.scene.Pointers, s.scene.CharSwallows = []studio.Pointer{p}, true
}

// label writes the station's initials on the tape, clear of the mark.
func (s *session) label(station string) {
	if !s.Chance(0.35) {
		return
	}
	text := ""
	for _, word := range strings.Split(station, "-") {
		if word != "" {
			text += strings.ToUpper(word[:1])
		}
	}
	outer := s.scene.Target.OuterRadius()
	w := s.Writing(s.Between(-0.8, 0.4)*outer, -s.Between(0.7, 1.05)*outer, outer*s.Between(0.14, 0.24), studio.RGB{R: 0.02, G: 0.02, B: 0.03})
	w.Text = text
	for _, b := range s.scene.Burns {
		if w.Near(b.Lobes[0].Right, b.Lobes[0].Up, b.Lobes[0].MajorMM*1.3+1) {
			return
		}
	}
	s.scene.Writings = []studio.Writing{w}
}

// light draws lamps and clutter, and the phone's processing.
func (s *session) light(p phone) {
	s.scene.Lights = s.Lights(0.4)
	s.scene.Clutter = s.Clutter(&s.scene, &s.cam, s.IntN(6))
	s.develop = s.Processing()
	px := s.cam.PxPerMM()
	switch s.IntN(6) { // one in three is a little out of focus or shaken, as hand-held photos are
	case 0:
		s.develop.DefocusPX = min(px*s.Between(0.03, 0.08), 3.5)
	case 1:
		s.develop.MotionPX, s.develop.MotionDeg = min(px*s.Between(0.03, 0.1), 3), s.Angle()
	}
	s.develop.White = s.scene.Lights.Balance(s.Between(0.3, 1)).Channels()
	s.develop.Exposure *= s.Between(0.35, 0.7) / studio.Meter(&s.scene, &s.cam)
}

// facts are what the phone writes into the file.
func (s *session) facts(p phone, taken time.Time) {
	orientation := chance.Pick(s.Dice, 1, 1, 3)
	if s.framing.Portrait {
		orientation = chance.Pick(s.Dice, 6, 6, 8)
	}
	s.exif = exif.Block{Make: p.make, Model: p.model, Orientation: orientation, Taken: taken.Format("2006:01:02 15:04:05"),
		Offset: p.offset, Focal35: int(math.Round(p.focal35)), BigEndian: true}
}

// taken is when the photo of a station is said to be taken: on a day of the
// seed's, a round every forty minutes, a station every two.
func taken(b *rehearsal.Bench, station, second int) time.Time {
	start := time.Date(2026, 3, 2, 8, 30, 0, 0, time.UTC).AddDate(0, 0, int(b.Seed%200))
	after := time.Duration(b.Round()-1)*40*time.Minute + time.Duration(station)*2*time.Minute
	return start.Add(after + time.Duration(second)*time.Second)
}
