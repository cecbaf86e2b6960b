package rehearsal

import (
	"errors"
	"math"

	"burngauge.dev/burngauge/pkg/chance"
	"burngauge.dev/burngauge/pkg/machine"
	"burngauge.dev/burngauge/pkg/rehearsal/optics"
)

// Bench is a simulated machine: its profile, what is hidden from whoever works
// on it, and what has been done to it since. The same seed, level and profile
// give the same bench, and the same turns the same spots.
type Bench struct {
	Profile machine.Profile
	Seed    uint64
	Level   Level
	Hidden  Faults

	turns  []Turn
	fires  []Fire
	mounts []Mount
	screws [][3]play // of each mount
}

// Spot is where the beam's middle meets the target at one station, as one faces
// the target, mm. A beam that never arrives has NaN there.
type Spot struct {
	Station       string
	RightMM, UpMM float64
	Clipped       bool // a mirror's edge cuts into the beam
	Missing       bool // nothing of it reaches the tape
	Cuts          []Cut
}

// Cut is a mirror's edge as it lies on the target: the beam is dark beyond the line
// (cos, sin) Deg · (right, up) = MM.
type Cut struct{ Deg, MM float64 }

// Room is how far a place is from the line, mm: negative beyond it.
func (c Cut) Room(right, up float64) float64 {
	sin, cos := math.Sincos(radians(c.Deg))
	return c.MM - (cos*right + sin*up)
}

// Distance of the spot from the target's centre, mm.
func (s Spot) Distance() float64 { return math.Hypot(s.RightMM, s.UpMM) }

// Beam radius and target that decide what counts as clipped and as missing.
const (
	beamMM = 1.7 // radius of what an ordinary pulse burns: burns of 2 to 5 mm are common practice
	TapeMM = 14  // radius of what the tape covers: a head's bore is 20 to 25 mm, the target a little wider
)

// Where a rehearsal starts: the worst spot lies between these, mm. Nearer there
// would be nothing to do; farther the burn would run off the printed rings.
const (
	startLeast = 2.5
	startMost  = 9.0
)

// drawTries is how often a misalignment is drawn before giving up. With the starter
// profile 78 of 100 draws serve, at every level (TestMostDrawsServe).
const drawTries = 4000

// NewBench draws a machine out of line: every spot on the target, none clipped,
// the worst some millimetres off. It fails when the profile does not allow that.
func NewBench(p machine.Profile, seed uint64, level Level) (*Bench, error) {
	if p.Pointer != nil && vec(p.Pointer.Normal).Dot(vec(p.Source.Direction)) <= 0 {
		return nil, errors.New("the pointer's mount does not reflect along the beam: in the profile's part pointer, normal must point to where the beam goes")
	}
	r := level.ranges().overruled(p.Faults)
	d := chance.New(seed, chance.Stream("hidden"))
	pointerScrews, tape := drawPointerScrews(p, seed, r), drawTape(seed)
	var spare *Bench
	for range drawTries {
		f := drawFaults(d, p, r)
		f.PointerScrews, f.TapeMM = pointerScrews, tape
		b := Assemble(p, seed, f)
		b.Level = level
		worst := b.worst()
		if worst > startLeast && worst < startMost {
			return b, nil
		}
		if spare == nil && worst < startMost {
			spare = b // almost aligned: better than none
		}
	}
	if spare != nil {
		return spare, nil
	}
	return nil, errors.New("with this profile no misalignment lets the beam reach the target at every station: " +
		"check that each mirror hands the beam on to the next, or give smaller ranges in the profile's rehearsal part")
}

// Assemble is a bench with faults of one's own. Faults must fit the profile, as
// NoFaults makes them; without any for the pointer's screws, these have none.
func Assemble(p machine.Profile, seed uint64, f Faults) *Bench {
	if p.Pointer != nil && f.PointerScrews == nil {
		f.PointerScrews = NoFaults(p).PointerScrews
	}
	b := &Bench{Profile: p, Seed: seed, Level: Easy, Hidden: f, mounts: mountsOf(p)}
	b.screws = make([][3]play, len(b.mounts))
	for i := range b.screws {
		of := b.hiddenScrews(i)
		for j := range 3 {
			b.screws[i][j] = newPlay(of.BacklashTurns[j], of.Lean[j])
		}
	}
	return b
}

// hiddenScrews are what is wrong with the screws of one of Mounts.
func (b *Bench) hiddenScrews(mount int) ScrewFaults {
	if mount < len(b.Hidden.Mirrors) {
		return b.Hidden.Mirrors[mount].ScrewFaults
	}
	return *b.Hidden.PointerScrews
}

