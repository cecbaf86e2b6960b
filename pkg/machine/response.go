package machine

// ScrewName names one screw of the machine.
type ScrewName struct{ Mirror, Screw string }

// String is how people call it: "mirror 1, screw A".
func (s ScrewName) String() string { return "mirror " + s.Mirror + ", screw " + s.Screw }

// Response is how the spot at every station answers to every screw: the
// derivative of the trace at zero turns, mm right and up on the target. Learnt
// gains are in it.
type Response struct {
	Stations []string    // in the order of the profile
	Screws   []ScrewName // A, B, C of each mirror, in the order of the beam
	Nominal  [][2]float64
	PerTurn  [][][2]float64 // [station][screw], mm per turn clockwise
	// PerLeg splits PerTurn by where on the beam's way it grows: [station][screw][leg],
	// in proportion to the length of that leg; leg 0 ends at the first mirror. What is
	// left of PerTurn is the plate's own shift.
	PerLeg [][][][2]float64
	// OnMirror is how the beam moves over each mirror's surface, right and up as
	// seen from behind: [station][screw][mirror], mm per turn.
	OnMirror [][][][2]float64
	// BySource is how the spot moves when the source is moved along x, y, z of the
	// machine, its direction kept: [station][axis], mm per mm.
	BySource [][3][2]float64
	// ByMount is the same for each mirror's whole mount, its tilt kept:
	// [station][mirror][axis].
	ByMount [][][3][2]float64
}

// Response derives the answer of every spot to every screw from the geometry alone: the
// exact derivatives of Trace at zero turns, worked out along the beam, not differences of
// two traces. What they leave out is of second order: about L δ² of a tilt δ over the way L,
// 0.3 mm over a metre at a degree. It fails as Trace does.
func (p Profile) Response() (*Response, error) {
	r := &Response{Screws: p.ScrewNames()}
	for _, s := range p.Stations {
		path, err := p.Trace(s.Name)
		if err != nil {
			return nil, err
		}
		beam := newBeam(p, s, path)
		var perTurn [][2]float64
		var perLeg, onMirror [][][2]float64
		for k := range r.Screws {
			spot, legs, walk := beam.answer(k/ScrewsPerMount, p.Mirrors[k/ScrewsPerMount].tilt(k%ScrewsPerMount))
			perTurn, perLeg, onMirror = append(perTurn, spot), append(perLeg, legs), append(onMirror, walk)
		}
		source, mounts := beam.moves()
		r.BySource, r.ByMount = append(r.BySource, source), append(r.ByMount, mounts)
		r.Stations, r.Nominal = append(r.Stations, s.Name), append(r.Nominal, [2]float64{path.RightMM, path.UpMM})
		r.PerTurn, r.PerLeg, r.OnMirror = append(r.PerTurn, perTurn), append(r.PerLeg, perLeg), append(r.OnMirror, onMirror)
	}
	return r, nil
}

// ScrewNames are all the screws, A, B, C of each mirror in the order of the beam.
func (p Profile) ScrewNames() (list []ScrewName) {
	for _, m := range p.Mirrors {
		for _, s := range ScrewNames {
			list = append(list, ScrewName{m.Name, s})
		}
	}
	return list
}

// Station finds a station's place in Stations, -1 when there is none.
func (r *Response) Station(name string) int {
	for i, s := range r.Stations {
		if s == name {
			return i
		}
	}
	return -1
}

// Screw finds a screw's place in Screws, -1 when there is none.
func (r *Response) Screw(mirror, screw string) int {
	for i, s := range r.Screws {
		if s == (ScrewName{mirror, screw}) {
			return i
		}
	}
	return -1
}

// tilted is how a plate changes per turn of one of its screws: where its middle goes, mm, and
// how its unit normal changes, radians square to it.
type tilted struct{ shift, normal Vec }

// tilt is that of a clockwise turn. The screw moves the plate by the pitch and
// the other two points stay, so the height of the plate over the point (x, y) is
// a plane that is the pitch at the screw and 0 at the others: the pitch times the
// screw's barycentric coordinate in the triangle of the three,
//
//	h(x, y) = pitch ((x - a_x)(b_y - a_y) - (y - a_y)(b_x - a_x)) / double,
//
// with double the same for the screw itself, twice the triangle's area. A learnt gain
// multiplies the pitch. The normal leans against the slope: n' = n - h_x right - h_y up.
func (m Mirror) tilt(screw int) tilted {
	s := m.Screws.Points
	own, a, b := s[screw], s[(screw+1)%ScrewsPerMount], s[(screw+2)%ScrewsPerMount]
	double := (own.RightMM-a.RightMM)*(b.UpMM-a.UpMM) - (own.UpMM-a.UpMM)*(b.RightMM-a.RightMM)
	perMM := m.Screws.Advance() * own.Pull() / double
	slopeRight, slopeUp := (b.UpMM-a.UpMM)*perMM, -(b.RightMM-a.RightMM)*perMM
	middle := -slopeRight*a.RightMM - slopeUp*a.UpMM
	return tilted{
		shift:  m.Normal.Times(middle),
		normal: m.Right().Times(-slopeRight).Add(m.Up.Times(-slopeUp)),
	}
}

