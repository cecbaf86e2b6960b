package fire

import (
	"math"
	"time"

	"burngauge.dev/burngauge/pkg/chance"
	"burngauge.dev/burngauge/pkg/rehearsal"
	"burngauge.dev/burngauge/pkg/studio/exif"
	"burngauge.dev/burngauge/pkg/studio/invent"
)

// phone is the technician's, the same for a whole bench.
type phone struct {
	make, model string
	focal35     float64 // 35 mm equivalent focal length, mm
	k1, k2      float64 // radial distortion, as in studio.Camera
	aspect      float64 // long side of the picture over its short side
	offset      string  // of its clock from UTC
}

// makes are invented makes and models.
var makes = [][2]string{{"Halden", "H4 Lite"}, {"Orbis", "Nine"}, {"Quarz Mobil", "QM-210"}, {"Tessel", "T7 Pro"}, {"Brio Works", "Rugged 2"}}

// phones are what their cameras are like (common practice, no source).
var phones = struct {
	focal35 []float64 // mm: main cameras, and two that are zoomed
	off     span      // mm, by which the true focal length differs from the stated one
	k1      span      // what is left of the lens's distortion after the phone's own correction
	k2      span      // as a share of k1
	aspect  []float64 // long side over short side; 4:3 is twice as common
	offset  []string  // of the clock from UTC
}{
	focal35: []float64{24, 26, 27, 28, 35, 50}, off: span{-0.4, 0.4}, k1: span{-0.03, 0.03}, k2: span{-0.3, 0.3},
	aspect: []float64{4.0 / 3, 4.0 / 3, 16.0 / 9}, offset: []string{"+01:00", "+02:00", "-05:00", "+00:00"},
}

// drawPhone draws the phone of a whole bench.
func drawPhone(d invent.Draws) phone {
	name := chance.Pick(d.Dice, makes...)
	p := phone{make: name[0], model: name[1], focal35: chance.Pick(d.Dice, phones.focal35...) + d.In(phones.off),
		k1: d.In(phones.k1), aspect: chance.Pick(d.Dice, phones.aspect...), offset: chance.Pick(d.Dice, phones.offset...)}
	p.k2 = d.In(phones.k2) * p.k1
	return p
}

// facts are what the phone writes into the file.
func (s *shot) facts(p phone, taken time.Time) {
	orientation := chance.Pick(s.Dice, 1, 1, 3) // landscape, one in three upside down
	if s.framing.Portrait {
		orientation = chance.Pick(s.Dice, 6, 6, 8) // turned right, one in three left
	}
	s.exif = exif.Block{Make: p.make, Model: p.model, Orientation: orientation, Taken: taken.Format("2006:01:02 15:04:05"),
		Offset: p.offset, Focal35: int(math.Round(p.focal35)), BigEndian: true}
}

// What the clock of a photo says (invented).
var firstDay = time.Date(2026, 3, 2, 8, 30, 0, 0, time.UTC)

const (
	days       = 200 // after firstDay on which a bench may be worked on
	perRound   = 40 * time.Minute
	perStation = 2 * time.Minute
)

// taken is when the photo of a station is said to be taken: on a day of the
// seed's, a round every forty minutes, a station every two.
func taken(b *rehearsal.Bench, station, second int) time.Time {
	start := firstDay.AddDate(0, 0, int(b.Seed%days))
	after := time.Duration(b.Round()-1)*perRound + time.Duration(station)*perStation
	return start.Add(after + time.Duration(second)*time.Second)
}
