package plan

import (
	"fmt"
	"math"

	"burngauge.dev/burngauge/pkg/machine"
)

// geometry is a machine laid out for linear algebra: stations and screws by their
// places in the response, not by name.
type geometry struct {
	settings Settings
	profile  machine.Profile
	response *machine.Response
	place    [][2]float64 // of each station, -1..1 over the bed
}

func newGeometry(p machine.Profile, settings Settings) (*geometry, error) {
	r, err := p.Response()
	if err != nil {
		return nil, fmt.Errorf("machine profile: %w", err)
	}
	x, y := make([]float64, len(p.Stations)), make([]float64, len(p.Stations))
	for i, s := range p.Stations {
		x[i], y[i] = s.XMM, s.YMM
	}
	x, y = spanned(x), spanned(y)
	g := &geometry{settings: settings, profile: p, response: r, place: make([][2]float64, len(p.Stations))}
	for i := range g.place {
		g.place[i] = [2]float64{x[i], y[i]}
	}
	return g, nil
}

// spanned maps numbers to -1..1, x to (2x - low - high)/(high - low), all to 0 when they are
// the same. The field's terms 1, x, y, xy are then of the same size at the bed's corners, and
// a coefficient is so many mm there, whatever the bed's size.
func spanned(v []float64) []float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, x := range v {
		low, high = min(low, x), max(high, x)
	}
	out := make([]float64, len(v))
	for i, x := range v {
		if high > low {
			out[i] = (2*x - low - high) / (high - low)
		}
	}
	return out
}

func (g *geometry) stations() int { return len(g.response.Stations) }
func (g *geometry) screws() int   { return len(g.response.Screws) }
func (g *geometry) legs() int     { return len(g.profile.Mirrors) + 1 }

// mount is that of a screw, by its place in Response.Screws: three of them for each mirror,
// in the order of the beam.
func (g *geometry) mount(screw int) machine.Screws {
	return g.profile.Mirrors[screw/machine.ScrewsPerMount].Screws
}

// point is where a screw touches its plate.
func (g *geometry) point(screw int) machine.Screw {
	return g.mount(screw).Points[screw%machine.ScrewsPerMount]
}

// gainU is the relative standard uncertainty of a screw's gain beforehand: what the profile
// has learnt, u(g)/g, or that of any screw. The response has the learnt gain in it already, so
// that the unknown is what is left, about 1.
func (g *geometry) gainU(screw int) float64 {
	s := g.point(screw)
	if s.Gain == 0 || s.GainU == 0 {
		return g.settings.Prior.Gain
	}
	return s.GainU / s.Gain
}

// alongScrew is the covariance of a spot from u turns of uncertainty of one screw: u²
// v vᵀ, with v the spot's way for each turn. It is a line's, of rank one.
func (g *geometry) alongScrew(station, screw int, u float64) [2][2]float64 {
	v := g.response.PerTurn[station][screw]
	x, y := v[0]*u, v[1]*u
	return [2][2]float64{{x * x, x * y}, {x * y, y * y}}
}

// setting is the covariance of a spot from a hand's setting of one screw, which is off by
// a share of the finest turn: see ReadingSettings.
func (g *geometry) setting(station, screw int) [2][2]float64 {
	return g.alongScrew(station, screw, g.settings.Reading.settingU()*g.mount(screw).SmallestTurn)
}

// pastTurns is how far an anticlockwise turn of a screw goes past its end, in whole
// finest turns: the least multiple of the step that is PastTurns or more. The turn back up
// then ends clockwise with all play taken up, as every other turn does.
func (g *geometry) pastTurns(screw int) float64 {
	step := g.mount(screw).SmallestTurn
	return step * math.Ceil(g.settings.Turn.PastTurns/step-g.settings.Search.StepTolerance)
}

// pivots are each mirror's screws at the corner of the mount: the one whose distances
// to the other two are the shortest, 0, 1 or 2. Of a kinematic mount that is the fixed point:
// each of the other two then tilts the plate about one axis, and the two axes are nearly
// square to each other.
func (g *geometry) pivots() (list []int) {
	for _, m := range g.profile.Mirrors {
		list = append(list, pivot(m.Screws))
	}
	return list
}

func pivot(s machine.Screws) (at int) {
	least := math.Inf(1)
	for i, own := range s.Points {
		sum := 0.0
		for _, other := range s.Points {
			sum += math.Hypot(own.RightMM-other.RightMM, own.UpMM-other.UpMM)
		}
		if sum < least {
			at, least = i, sum
		}
	}
	return at
}