// beam is the nominal beam at one station, for derivatives: all vectors are in the machine's
// frame, mm, and of unit length where they are directions. Facet i is hit at points[i] by the
// ray along[i] after legs[i] mm; the last facet is the target.
type beam struct {
	profile Profile
	facets  []facet
	points  []Vec // on the facets
	along   []Vec // towards each facet
	legs    []float64
}

func newBeam(p Profile, s Station, path Path) beam {
	b := beam{profile: p, facets: p.facets(s), points: path.Points[1:]}
	for i := range b.facets {
		leg := path.Points[i+1].Sub(path.Points[i])
		b.legs, b.along = append(b.legs, leg.Norm()), append(b.along, leg.Unit())
	}
	return b
}

// ray is the derivative of a ray by a turn: of where it meets the facet in hand, mm a turn,
// and of its direction, radians a turn.
type ray struct{ at, along Vec }

// answer takes the change of one mirror's plate along the beam: to the spot on
// the target, to the share of every leg in it, and to the spots on the mirrors. To first
// order a ray that turns by δd is displaced by δd times the length of each leg after it,
// and what has grown on one leg is carried on without change of direction.
func (b beam) answer(mirror int, change tilted) (spot [2]float64, perLeg, onMirror [][2]float64) {
	perLeg, onMirror = make([][2]float64, len(b.facets)), make([][2]float64, len(b.facets)-1)
	r := b.reflect(mirror, ray{}, change)
	for i := mirror + 1; i < len(b.facets); i++ {
		grown := r.along.Times(b.legs[i])
		perLeg[i] = b.carry(i, grown)
		r.at = b.land(i, r.at.Add(grown))
		if i < len(b.facets)-1 {
			m := b.profile.Mirrors[i]
			onMirror[i] = [2]float64{r.at.Dot(m.Right()), r.at.Dot(m.Up)}
			r = b.reflect(i, r, tilted{})
		}
	}
	return b.onTarget(r.at), perLeg, onMirror
}

// moves are how the spot follows the source, and each mirror's mount, along x, y and z. A
// source that moves displaces the whole ray. A mount that moves by e displaces its plane by
// n·e along n, and nothing by what is left of e: a mirror that slides in its own plane
// reflects as before.
func (b beam) moves() (source [3][2]float64, mounts [][3][2]float64) {
	mounts = make([][3][2]float64, len(b.facets)-1)
	for axis, along := range [3]Vec{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}} {
		source[axis] = b.carry(0, along)
		for m := range mounts {
			n := b.facets[m].normal
			moved := b.reflect(m, ray{}, tilted{shift: n.Times(n.Dot(along))})
			mounts[m][axis] = b.carry(m+1, moved.at)
		}
	}
	return source, mounts
}

// land moves a displaced ray along itself to where it meets the facet's plane:
// at - d (at·n)/(d·n).
func (b beam) land(i int, at Vec) Vec {
	n, d := b.facets[i].normal, b.along[i]
	return at.Sub(d.Times(at.Dot(n) / d.Dot(n)))
}

// reflect is the derivative of the law of reflection d' = d - 2 (d·n) n at facet i,
//
//	δd' = δd - 2 (δd·n + d·δn) n - 2 (d·n) δn,
//
// for a ray that lands displaced by r.at and a plate that changes too. The plate's plane at
// the nominal spot, q off the plate's middle, rises along n by shift·n - q·δn: by its shift
// and by its slope there. A plane that rises by h is met h/(d·n) further along the ray, which
// is sooner, since d·n is below 0.
func (b beam) reflect(i int, r ray, change tilted) ray {
	n, d := b.facets[i].normal, b.along[i]
	rise := change.shift.Dot(n) - b.points[i].Sub(b.facets[i].at).Dot(change.normal)
	at := r.at.Add(d.Times(rise / d.Dot(n)))
	along := r.along.Sub(n.Times(2 * (r.along.Dot(n) + d.Dot(change.normal)))).Sub(change.normal.Times(2 * d.Dot(n)))
	return ray{at, along}
}

// carry takes a displacement of the ray towards facet i to the target, with no
// change of direction: on each mirror it slides along the ray into the mirror's plane, and
// what comes off there is displaced by the same, since the plane itself is where both rays
// are.
func (b beam) carry(i int, at Vec) [2]float64 {
	for ; i < len(b.facets)-1; i++ {
		at = b.reflect(i, ray{at: b.land(i, at)}, tilted{}).at
	}
	return b.onTarget(b.land(i, at))
}

func (b beam) onTarget(at Vec) [2]float64 {
	return [2]float64{at.Dot(b.profile.Target.Right()), at.Dot(b.profile.Target.Up)}
}
