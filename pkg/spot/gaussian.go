package spot

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"burngauge.dev/burngauge/pkg/stat"
)

// gaussian is a dot's light: in each colour its amplitude on a level, all with
// one middle and one width.
type gaussian struct {
	x, y      float64    // mm
	a, b, c   float64    // the form's inverse covariance [a b; b c], 1/mm²
	amplitude [3]float64 // blue, green, red, relative to the tape's light
	level     [3]float64
	u         float64 // standard uncertainty of the middle, mm per axis
}

// at is the light at a place, without amplitude: 1 in the middle.
func (d gaussian) at(x, y float64) float64 {
	x, y = x-d.x, y-d.y
	return math.Exp(-0.5 * (d.a*x*x + 2*d.b*x*y + d.c*y*y))
}

// principal are the 4-sigma sizes and the major axis's direction.
func (d gaussian) principal() (major, minor, axis float64) {
	det := d.a*d.c - d.b*d.b
	return moment{xx: d.c / det, yy: d.a / det, xy: -d.b / det}.principal()
}

// outline is the ellipse of the 4-sigma sizes.
func (d gaussian) outline() [][2]float64 {
	major, minor, axis := d.principal()
	s, c := math.Sincos(axis)
	out := make([][2]float64, 60)
	for i := range out {
		q, p := math.Sincos(2 * math.Pi * float64(i) / 60)
		p, q = p*major/2, q*minor/2
		out[i] = [2]float64{d.x + p*c - q*s, d.y + p*s + q*c}
	}
	return out
}

// fit finds the Gaussian by Gauss-Newton steps on its five form parameters;
// amplitudes and levels are linear and solved for anew each time. Weights are
// Tukey's on each colour's scatter.
func (g *glow) fit(x, y float64) (gaussian, bool) {
	d := gaussian{x: x, y: y, a: 2.5, c: 2.5}
	for range 40 {
		if !g.levels(&d) {
			return d, false
		}
		step, ok := g.step5(&d)
		if !ok || math.Hypot(d.x-x, d.y-y) > dotMM {
			return d, false
		}
		if step < 1e-5 {
			break
		}
	}
	major, minor, _ := d.principal()
	ok := max(d.amplitude[0], d.amplitude[1], d.amplitude[2]) > leastGlow &&
		minor > 4*smallestMM && major < 4*largestMM && minor > 0.3*major
	return d, ok && !math.IsNaN(d.x+d.y)
}

// fringe is where a dot is cut off in the fit, as a share of its height: round
// many dots lies a wide faint glow that no Gaussian describes. The cut moves
// with the middle, so that it does not pull it.
const fringe = 0.08

// levels solves amplitude and level of each colour by weighted least squares.
func (g *glow) levels(d *gaussian) bool {
	for c := range g.added {
		var n, sg, sgg, sv, sgv float64
		for k, v := range g.added[c] {
			if math.IsNaN(v) {
				continue
			}
			px, py := g.place(k%g.n, k/g.n)
			e := d.at(px, py)
			if e < fringe {
				continue
			}
			n, sg, sgg, sv, sgv = n+1, sg+e, sgg+e*e, sv+v, sgv+e*v
		}
		det := n*sgg - sg*sg
		if n < 50 || det < 1e-9*n*n { // burnt out in this colour: the others tell
			d.amplitude[c], d.level[c] = 0, 0
			continue
		}
		d.amplitude[c] = (n*sgv - sg*sv) / det
		d.level[c] = (sv - d.amplitude[c]*sg) / n
	}
	return d.amplitude[0]+d.amplitude[1]+d.amplitude[2] > 0
}