// Across gives the two axes across the profile's beam about which and along which
// Faults puts a beam out, x, y, z of the machine.
func (b *Bench) Across() (u, v [3]float64) {
	p, q := optics.Across(vec(b.Profile.Source.Direction))
	return [3]float64{p.X, p.Y, p.Z}, [3]float64{q.X, q.Y, q.Z}
}

// worst is the largest distance of a spot in mm, infinite when one is clipped or missing: a
// machine where that may be is not one to begin an alignment with.
func (b *Bench) worst() float64 {
	worst := 0.0
	for _, s := range b.Spots() {
		if s.Clipped || s.Missing {
			return math.Inf(1)
		}
		worst = max(worst, s.Distance())
	}
	return worst
}

// Spots are where the beam lands, in the order of the profile's stations.
func (b *Bench) Spots() []Spot {
	return b.spots(func(l layout) optics.Ray { return l.source }, beamMM)
}

// PointerSpots are where the red pointer's dot lies. Mirrors do not clip it: it is thin,
// and either meets all of them or is missing.
func (b *Bench) PointerSpots() []Spot { return b.spots(b.pointerRay, 0) }

// spots are where a beam of a radius in mm lands.
func (b *Bench) spots(beam func(layout) optics.Ray, radius float64) []Spot {
	list := make([]Spot, len(b.Profile.Stations))
	for i, s := range b.Profile.Stations {
		l := newLayout(b.Profile, b.Hidden, s)
		list[i] = b.spot(l, beam(l), radius)
		list[i].Station = s.Name
	}
	return list
}

// pointerRay is the red pointer's ray on its way to the first mirror. Its plate,
// with no screw turned, throws it along layout.pointer; a plate that stands
// elsewhere throws the same incoming ray elsewhere. It is nowhere when the plate
// does not meet it.
func (b *Bench) pointerRay(l layout) optics.Ray {
	if l.pointerMount == nil {
		return l.pointer
	}
	incoming := l.pointer.Before(l.pointerMount.Set([3]float64{}).Plane)
	out, _ := incoming.Reflected(l.pointerMount.Set(b.advance(len(b.Profile.Mirrors))).Plane)
	return out
}

// spot traces one beam to the target: the place where it meets the target's plane, from the
// target's middle along right and up. A radius in mm decides what an edge does to it: nearer
// than the radius to the spot it clips the beam, beyond the spot by more than the radius it
// takes all of it.
func (b *Bench) spot(l layout, beam optics.Ray, radius float64) Spot {
	mirrors := make([]optics.Mirror, len(l.mounts))
	for i, m := range l.mounts {
		mirrors[i] = m.Set(b.advance(i))
	}
	end, ok := optics.Follow(beam, mirrors, l.screen)
	if !ok {
		return Spot{RightMM: math.NaN(), UpMM: math.NaN(), Missing: true}
	}
	off := end.At.Minus(l.screen.Through)
	s := Spot{RightMM: off.Dot(l.right), UpMM: off.Dot(l.up)}
	s.Missing = s.Distance() > TapeMM
	for _, edge := range end.Edges {
		cut, clear := l.cut(edge, s)
		s.Cuts = append(s.Cuts, cut)
		s.Missing = s.Missing || clear < -radius
		s.Clipped = s.Clipped || clear < radius
	}
	s.Clipped = s.Clipped && !s.Missing
	return s
}

// cut is an edge as it lies on the target, the line of the rays displaced across the
// beam, and how far from the beam's spot it lies, mm.
//
// Rays displaced by s across the beam are dark where s·Toward > At. On the target, which the
// beam meets nearly square, s is (right, up) from the spot: with (x, y) the parts of Toward
// along right and up, x right + y up = At is the edge, At/√(x² + y²) away from the spot in
// the direction atan2(y, x).
func (l *layout) cut(edge optics.Edge, s Spot) (cut Cut, clear float64) {
	x, y := edge.Toward.Dot(l.right), edge.Toward.Dot(l.up)
	slope := math.Hypot(x, y)
	clear = edge.At / slope
	return Cut{Deg: math.Atan2(y, x) * 180 / math.Pi, MM: clear + (s.RightMM*x+s.UpMM*y)/slope}, clear
}

// advance is how far the screws have moved a mount's plate along its normal, mm, at each of
// the three: turns of the plate, which play makes fewer than those of the screw, times the
// pitch, signed by whether clockwise is forward, times the hidden gain. optics.Mount.Set
// makes the plane through the three moved points of it, exactly and not to first order.
func (b *Bench) advance(mount int) (mm [3]float64) {
	perTurn, gain := b.mounts[mount].Screws.Advance(), b.hiddenScrews(mount).Gain
	for j := range mm {
		mm[j] = b.screws[mount][j].moved() * perTurn * gain[j]
	}
	return mm
}
