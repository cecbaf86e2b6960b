package spot

import "math"

// What is known of any dot.
const (
	sectors      = 12   // that must agree on the middle
	oblongU      = 1.0  // of e1 and e2, against what the light says: dots are round within a factor of e
	mostOblong   = 1.1  // axes of 1 to 3
	stepMM       = 0.15 // a step moves the middle this far at most
	usualLoss    = 0.6  // tape spreads about 0.4 of a dot's light
	paintedWorth = 0.3  // of a cell on a line against one beside it: the line's light is modelled
	// groundU is how well the light without the dot is known, relative to it.
	// It keeps the wide faint glow, where tape's texture is as strong, from
	// outweighing the steep sides. From simulated photos; 0.05 to 0.3 do.
	groundU = 0.1
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

// distance is the elliptic distance of a place from the middle, mm, and its
// derivatives by x, y, e1 and e2.
func (d *dot) distance(x, y float64) (r float64, by [4]float64) {
	dx, dy := x-d.x, y-d.y
	s := math.Hypot(d.e1, d.e2)
	ch, sh := math.Cosh(s), 1.0
	if s > 1e-9 {
		sh = math.Sinh(s) / s
	}
	mx, my := (ch+sh*d.e1)*dx+sh*d.e2*dy, sh*d.e2*dx+(ch-sh*d.e1)*dy
	r = math.Sqrt(max(mx*dx+my*dy, 1e-12))
	// Those by e1 and e2 are exact for a circle and near enough for a step.
	return r, [4]float64{-mx / r, -my / r, (dx*dx - dy*dy) / (2 * r), dx * dy / r}
}

// returned is how much of the dot's light a cell gives back, against plain
// tape: a printed line returns less of it than tape does, but more than it
// returns of the room's light, since some of it spreads within the tape.
func (d *dot) returned(g *glow, c, k int) float64 { return 1 - d.loss[c]*(1-g.paint[c][k]) }

// settle finds the middle from a start by Gauss's and Newton's steps; the
// falloff is free, and learnt anew each time.
func (d *dot) settle(g *glow) bool {
	for range 40 {
		d.learn(g)
		eq := d.equations(g)
		step, ok := eq.solve(d)
		if !ok {
			return false
		}
		length, turn := math.Hypot(step[0], step[1]), math.Hypot(step[2], step[3])
		limit := min(1, stepMM/length, stepMM/turn)
		d.x, d.y = d.x+limit*step[0], d.y+limit*step[1]
		d.e1, d.e2 = d.e1+limit*step[2], d.e2+limit*step[3]
		if s := math.Hypot(d.e1, d.e2); s > mostOblong {
			d.e1, d.e2 = d.e1*mostOblong/s, d.e2*mostOblong/s
		}
		if !g.holds(d.x, d.y) {
			return false
		}
		if length < 2e-4 && turn < 2e-3 {
			break
		}
	}
	return true
}

// learn sets falloff and loss for the present middle.
func (d *dot) learn(g *glow) {
	for c := range g.colour {
		samples := make([]sample, 0, len(g.cells))
		for _, k := range g.cells {
			if !g.plain(c, k) {
				continue
			}
			r, _ := d.distance(g.place(k%g.n, k/g.n))
			samples = append(samples, sample{r, g.added(c, k)})
		}
		d.fall[c] = newFalloff(samples, g.reach, max(leastLight, groundU*g.tape[c]))
		d.learnLoss(g, c)
	}
}

// learnLoss fits the loss to the cells on printed lines.
func (d *dot) learnLoss(g *glow, c int) {
	above, below := usualLoss, 1.0 // as if one cell had told it
	for _, k := range g.cells {
		if g.plain(c, k) || g.colour[c][k] > saturated {
			continue
		}
		r, _ := d.distance(g.place(k%g.n, k/g.n))
		p, _, scatter := d.fall[c].at(r)
		if p < 4*scatter || p+g.tape[c] > saturated {
			continue
		}
		q := p * (1 - g.paint[c][k]) / scatter
		above += q * (p - g.added(c, k)) / scatter
		below += q * q
	}
	d.loss[c] = min(max(above/below, 0), 1)
}

// principal are 4-sigma sizes and the direction of the longer axis, by the
// second moments of the light of the colour that is least burnt out, blue.
func (d *dot) principal() (major, minor, axis float64) {
	sigma := d.fall[0].sigma()
	half := math.Hypot(d.e1, d.e2) / 2 // distance² grows by e^±2half along the axes
	axis = math.Atan2(-d.e2, -d.e1) / 2
	return 4 * sigma * math.Exp(half), 4 * sigma * math.Exp(-half), axis
}

// outline is the ellipse of the 4-sigma sizes.
func (d *dot) outline(m *Mark) [][2]float64 {
	s, c := math.Sincos(m.Axis)
	out := make([][2]float64, 60)
	for i := range out {
		q, p := math.Sincos(2 * math.Pi * float64(i) / 60)
		p, q = p*m.Major/2, q*m.Minor/2
		out[i] = [2]float64{d.x + p*c - q*s, d.y + p*s + q*c}
	}
	return out
}
