package pointer

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"burngauge.dev/burngauge/pkg/coverage"
	"burngauge.dev/burngauge/pkg/stat"
)

// parameters of a dot that are solved for: x, y, e1, e2.
const parameters = 4

// equations are normal equations of the parameters, the falloff projected out:
// n step = g, with n = Σ w j jᵀ and g = Σ w j r.
type equations struct {
	n [parameters][parameters]float64
	g [parameters]float64
}

// term is one cell's part in a colour.
type term struct {
	j        [parameters]float64 // derivatives of the modelled light, in units of the scatter
	r        float64             // residual, likewise
	w        float64             // weight
	bin      int                 // of the falloff
	sector   int
	returned float64 // share of the dot's light that the cell returns, over the scatter
}

// sector is which part of the circle about the middle a place lies in, of so
// many.
func (d *dot) sector(x, y float64, sectors int) int {
	turn := math.Atan2(y-d.y, x-d.x)/(2*math.Pi) + 0.5 // 0..1
	return min(int(turn*float64(sectors)), sectors-1)
}

// terms are those of the cells that the dot is fitted to, those left out that are
// burnt out on a line and those that Tukey's weights leave out.
func (d *dot) terms(g *ground, c int) []term {
	out := make([]term, 0, len(g.fitted))
	for _, k := range g.fitted {
		x, y := g.Centre(k)
		r, by := d.distance(x, y)
		p, slope, scatter := d.fall[c].at(r)
		back := d.returned(g, c, k)
		plain := g.isPlain(c, k)
		if !plain && (p+g.tape[c] > g.set.BurntOut || g.Colour[c][k] > g.set.BurntOut) {
			continue
		}
		t := term{r: (g.added(c, k) - p*back) / scatter, bin: int(r / g.set.BinMM), sector: d.sector(x, y, g.set.Sectors), returned: back / scatter}
		if t.w = stat.Tukey(t.r) * g.weight; !plain {
			t.w *= g.set.PaintedWeight
		}
		if t.w == 0 {
			continue
		}
		for i := range t.j {
			t.j[i] = slope * back / scatter * by[i]
		}
		out = append(out, t)
	}
	return out
}

// project takes out of each term's derivatives what a change of the falloff
// makes up for: j - f Σ w f j / Σ w f² over the term's bin, with f the derivative
// by the bin's light (L. Kaufman, "A variable projection method for solving
// separable nonlinear least squares problems", BIT 15 (1975) 49; from memory).
func project(terms []term) {
	sums := binSums(terms)
	for i := range terms {
		t := &terms[i]
		b := sums[t.bin]
		for a := range t.j {
			if b.ff > 0 {
				t.j[a] -= t.returned * b.fj[a] / b.ff
			}
		}
	}
}

// binSum is Σ w f j and Σ w f² over the terms of one bin.
type binSum struct {
	fj [parameters]float64
	ff float64
}

func binSums(terms []term) []binSum {
	var sums []binSum
	for _, t := range terms {
		for t.bin >= len(sums) {
			sums = append(sums, binSum{})
		}
		for a := range t.j {
			sums[t.bin].fj[a] += t.w * t.returned * t.j[a]
		}
		sums[t.bin].ff += t.w * t.returned * t.returned
	}
	return sums
}

// equations are those of all colours at the dot's present state.
func (d *dot) equations(g *ground) equations {
	var eq equations
	for c := range g.Colour {
		terms := d.terms(g, c)
		project(terms)
		for _, t := range terms {
			eq.add(t)
		}
	}
	return eq
}

func (e *equations) add(t term) {
	for a := range t.j {
		e.g[a] += t.w * t.j[a] * t.r
		for b := range t.j {
			e.n[a][b] += t.w * t.j[a] * t.j[b]
		}
	}
}

// factor is the equations' Cholesky factor; that dots are nearly round, e1 and e2
// being 0 with the standard deviation oblongU, is part of them. False when nothing
// determines the parameters.
func (e *equations) factor(oblongU float64) (*mat.Cholesky, bool) {
	sym := mat.NewSymDense(parameters, nil)
	for a := range parameters {
		for b := a; b < parameters; b++ {
			sym.SetSym(a, b, e.n[a][b])
		}
	}
	for a := 2; a < parameters; a++ {
		sym.SetSym(a, a, sym.At(a, a)+1/(oblongU*oblongU))
	}
	var chol mat.Cholesky
	return &chol, chol.Factorize(sym)
}

// solve is the step of x, y, e1 and e2.
func (e *equations) solve(d *dot, oblongU float64) (step [parameters]float64, ok bool) {
	chol, ok := e.factor(oblongU)
	if !ok {
		return step, false
	}
	right := e.g
	right[2] -= d.e1 / (oblongU * oblongU)
	right[3] -= d.e2 / (oblongU * oblongU)
	var s mat.VecDense
	if chol.SolveVecTo(&s, mat.NewVecDense(parameters, right[:])) != nil {
		return step, false
	}
	for i := range step {
		step[i] = s.AtVec(i)
	}
	return step, true
}

// covariance of the middle in mm², from how parts of the light differ in what
// they make of it: by sectors, since neighbouring cells share their speckle, tape
// and paint, and by colours, since each sees another part of the dot. (The
// sandwich with clusters: K.-Y. Liang, S. Zeger, Biometrika 73 (1986) 13; from
// memory.) Infinite when nothing determines the middle.
func (d *dot) covariance(g *ground) [2][2]float64 {
	var all equations
	sectors := make([]equations, g.set.Sectors)
	var colours [3]equations
	for c := range g.Colour {
		terms := d.terms(g, c)
		project(terms)
		for _, t := range terms {
			all.add(t)
			sectors[t.sector].add(t)
			colours[c].add(t)
		}
	}
	chol, ok := all.factor(g.set.OblongU)
	if !ok {
		return [2][2]float64{{math.Inf(1), 0}, {0, math.Inf(1)}}
	}
	// Sectors share all four parameters; a colour adds a middle of its own.
	return coverage.Sum(pulls(chol, sectors, parameters), pulls(chol, colours[:], 1))
}

// pulls is the sum over n clusters of the outer product of what each moves the
// middle by, n⁻¹g, enlarged by n / (n - fitted) for what was fitted to so few.
func pulls(chol *mat.Cholesky, clusters []equations, fitted int) (cov [2][2]float64) {
	n := float64(len(clusters))
	for _, e := range clusters {
		var s mat.VecDense
		if chol.SolveVecTo(&s, mat.NewVecDense(parameters, e.g[:])) != nil {
			continue
		}
		for i := range 2 {
			for j := range 2 {
				cov[i][j] += n / (n - float64(fitted)) * s.AtVec(i) * s.AtVec(j)
			}
		}
	}
	return cov
}
