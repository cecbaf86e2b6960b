package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/mat"
)

// needShare of the limit is how far off screws alone must leave the worst spot for a
// part to be moved: below, turning is the smaller job and does.
const needShare = 0.5

// constantOffset tells an offset that all spots have in common, when turning screws
// alone leaves the worst spot far off, and taking the offset away by moving a part
// betters it much.
func (p *planner) constantOffset() *Finding {
	if good, _ := p.asItIs(); good || !p.determined() {
		return nil
	}
	want, moved := p.common()
	off := math.Hypot(want[0], want[1])
	if off < tellShare*p.limit {
		return nil
	}
	alone := p.screwsAlone()
	if alone < needShare*p.limit || alone-moved < tellShare*p.limit {
		return nil
	}
	lies := [2]float64{-want[0], -want[1]}
	ways := p.cures(want)
	return &Finding{
		Code: "constant-offset",
		Text: fmt.Sprintf("All spots have an offset of %s in common, and tilting mirrors does not take that away well. Before any screw is turned, move one of these, its direction kept, then fire again and ask for a new plan: %s.",
			words(lies, onTarget), strings.Join(ways, "; or ")),
		Evidence: fmt.Sprintf("by screws alone the worst spot comes to %.2f mm from the centre, with that move to %.2f mm", alone, moved),
	}
}

// onTarget are the directions on the target, as one faces it.
var onTarget = [2][2]string{{"left", "right"}, {"down", "up"}}

// onMachine are those of the machine's axes, as one stands in front of it.
var onMachine = [3][2]string{{"to the left", "to the right"}, {"to the front", "to the rear"}, {"down", "up"}}

// common is the displacement that, given to all spots together with turns of the
// screws, makes the worst spot least, and how far off that is then. Turns cost what
// they cost a plan: of two ways that do the same, the move is taken, since it is the
// sure one.
func (p *planner) common() (want [2]float64, worst float64) {
	g := p.goal(p.outlook, firstCaution).movable(p.outlook)
	best := candidate{cost: math.Inf(1)}
	for _, s := range append(p.starts(), nil) {
		if c := g.candidate(append(slices.Clone(s), p.screws(), p.screws()+1)); c.cost < best.cost {
			best = c
		}
	}
	x := best.full(p.screws() + 2)
	want = [2]float64(x[p.screws():])
	for k := range p.stations {
		mean, _ := p.outlook.at(k, x[:p.screws()])
		worst = max(worst, math.Hypot(mean[0]+want[0], mean[1]+want[1]))
	}
	return want, worst
}

// screwsAlone is how far off the worst spot is after the best turns of all mirrors: the
// plan's own, unless it turns one mirror only or is cautious.
func (p *planner) screwsAlone() float64 {
	_, worst := p.outlook.worst(p.turns)
	if worst < needShare*p.limit || p.request.Style == StyleWhole && len(p.request.Past) == 0 {
		return worst
	}
	best := p.goal(p.outlook, firstCaution).search(p.starts())
	_, bold := p.outlook.worst(best.full(p.screws()))
	return min(worst, bold)
}

// mostMoveMM is how far a part may be moved along each axis: more than any mount's slots.
const mostMoveMM = 50.0

// movable adds two more unknowns to a goal: all spots moved right and up.
func (g *goal) movable(o *outlook) *goal {
	wide := *g
	wide.size += 2
	wide.square, wide.used, wide.walks = nil, nil, nil
	for k, q := range g.square {
		to := make([]float64, wide.size*wide.size)
		for i := range g.size {
			copy(to[i*wide.size:], q[i*g.size:(i+1)*g.size])
			for a := range 2 {
				to[i*wide.size+g.size+a], to[(g.size+a)*wide.size+i] = o.mean[k][a][i], o.mean[k][a][i]
			}
		}
		for a := range 2 {
			to[(g.size+a)*(wide.size+1)] = 1
		}
		wide.square, wide.used = append(wide.square, to), append(wide.used, append(slices.Clone(g.used[k]), 0, 0))
	}
	for _, w := range g.walks {
		w.perTurn = append(slices.Clone(w.perTurn), [2]float64{}, [2]float64{})
		wide.walks = append(wide.walks, w)
	}
	wide.low = append(slices.Clone(g.low), -mostMoveMM, -mostMoveMM)
	wide.high = append(slices.Clone(g.high), mostMoveMM, mostMoveMM)
	return &wide
}

// cures are the ways to move all spots by so much, in words: the tube, mirrors'
// mounts where these can, and the head.
func (p *planner) cures(want [2]float64) (list []string) {
	list = append(list, "the tube "+p.sourceMove(want))
	if mounts := p.mountMoves(want); mounts != "" {
		list = append(list, mounts)
	}
	return append(list, fmt.Sprintf("the head with the target in it %s as you face the target", words([2]float64{-want[0], -want[1]}, onTarget)))
}

// leastMoveMM is the least move worth a word.
const leastMoveMM = 0.05

// sourceMove is how the tube must be moved, in words, for the spots to move so.
func (p *planner) sourceMove(want [2]float64) string {
	by := p.response.BySource[p.stations[0]]
	a := mat.NewDense(2, 3, nil)
	for axis, v := range by {
		a.Set(0, axis, v[0])
		a.Set(1, axis, v[1])
	}
	f, err := leastSquares(a, want[:])
	if err != nil {
		return "across its beam"
	}
	var parts []string
	for axis, names := range onMachine {
		if v := f.x[axis]; math.Abs(v) >= leastMoveMM {
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
func (p *planner) mountMoves(want [2]float64) string {
	left := want
	var parts []string
	for range 2 {
		if math.Hypot(left[0], left[1]) < leastMoveMM {
			break
		}
		m, axis, by := p.mountMove(left)
		effect := p.response.ByMount[p.stations[0]][m][axis]
		left[0], left[1] = left[0]-by*effect[0], left[1]-by*effect[1]
		if math.Abs(by) >= leastMoveMM {
			parts = append(parts, fmt.Sprintf("mirror %s with its mount %.2f mm %s", p.profile.Mirrors[m].Name, math.Abs(by), side(by, onMachine[axis])))
		}
	}
	if math.Hypot(left[0], left[1]) >= 2*leastMoveMM {
		return ""
	}
	return strings.Join(parts, " and ")
}

// mountMove is the one move of one mirror that leaves the least of a displacement;
// of those that leave the same, that of the later mirror, which the beam wanders
// over the least, and its height before other axes.
func (p *planner) mountMove(want [2]float64) (mirror, axis int, by float64) {
	least := math.Hypot(want[0], want[1])
	const same = 1e-6 // mm
	for m := len(p.profile.Mirrors) - 1; m >= 0; m-- {
		for a := 2; a >= 0; a-- {
			e := p.response.ByMount[p.stations[0]][m][a]
			square := e[0]*e[0] + e[1]*e[1]
			if square < 0.01 { // a tenth of a mm for each: moved along its own face
				continue
			}
			v := (want[0]*e[0] + want[1]*e[1]) / square
			if rest := math.Hypot(want[0]-v*e[0], want[1]-v*e[1]); rest < least-same {
				least, mirror, axis, by = rest, m, a, v
			}
		}
	}
	return mirror, axis, by
}
