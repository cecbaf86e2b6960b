package machine

// Rides says what carries a part of the machine.
type Rides string

// What can carry a part.
const (
	Frame  Rides = "frame"  // does not move
	Gantry Rides = "gantry" // moves along y with the station
	Head   Rides = "head"   // moves along x and y with the station
)

// Profile describes one machine. A Profile that Parse or Check has passed has
// unit vectors, ups square to their normals, and screws that are not in a line.
type Profile struct {
	Name     string
	Source   Source
	Mirrors  []Mirror // in the order in which the beam meets them
	Target   Target
	Stations []Station // in the order of the file
	Pointer  *Pointer  // nil when the profile has no red pointer's mount
	Faults   Ranges    // what a simulated machine may be out by, where the profile says so
}

// Source is where the beam leaves the tube. It does not move.
type Source struct {
	AtMM      Vec
	Direction Vec // unit vector
}

// Mirror is one mirror on its mount.
type Mirror struct {
	Name    string
	Rides   Rides
	AtMM    Vec // middle of the reflecting surface; for x = y = 0 when it moves
	Normal  Vec // unit vector, out of the reflecting side
	Up      Vec // unit vector, square to Normal
	ClearMM float64
	Screws  Screws
}

// Pointer is the mount of the plate that lays the red pointer's ray onto the beam's
// way, between the source and the first mirror: the beam goes through it, the
// pointer's ray is reflected. It does not move.
type Pointer struct {
	AtMM   Vec
	Normal Vec // unit vector, out of the side that reflects the pointer
	Up     Vec // unit vector, square to Normal
	Screws Screws
}

// ScrewsPerMount is how many screws a plate rests on: three fix a plane.
const ScrewsPerMount = 3

// Screws are the three that a mirror's plate rests on.
type Screws struct {
	Points       [ScrewsPerMount]Screw // A, B, C
	PitchMM      float64               // how far a turn moves the plate at the screw
	Forward      bool                  // whether clockwise moves the plate along +normal there
	TravelTurns  float64               // how far each screw may go, either way
	SmallestTurn float64               // the finest turn that a hand can set
}

// ScrewNames are the screws' letters, in the order of Screws.Points.
var ScrewNames = [ScrewsPerMount]string{"A", "B", "C"}

// Screw is where a screw touches the plate: right and up of the mirror's middle,
// as one sees the mount from behind, mm. Gain is how far it really moves the
// plate, over the pitch, as learnt from past rounds, and GainU its standard
// uncertainty; both are 0 for a screw of which nothing was learnt.
type Screw struct{ RightMM, UpMM, Gain, GainU float64 }

// Pull is the screw's gain, 1 when nothing was learnt.
func (s Screw) Pull() float64 {
	if s.Gain == 0 {
		return 1
	}
	return s.Gain
}

// Target is the ring target where the beam enters the head.
type Target struct {
	Rides  Rides
	AtMM   Vec
	Normal Vec // unit vector, out of the face
	Up     Vec // unit vector, square to Normal
}

// Station is a place of the head at which it is tested.
type Station struct {
	Name     string
	XMM, YMM float64
}

// Ranges are how far `rehearse` may put a machine out. A nil leaves a range to
// the rehearsal's level. Faults are drawn from minus to plus the range.
type Ranges struct {
	MirrorTiltDeg  *float64 `yaml:"mirror_tilt_deg"`  // of each mount about its right and its up
	MirrorShiftMM  *float64 `yaml:"mirror_shift_mm"`  // of each mount along right, up and normal
	SourceAimDeg   *float64 `yaml:"source_aim_deg"`   // of the beam, about both axes across it
	SourceShiftMM  *float64 `yaml:"source_shift_mm"`  // of the beam, along both
	PointerAimDeg  *float64 `yaml:"pointer_aim_deg"`  // of the red pointer against the beam
	PointerShiftMM *float64 `yaml:"pointer_shift_mm"` // likewise
	LengthsPercent *float64 `yaml:"lengths_percent"`  // of each leg of the beam's path
	GainsPercent   *float64 `yaml:"gains_percent"`    // of each screw's pitch
	TwistMM        *float64 `yaml:"twist_mm"`         // of the head at the far corner, growing with x times y
	BacklashTurns  *float64 `yaml:"backlash_turns"`   // lost when a screw turns back; drawn from 0 up
}

// At is where a part that rides so is when the head stands at the station (x, y): a part on
// the frame at its place, one on the gantry moved by (0, y, 0), one on the head by (x, y, 0).
func (s Station) At(rides Rides, at Vec) Vec {
	switch rides {
	case Gantry:
		return at.Add(Vec{0, s.YMM, 0})
	case Head:
		return at.Add(Vec{s.XMM, s.YMM, 0})
	}
	return at
}

// Right is to the right of one who looks at the mount from BEHIND, along +normal:
// normal x up. It is a unit vector in the machine's frame. Screws are turned from behind, and
// their places are counted so: (right, up, normal) is a left-handed frame, as every picture
// with x right, y up and z away from the viewer is.
func (m Mirror) Right() Vec { return m.Normal.Cross(m.Up) }

// Right is to the right of one who faces the target, looking along -normal:
// (-normal) x up. It is a unit vector in the machine's frame.
func (t Target) Right() Vec { return t.Up.Cross(t.Normal) }

// Advance is how far a clockwise turn moves the plate at the screw along +normal,
// mm a turn; negative when it draws the plate back.
func (s Screws) Advance() float64 {
	if s.Forward {
		return s.PitchMM
	}
	return -s.PitchMM
}

// Station finds a station by its name.
func (p Profile) Station(name string) (Station, bool) {
	for _, s := range p.Stations {
		if s.Name == name {
			return s, true
		}
	}
	return Station{}, false
}

// Mirror finds a mirror's place in Mirrors by its name, -1 when there is none.
func (p Profile) Mirror(name string) int {
	for i, m := range p.Mirrors {
		if m.Name == name {
			return i
		}
	}
	return -1
}

// BoundGain holds a learnt gain within what a profile may hold, from 1/most to most: a
// screw that pulls half as much is as far off as one that pulls twice as much.
func BoundGain(v float64) float64 { return min(max(v, 1/decide.MostGain), decide.MostGain) }

// pointerMM is how far before its mount the pointer's ray begins, and how wide its
// plate counts as: neither matters for where the dot goes.
const pointerMM = 100

// OfPointer is the machine as the pointer's ray sees it: its mount is the first
// mirror, named "pointer". It is false without one.
//
// The ray leaves the plate along the beam, with the direction d. A reflection undoes
// itself, so that it came with d - 2(d·n)n; the source is put pointerMM back along that
// line. Nothing else changes: from the plate on, the ray's way is the beam's.
func (p Profile) OfPointer() (Profile, bool) {
	if p.Pointer == nil {
		return Profile{}, false
	}
	m := p.Pointer
	before := p.Source.Direction.Sub(m.Normal.Times(2 * p.Source.Direction.Dot(m.Normal)))
	mount := Mirror{Name: "pointer", Rides: Frame, AtMM: m.AtMM, Normal: m.Normal, Up: m.Up, ClearMM: pointerMM, Screws: m.Screws}
	p.Source = Source{AtMM: m.AtMM.Sub(before.Times(pointerMM)), Direction: before}
	p.Mirrors = append([]Mirror{mount}, p.Mirrors...)
	p.Pointer = nil
	return p, true
}
