package machine

import (
	"fmt"
	"math"
	"strings"

	"github.com/goccy/go-yaml"

	"burngauge.dev/burngauge/pkg/strictyaml"
)

// reader turns a file into a profile and keeps the first fault that it finds.
// After one, what it returns is of no use.
type reader struct {
	source strictyaml.Source
	fault  *strictyaml.Fault
}

// refuse notes a fault of a key, unless there is one already.
func (r *reader) refuse(key, format string, args ...any) {
	if r.fault == nil {
		r.fault = r.source.Fault(key, fmt.Sprintf(format, args...))
	}
}

func (r *reader) profile(f profileFile) Profile {
	p := Profile{Name: f.Name, Faults: f.Rehearsal}
	r.label("name", "the machine", f.Name)
	p.Source = Source{AtMM: r.place("source.at_mm", f.Source.AtMM), Direction: r.direction("source.direction", f.Source.Direction)}
	if len(f.Mirrors) == 0 {
		r.refuse("mirrors", "missing: list the mirrors in the order in which the beam meets them")
	}
	if len(f.Mirrors) > decide.MostMirrors {
		r.refuse("mirrors", "%d mirrors: list at most %d", len(f.Mirrors), decide.MostMirrors)
	}
	for i, m := range f.Mirrors {
		p.Mirrors = append(p.Mirrors, r.mirror(fmt.Sprintf("mirrors[%d]", i), m))
	}
	p.Target = Target{Rides: r.rides("target.rides", f.Target.Rides), AtMM: r.place("target.at_mm", f.Target.AtMM)}
	p.Target.Normal, p.Target.Up = r.face("target", f.Target.Normal, f.Target.Up)
	p.Stations = r.stations(f.Stations)
	p.Pointer = r.pointer(f.Pointer)
	r.ranges(f.Rehearsal)
	return p
}

func (r *reader) mirror(key string, f mirrorFile) Mirror {
	r.label(key+".name", "the mirror", f.Name)
	m := Mirror{Name: f.Name, Rides: r.rides(key+".rides", f.Rides), AtMM: r.place(key+".at_mm", f.AtMM), ClearMM: f.ClearMM}
	m.Normal, m.Up = r.face(key, f.Normal, f.Up)
	r.within(key+".clear_mm", f.ClearMM, decide.MostClearMM, "the diameter in mm that the beam may use")
	m.Screws = r.screws(key+".screws", f.Screws)
	return m
}

// pointer reads the pointer's mount, nil when there is none.
func (r *reader) pointer(f *pointerFile) *Pointer {
	if f == nil {
		return nil
	}
	p := &Pointer{AtMM: r.place("pointer.at_mm", f.AtMM), Screws: r.screws("pointer.screws", f.Screws)}
	p.Normal, p.Up = r.face("pointer", f.Normal, f.Up)
	return p
}

func (r *reader) screws(key string, f screwsFile) Screws {
	s := Screws{PitchMM: f.PitchMM, Forward: f.Clockwise == "forward", TravelTurns: f.TravelTurns, SmallestTurn: f.SmallestTurn}
	for i, point := range []screwFile{f.A, f.B, f.C} {
		at := key + "." + ScrewNames[i] + ".at_mm"
		if v := r.numbers(at, point.AtMM, 2, "where the screw touches the plate, seen from behind: [right, up] in mm"); v != nil {
			s.Points[i] = Screw{RightMM: v[0], UpMM: v[1]}
		}
		s.Points[i].Gain, s.Points[i].GainU = r.gain(key+"."+ScrewNames[i], point)
	}
	r.within(key+".pitch_mm", f.PitchMM, decide.MostPitchMM, "how far a turn moves the screw, in mm")
	if f.Clockwise != "forward" && f.Clockwise != "backward" {
		r.refuse(key+".clockwise", "%q: write forward when turning the screw clockwise pushes the plate towards its reflecting side, else backward", f.Clockwise)
	}
	r.within(key+".travel_turns", f.TravelTurns, decide.MostTurns, "how many turns each screw may go either way")
	r.within(key+".smallest_turn", f.SmallestTurn, 1, "the finest turn that a hand can set, like 0.03125")
	r.spread(key, s)
	return s
}

