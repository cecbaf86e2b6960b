package pointer

import (
	"math"

	"burngauge.dev/burngauge/pkg/spot"
)

// dot is where a pointer's light is symmetrical about: its middle, the common
// shape of its lines of equal light, ellipses, and how the light falls outwards
// in each colour.
type dot struct {
	x, y   float64    // mm
	e1, e2 float64    // lengthening of the ellipses: M = exp([e1 e2; e2 -e1]), distance² = dᵀ M d
	fall   [3]falloff // blue, green, red
	loss   [3]float64 // share of the dot's light that a wholly black place would not return
}

// newDot is a dot of which only a place is known.
func newDot(x, y float64, set *Settings) dot {
	return dot{x: x, y: y, loss: [3]float64{set.UsualLoss, set.UsualLoss, set.UsualLoss}}
}

// distance is the elliptic distance of a place from the middle, mm, and its
// derivatives by x, y, e1 and e2. With E = [e1 e2; e2 -e1] and s = √(e1² + e2²),
// E² = s² I, so that
//
//	M = exp E = cosh s I + (sinh s / s) E,    r² = dᵀ M d.
//
// M has the determinant 1: r keeps its scale whatever the lengthening.
func (d *dot) distance(x, y float64) (r float64, by [4]float64) {
	const round = 1e-9 // below this s, sinh s / s is 1 to the last digit
	dx, dy := x-d.x, y-d.y
	s := math.Hypot(d.e1, d.e2)
	ch, sh := math.Cosh(s), 1.0
	if s > round {
		sh = math.Sinh(s) / s
	}
	mx, my := (ch+sh*d.e1)*dx+sh*d.e2*dy, sh*d.e2*dx+(ch-sh*d.e1)*dy
	r = math.Sqrt(max(mx*dx+my*dy, smallest))
	// Those by e1 and e2 are exact for a circle and near enough for a step.
	return r, [4]float64{-mx / r, -my / r, (dx*dx - dy*dy) / (2 * r), dx * dy / r}
}

// smallest keeps a root or a divisor off zero.
const smallest = 1e-12

// returned is how much of the dot's light a cell gives back, against plain
// tape: a printed line returns less of it than tape does, but more than it
// returns of the room's light, since some of it spreads within the tape.
func (d *dot) returned(g *ground, c, k int) float64 { return 1 - d.loss[c]*(1-g.paint[c][k]) }

// settle finds the middle from a start by Gauss's and Newton's steps; the
// falloff is free, and learnt again at each. False when the steps leave the
// field or nothing determines them.
func (d *dot) settle(g *ground) bool {
	for range g.set.MostSteps {
		d.learn(g)
		eq := d.equations(g)
		step, ok := eq.solve(d, g.set.OblongU)
		if !ok {
			return false
		}
		length, turn := math.Hypot(step[0], step[1]), math.Hypot(step[2], step[3])
		d.move(step, min(1, g.set.StepMM/length, g.set.StepMM/turn), g.set.MostOblong)
		if !g.Holds(d.x, d.y) {
			return false
		}
		if length < g.set.SettledMM && turn < g.set.SettledOblong {
			break
		}
	}
	return true
}

// move goes a part of a step of x, y, e1 and e2.
func (d *dot) move(step [4]float64, part, mostOblong float64) {
	d.x, d.y = d.x+part*step[0], d.y+part*step[1]
	d.e1, d.e2 = d.e1+part*step[2], d.e2+part*step[3]
	if s := math.Hypot(d.e1, d.e2); s > mostOblong {
		d.e1, d.e2 = d.e1*mostOblong/s, d.e2*mostOblong/s
	}
}

// learn sets falloff and loss for the present middle, from the cells on plain
// tape and from those on printed lines.
func (d *dot) learn(g *ground) {
	for c := range g.Colour {
		samples := make([]sample, 0, len(g.fitted))
		for _, k := range g.fitted {
			if !g.isPlain(c, k) {
				continue
			}
			r, _ := d.distance(g.Centre(k))
			samples = append(samples, sample{r, g.added(c, k)})
		}
		d.fall[c] = newFalloff(samples, g, max(g.set.LeastLight, g.set.GroundU*g.tape[c]))
		d.learnLoss(g, c)
	}
}

// learnLoss fits the loss to the cells on printed lines. Such a cell returns
// p (1 - loss (1 - paint)) of the dot's light p: with q = p (1 - paint), least
// squares give loss = Σ q (p - added) / Σ q², in units of the scatter.
func (d *dot) learnLoss(g *ground, c int) {
	above, below := g.set.UsualLoss, 1.0 // as if one cell had shown the usual loss
	for _, k := range g.fitted {
		if g.isPlain(c, k) || g.Colour[c][k] > g.set.BurntOut {
			continue
		}
		r, _ := d.distance(g.Centre(k))
		p, _, scatter := d.fall[c].at(r)
		if p < g.set.LossScatters*scatter || p+g.tape[c] > g.set.BurntOut {
			continue
		}
		q := p * (1 - g.paint[c][k]) / scatter
		above += q * (p - g.added(c, k)) / scatter
		below += q * q
	}
	d.loss[c] = min(max(above/below, 0), 1)
}

// principal are 4-sigma sizes, mm, and the direction of the longer axis, by the
// second moments of the light of the colour that is least burnt out, blue. On the
// axes distance² grows by e^(±s), lengths by e^(±s/2).
func (d *dot) principal() (major, minor, axis float64) {
	sigma := d.fall[0].sigma()
	half := math.Hypot(d.e1, d.e2) / 2
	axis = math.Atan2(-d.e2, -d.e1) / 2
	return 4 * sigma * math.Exp(half), 4 * sigma * math.Exp(-half), axis
}

// outline is the ellipse of the mark's 4-sigma sizes.
func (d *dot) outline(m *spot.Mark) [][2]float64 {
	const points = 60 // 6 degrees apart: smooth where it is drawn
	s, c := math.Sincos(m.Axis)
	out := make([][2]float64, points)
	for i := range out {
		q, p := math.Sincos(2 * math.Pi * float64(i) / points)
		p, q = p*m.Major/2, q*m.Minor/2
		out[i] = [2]float64{d.x + p*c - q*s, d.y + p*s + q*c}
	}
	return out
}
