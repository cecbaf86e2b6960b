package machine

import (
	"errors"
	"fmt"
	"math"
)

// Problem is what is wrong with a profile's geometry.
type Problem struct {
	Code string // not-handed-on | off-mirror | off-target | off-centre | in-a-line | dead-screw | pointer-off
	Text string // what is wrong and what to do, one line, lower case
}

// Check says what is wrong with the geometry, nil when nothing is: mirrors that
// do not hand the beam on to each other, a beam that misses the target or what a
// mirror may use, screws in a line, screws that move nothing. Parse has checked
// the numbers already.
func (p Profile) Check() []Problem {
	list := p.inLine()
	for _, s := range p.Stations {
		path, err := p.Trace(s.Name)
		var lost *TraceError
		if errors.As(err, &lost) {
			list = append(list, Problem{"not-handed-on", lost.Error()})
			break // the next stations would say the same
		}
		list = append(list, p.offMirrors(path)...)
		list = append(list, offTarget(path)...)
	}
	list = append(list, p.pointerOff()...)
	if len(list) > 0 {
		return list
	}
	return p.dead()
}

// pointerOff says when the pointer's mount does not lay its ray onto the beam: its middle
// lies |(m - s) × d| from the line through the source s along d, and its normal must have a
// part along d, or the plate would throw the ray back to the tube.
func (p Profile) pointerOff() []Problem {
	if p.Pointer == nil {
		return nil
	}
	to := p.Pointer.AtMM.Sub(p.Source.AtMM)
	if off := to.Cross(p.Source.Direction).Norm(); off > decide.OffCentreMM {
		return []Problem{{"pointer-off", fmt.Sprintf("the pointer's mount stands %.3g mm beside the beam: check its at_mm", off)}}
	}
	if p.Source.Direction.Dot(p.Pointer.Normal) < decide.EdgeOn {
		return []Problem{{"pointer-off", "the pointer's mount does not reflect along the beam: its normal must point to where the beam goes"}}
	}
	return nil
}

// inLine names mounts whose screws lie in a line, or nearly.
func (p Profile) inLine() (list []Problem) {
	for _, m := range p.Mirrors {
		if !m.Screws.spread() {
			list = append(list, Problem{"in-a-line", fmt.Sprintf("the screws of mirror %s lie in a line: give their places as seen from behind the mount", m.Name)})
		}
	}
	return list
}

// spread says whether three screws hold a plate: their triangle's least height against its
// longest side. Twice the triangle's area is |a × b| = |a_x b_y - a_y b_x| of two of its
// sides. The height matters because a turn of one screw tilts the plate by the pitch over
// that screw's height above the other two.
func (s Screws) spread() bool {
	p := s.Points
	ax, ay := p[1].RightMM-p[0].RightMM, p[1].UpMM-p[0].UpMM
	bx, by := p[2].RightMM-p[0].RightMM, p[2].UpMM-p[0].UpMM
	longest := max(math.Hypot(ax, ay), math.Hypot(bx, by), math.Hypot(bx-ax, by-ay))
	// Twice the triangle's area over its longest side is its least height.
	return math.Abs(ax*by-ay*bx)/longest >= decide.LeastSpread*longest
}

// offMirrors names the mirrors that the nominal beam does not meet well.
func (p Profile) offMirrors(path Path) (list []Problem) {
	for i, off := range path.OffMM {
		if m := p.Mirrors[i]; off > m.ClearMM/2 {
			list = append(list, Problem{"off-mirror", fmt.Sprintf("with the head at %s the beam meets mirror %s %.3g mm from its middle, and it may use %.3g: check at_mm of this mirror and the normal of the one before",
				path.Station, m.Name, off, m.ClearMM/2)})
		}
	}
	return list
}

// offTarget says when the nominal beam does not end in the target's middle.
func offTarget(path Path) []Problem {
	switch off := math.Hypot(path.RightMM, path.UpMM); {
	case off > decide.OffTargetMM:
		return []Problem{{"off-target", fmt.Sprintf("with the head at %s the beam passes the target's centre by %.3g mm and misses it: check at_mm of target and mirrors", path.Station, off)}}
	case off > decide.OffCentreMM:
		return []Problem{{"off-centre", fmt.Sprintf("with the head at %s the aligned beam meets the target %.2f mm right and %.2f mm up of its centre: check at_mm of target and mirrors", path.Station, path.RightMM, path.UpMM)}}
	}
	return nil
}

// dead names screws that move no spot.
func (p Profile) dead() (list []Problem) {
	r, err := p.Response()
	if err != nil { // Check has traced every station already
		return []Problem{{"not-handed-on", err.Error()}}
	}
	for j, screw := range r.Screws {
		most := 0.0
		for k := range r.Stations {
			most = max(most, math.Hypot(r.PerTurn[k][j][0], r.PerTurn[k][j][1]))
		}
		if most < decide.DeadMM {
			list = append(list, Problem{"dead-screw", fmt.Sprintf("%s moves the spot by %.2g mm a turn at most: check the screws' places and the pitch", screw, most)})
		}
	}
	return list
}