// gain reads what was learnt of a screw, zeros when nothing was.
func (r *reader) gain(key string, f screwFile) (gain, u float64) {
	if f.Gain != nil {
		gain = *f.Gain
		if !(gain >= 1/decide.MostGain && gain <= decide.MostGain) {
			r.refuse(key+".gain", "%g is not from %g to %g: how far a turn really moves the screw, over pitch_mm; without it nothing is taken as learnt", gain, 1/decide.MostGain, decide.MostGain)
		}
	}
	if f.GainU != nil {
		u = *f.GainU
		if f.Gain == nil {
			r.refuse(key+".gain_u", "there is no gain that it could belong to: give both or neither")
		}
		r.within(key+".gain_u", u, 1, "the standard uncertainty of the gain, like 0.05")
	}
	return gain, u
}

// stations keeps the order of the file.
func (r *reader) stations(f yaml.MapSlice) []Station {
	if len(f) == 0 {
		r.refuse("stations", "missing: write each station with its place, like middle: [450, 300]")
	}
	if len(f) > decide.MostStations {
		r.refuse("stations", "%d stations: list at most %d", len(f), decide.MostStations)
	}
	var list []Station
	for _, item := range f {
		name, ok := item.Key.(string)
		if !ok || !plainWord(name) {
			r.refuse("stations", "%v: name a station in lower case letters, digits and hyphens, like rear-left; photos are named after it", item.Key)
			return nil
		}
		v := r.numbers("stations."+name, floats(item.Value), 2, "the head's place there: [x, y] in mm")
		if v == nil {
			return nil
		}
		list = append(list, Station{Name: name, XMM: v[0], YMM: v[1]})
	}
	return list
}

// floats turns a list of YAML numbers into floats, nil when it is anything else.
func floats(value any) []float64 {
	list, ok := value.([]any)
	if !ok {
		return nil
	}
	out := make([]float64, len(list))
	for i, v := range list {
		switch n := v.(type) {
		case float64:
			out[i] = n
		case int64:
			out[i] = float64(n)
		case uint64:
			out[i] = float64(n)
		default:
			return nil
		}
	}
	return out
}

// numbers takes a list of so many finite numbers of a machine's size; nil is a fault.
func (r *reader) numbers(key string, v []float64, count int, what string) []float64 {
	if len(v) != count {
		r.refuse(key, "give %s", what)
		return nil
	}
	for _, x := range v {
		if !(math.Abs(x) <= decide.MostMM) {
			r.refuse(key, "%g is not a number of mm up to %g: give %s", x, decide.MostMM, what)
			return nil
		}
	}
	return v
}

func (r *reader) place(key string, v []float64) Vec {
	if v = r.numbers(key, v, 3, "a place: [x, y, z] in mm"); v == nil {
		return Vec{}
	}
	return Vec(v)
}

// direction is a unit vector.
func (r *reader) direction(key string, v []float64) Vec {
	if v = r.numbers(key, v, 3, "a direction: [x, y, z], of any length"); v == nil {
		return Vec{}
	}
	if n := Vec(v).Norm(); n < decide.LeastLength {
		r.refuse(key, "a direction of length 0 points nowhere: give one like [1, 0, 1]")
	}
	return Vec(v).Unit()
}

// face is a normal and an up that is square to it, both of length 1.
func (r *reader) face(key string, normal, up []float64) (Vec, Vec) {
	n, u := r.direction(key+".normal", normal), r.direction(key+".up", up)
	square := u.Sub(n.Times(u.Dot(n)))
	if r.fault == nil && square.Norm() < decide.LeastUp {
		r.refuse(key+".up", "up points along the normal: give the direction that is up on its face")
	}
	return n, square.Unit()
}

func (r *reader) rides(key, word string) Rides {
	switch Rides(word) {
	case Frame, Gantry, Head:
	default:
		r.refuse(key, "%q: write frame (does not move), gantry (moves along y) or head (moves along x and y)", word)
	}
	return Rides(word)
}

// plainWord says whether a name can be a file's on any system.
func plainWord(name string) bool {
	return name != "" && len(name) <= decide.MostName && strings.Trim(name, "abcdefghijklmnopqrstuvwxyz0123456789-") == "" && name[0] != '-'
}
