package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/mat"

	"burngauge.dev/burngauge/pkg/plan/leastsquares"
	"burngauge.dev/burngauge/pkg/plan/search"
)

// offsetFinder looks for an offset that all spots have in common, and how parts of the
// machine must be moved to take it away.
type offsetFinder struct{ *planner }

// finding names the offset when turning screws alone leaves the worst spot far off, and
// taking the offset away by moving a part brings it much nearer.
func (p *offsetFinder) finding() *Finding {
	if good, _ := p.asItIs(); good || !p.determined() {
		return nil
	}
	want, moved := p.common()
	off := math.Hypot(want[0], want[1])
	s := p.settings.Offset
	if off < s.GainShare*p.limitMM {
		return nil
	}
	alone := p.screwsAlone()
	if alone < s.NeedShare*p.limitMM || alone-moved < s.GainShare*p.limitMM {
		return nil
	}
	lies := [2]float64{-want[0], -want[1]}
	ways := p.cures(want)
	return &Finding{
		Code: CodeConstantOffset,
		Text: fmt.Sprintf("All spots have an offset of %s in common, and tilting mirrors does not take that away well. Before any screw is turned, move one of these, its direction kept, then fire again and ask for a new plan: %s.",
			inWords(lies, onTarget), strings.Join(ways, "; or ")),
		Evidence: fmt.Sprintf("by screws alone the worst spot comes to %.2f mm from the centre, with that move to %.2f mm", alone, moved),
	}
}

// common is the displacement that, given to all spots together with turns of the
// screws, makes the worst spot least, and how far off that is then. Turns cost what
// they cost a plan: of two ways that do the same, the move is taken, since it is the
// sure one.
func (p *offsetFinder) common() (want [2]float64, worst float64) {
	g := p.movable(p.goal(p.outlook, p.settings.Turn.FirstCaution))
	best := search.Choice{CostMM: math.Inf(1)}
	for _, s := range append(p.starts(), nil) {
		if c := g.Unrounded(append(slices.Clone(s), p.screws(), p.screws()+1)); c.CostMM < best.CostMM {
			best = c
		}
	}
	x := best.All(p.screws() + axes)
	want = [2]float64(x[p.screws():])
	for k := range p.stations {
		mean, _ := p.outlook.at(k, x[:p.screws()])
		worst = max(worst, math.Hypot(mean[0]+want[0], mean[1]+want[1]))
	}
	return want, worst
}

// screwsAlone is how far off the worst spot is after the best turns of all mirrors: the
// plan's own, unless it turns one mirror only or is cautious.
func (p *offsetFinder) screwsAlone() float64 {
	_, worst := p.outlook.worst(p.turns)
	if worst < p.settings.Offset.NeedShare*p.limitMM || p.request.Style == StyleWhole && len(p.request.Past) == 0 {
		return worst
	}
	best := p.goal(p.outlook, p.settings.Turn.FirstCaution).Best(p.starts())
	_, bold := p.outlook.worst(best.All(p.screws()))
	return min(worst, bold)
}

// movable adds two more unknowns to a goal, as if they were screws: all spots moved
// right and up by s. With m the spot's coefficients, |mᵀx + s|² adds to Q the products
// of m with s, and 1 for each axis of s itself. A move takes no beam over a mirror.
func (p *offsetFinder) movable(g *search.Goal) *search.Goal {
	wide := *g
	wide.Size += axes
	wide.Square, wide.Used, wide.Edges = nil, nil, nil
	for k, q := range g.Square {
		to := make([]float64, wide.Size*wide.Size)
		for i := range g.Size {
			copy(to[i*wide.Size:], q[i*g.Size:(i+1)*g.Size])
			for a := range axes {
				m := p.outlook.mean[k][a][i]
				to[i*wide.Size+g.Size+a], to[(g.Size+a)*wide.Size+i] = m, m
			}
		}
		for a := range axes {
			to[(g.Size+a)*(wide.Size+1)] = 1
		}
		wide.Square, wide.Used = append(wide.Square, to), append(wide.Used, append(slices.Clone(g.Used[k]), 0, 0))
	}
	for _, e := range g.Edges {
		e.PerTurn = append(slices.Clone(e.PerTurn), [2]float64{}, [2]float64{})
		wide.Edges = append(wide.Edges, e)
	}
	most := p.settings.Offset.MostMM
	wide.Low = append(slices.Clone(g.Low), -most, -most)
	wide.High = append(slices.Clone(g.High), most, most)
	return &wide
}