// step5 moves middle and form once and returns how far the middle went, mm.
func (g *glow) step5(d *gaussian) (float64, bool) {
	const p = 5
	var normal [p][p]float64
	var grad [p]float64
	for c := range g.added {
		if d.amplitude[c] == 0 {
			continue
		}
		scale := g.scatter(d, c)
		for k, v := range g.added[c] {
			if math.IsNaN(v) {
				continue
			}
			px, py := g.place(k%g.n, k/g.n)
			e := d.at(px, py)
			if e < fringe {
				continue
			}
			e *= d.amplitude[c]
			r := (v - d.level[c] - e) / scale
			w := stat.Tukey(r)
			if w == 0 {
				continue
			}
			dx, dy := px-d.x, py-d.y
			j := [p]float64{e * (d.a*dx + d.b*dy), e * (d.b*dx + d.c*dy), -e * dx * dx / 2, -e * dx * dy, -e * dy * dy / 2}
			for a := range p {
				grad[a] += w * j[a] / scale * r
				for b := range p {
					normal[a][b] += w * j[a] * j[b] / (scale * scale)
				}
			}
		}
	}
	sym := mat.NewSymDense(p, nil)
	for a := range p {
		for b := a; b < p; b++ {
			sym.SetSym(a, b, normal[a][b])
		}
		sym.SetSym(a, a, normal[a][a]*1.01+1e-9) // a little damping: the first step may be far
	}
	var chol mat.Cholesky
	if !chol.Factorize(sym) {
		return 0, false
	}
	var step mat.VecDense
	if err := chol.SolveVecTo(&step, mat.NewVecDense(p, grad[:])); err != nil {
		return 0, false
	}
	limit := min(1, // a step moves the middle by 0.3 mm and the form by 0.3 of itself at most
		0.3/math.Hypot(step.AtVec(0), step.AtVec(1)),
		0.3*min(d.a, d.c)/max(math.Abs(step.AtVec(2)), math.Abs(step.AtVec(3)), math.Abs(step.AtVec(4))))
	d.x += limit * step.AtVec(0)
	d.y += limit * step.AtVec(1)
	d.a, d.b, d.c = bounded(d.a+limit*step.AtVec(2), d.b+limit*step.AtVec(3), d.c+limit*step.AtVec(4))
	var inverse mat.SymDense
	if err := chol.InverseTo(&inverse); err == nil {
		cells := max(1, grainOfTape*grainOfTape/(g.step*g.step)) // neighbours share their texture
		d.u = math.Sqrt((inverse.At(0, 0) + inverse.At(1, 1)) / 2 * cells)
	}
	return limit * math.Hypot(step.AtVec(0), step.AtVec(1)), true
}

// grainOfTape is the width in mm over which tape's texture and a dot's speckle
// stay alike.
const grainOfTape = 0.2

// bounded keeps the form a dot's: sigma between smallestMM and largestMM.
func bounded(a, b, c float64) (float64, float64, float64) {
	low, high := 1/(largestMM*largestMM), 1/(smallestMM*smallestMM)
	a, c = min(max(a, low), high), min(max(c, low), high)
	most := 0.9 * math.Sqrt(a*c)
	return a, min(max(b, -most), most), c
}

// scatter of one colour about the Gaussian.
func (g *glow) scatter(d *gaussian, colour int) float64 {
	var r []float64
	for k := 0; k < len(g.added[colour]); k += 3 {
		if v := g.added[colour][k]; !math.IsNaN(v) {
			px, py := g.place(k%g.n, k/g.n)
			if d.at(px, py) < fringe {
				continue
			}
			r = append(r, math.Abs(v-d.level[colour]-d.amplitude[colour]*d.at(px, py)))
		}
	}
	return max(1.4826*stat.Median(r), 0.005)
}

// choice is the standard uncertainty per axis from what is taken for the dot:
// the middle that the inner and the outer part of it give.
func (g *glow) choice(d gaussian) float64 {
	sum, n := 0.0, 0.0
	for _, inner := range []bool{true, false} {
		part := &glow{flat: g.flat}
		for c := range g.added {
			part.added[c] = append([]float64(nil), g.added[c]...)
			for k := range part.added[c] {
				px, py := g.place(k%g.n, k/g.n)
				if e := d.at(px, py); inner && e < 0.25 && e > 0.02 || !inner && e > 0.6 {
					part.added[c][k] = math.NaN()
				}
			}
		}
		if o, ok := part.fit(d.x, d.y); ok {
			sum += (o.x-d.x)*(o.x-d.x) + (o.y-d.y)*(o.y-d.y)
			n++
		}
	}
	if n == 0 {
		return 0.05 // mm: the parts say nothing, which is a reason for doubt
	}
	return math.Sqrt(sum / 2 / n)
}