// cures are the ways to move all spots by so much, in words: the tube, mirrors'
// mounts where these can, and the head.
func (p *offsetFinder) cures(want [2]float64) (list []string) {
	list = append(list, "the tube "+p.sourceMove(want))
	if mounts := p.mountMoves(want); mounts != "" {
		list = append(list, mounts)
	}
	return append(list, fmt.Sprintf("the head with the target in it %s as you face the target", inWords([2]float64{-want[0], -want[1]}, onTarget)))
}

// sourceMove is how the tube must be moved, in words, for the spots to move so: the
// shortest move along the machine's axes that does. Spots follow the source by a matrix of
// 2 x 3, B; of all s with B s = want the solution by singular values is the one of least
// norm, each axis counted by how far it moves the spots. One along the beam moves them not at
// all and gets no part.
func (p *offsetFinder) sourceMove(want [2]float64) string {
	by := p.response.BySource[p.stations[0]]
	a := mat.NewDense(2, 3, nil)
	for axis, v := range by {
		a.Set(0, axis, v[0])
		a.Set(1, axis, v[1])
	}
	f, err := leastsquares.Solve(a, want[:])
	if err != nil {
		return "across its beam"
	}
	var parts []string
	for axis, names := range onMachine {
		if v := f.X[axis]; math.Abs(v) >= p.settings.Offset.LeastMM {
			parts = append(parts, fmt.Sprintf("%.2f mm %s", math.Abs(v), side(v, names)))
		}
	}
	if len(parts) == 0 {
		return "across its beam"
	}
	return strings.Join(parts, " and ")
}

// mountMoves is how mirrors' mounts must be moved instead: a mirror moves the spots
// along one line only, so that two mirrors may be needed, each along one of the
// machine's axes. "" when mounts cannot do it.
func (p *offsetFinder) mountMoves(want [2]float64) string {
	left, least := want, p.settings.Offset.LeastMM
	var parts []string
	for range 2 {
		if math.Hypot(left[0], left[1]) < least {
			break
		}
		m, axis, by := p.mountMove(left)
		effect := p.response.ByMount[p.stations[0]][m][axis]
		left[0], left[1] = left[0]-by*effect[0], left[1]-by*effect[1]
		if math.Abs(by) >= least {
			parts = append(parts, fmt.Sprintf("mirror %s with its mount %.2f mm %s", p.profile.Mirrors[m].Name, math.Abs(by), side(by, onMachine[axis])))
		}
	}
	if math.Hypot(left[0], left[1]) >= 2*least {
		return ""
	}
	return strings.Join(parts, " and ")
}

// mountMove is the one move of one mirror that leaves the least of a displacement w. A
// move by v along an axis shifts all spots by v e, so that v = w·e/e·e leaves the least,
// |w - v e|; of those that leave the same, that of the later mirror, which the beam wanders
// over the least, and its height before other axes.
func (p *offsetFinder) mountMove(want [2]float64) (mirror, axis int, by float64) {
	least := math.Hypot(want[0], want[1])
	s := p.settings.Offset
	for m := len(p.profile.Mirrors) - 1; m >= 0; m-- {
		for a := 2; a >= 0; a-- {
			e := p.response.ByMount[p.stations[0]][m][a]
			square := e[0]*e[0] + e[1]*e[1]
			if square < s.LeastEffect*s.LeastEffect { // moved along its own face
				continue
			}
			v := (want[0]*e[0] + want[1]*e[1]) / square
			if rest := math.Hypot(want[0]-v*e[0], want[1]-v*e[1]); rest < least-s.SameMM {
				least, mirror, axis, by = rest, m, a, v
			}
		}
	}
	return mirror, axis, by
}
