package spot

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"burngauge.dev/burngauge/pkg/coverage"
	"burngauge.dev/burngauge/pkg/stat"
)

// equations are normal equations of x, y, e1, e2, the falloff projected out.
type equations struct {
	n [4][4]float64
	g [4]float64
}

// term is one cell's part in a colour.
type term struct {
	j        [4]float64
	r        float64 // residual, in units of the scatter
	w        float64
	bin      int
	sector   int
	returned float64 // over the scatter
}

// sector is which part of the circle about the middle a place lies in.
func (d *dot) sector(x, y float64) int {
	return min(int((math.Atan2(y-d.y, x-d.x)/(2*math.Pi)+0.5)*sectors), sectors-1)
}

func (d *dot) terms(g *glow, c int) []term {
	out := make([]term, 0, len(g.cells))
	for _, k := range g.cells {
		x, y := g.place(k%g.n, k/g.n)
		r, by := d.distance(x, y)
		p, slope, scatter := d.fall[c].at(r)
		back := d.returned(g, c, k)
		if !g.plain(c, k) && (p+g.tape[c] > saturated || g.colour[c][k] > saturated) {
			continue
		}
		t := term{r: (g.added(c, k) - p*back) / scatter, bin: int(r / binMM), sector: d.sector(x, y), returned: back / scatter}
		if t.w = stat.Tukey(t.r) * g.worth; !g.plain(c, k) {
			t.w *= paintedWorth
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
// makes up for (Kaufman's form of variable projection, BIT 15 (1975) 49 [M]).
func project(terms []term, mean [][5]float64) {
	for i := range terms {
		t := &terms[i]
		m := mean[t.bin]
		for a := range t.j {
			if m[4] > 0 {
				t.j[a] -= t.returned * m[a] / m[4]
			}
		}
	}
}

func binMeans(terms []term) [][5]float64 {
	var mean [][5]float64
	for _, t := range terms {
		for t.bin >= len(mean) {
			mean = append(mean, [5]float64{})
		}
		for a := range t.j {
			mean[t.bin][a] += t.w * t.returned * t.j[a]
		}
		mean[t.bin][4] += t.w * t.returned * t.returned
	}
	return mean
}

func (d *dot) equations(g *glow) equations {
	var eq equations
	for c := range g.colour {
		terms := d.terms(g, c)
		project(terms, binMeans(terms))
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

// factor is the equations' Cholesky factor; that dots are nearly round is part
// of them.
func (e *equations) factor() (*mat.Cholesky, bool) {
	sym := mat.NewSymDense(4, nil)
	for a := range 4 {
		for b := a; b < 4; b++ {
			sym.SetSym(a, b, e.n[a][b])
		}
	}
	for a := 2; a < 4; a++ {
		sym.SetSym(a, a, sym.At(a, a)+1/(oblongU*oblongU))
	}
	var chol mat.Cholesky
	return &chol, chol.Factorize(sym)
}

func (e *equations) solve(d *dot) (step [4]float64, ok bool) {
	chol, ok := e.factor()
	if !ok {
		return step, false
	}
	right := e.g
	right[2] -= d.e1 / (oblongU * oblongU)
	right[3] -= d.e2 / (oblongU * oblongU)
	var s mat.VecDense
	if chol.SolveVecTo(&s, mat.NewVecDense(4, right[:])) != nil {
		return step, false
	}
	for i := range step {
		step[i] = s.AtVec(i)
	}
	return step, true
}

// covariance of the middle in mm², from how parts of the light differ in what
// they make of it (the sandwich with clusters: Liang and Zeger, Biometrika 73
// (1986) 13 [M]): by sectors, since neighbouring cells share their speckle, tape
// and paint, and by colours, since each sees another part of the dot.
func (d *dot) covariance(g *glow) [2][2]float64 {
	var all equations
	var sector [sectors]equations
	var colour [3]equations
	for c := range g.colour {
		terms := d.terms(g, c)
		project(terms, binMeans(terms))
		for _, t := range terms {
			all.add(t)
			sector[t.sector].add(t)
			colour[c].add(t)
		}
	}
	chol, ok := all.factor()
	if !ok {
		return [2][2]float64{{math.Inf(1), 0}, {0, math.Inf(1)}}
	}
	return coverage.Sum(pulls(chol, sector[:], 4), pulls(chol, colour[:], 1))
}

// pulls is the sum over clusters of the outer product of what each moves the
// middle by, enlarged for what was fitted to so few of them.
func pulls(chol *mat.Cholesky, clusters []equations, fitted int) (cov [2][2]float64) {
	n := float64(len(clusters))
	for _, e := range clusters {
		var s mat.VecDense
		if chol.SolveVecTo(&s, mat.NewVecDense(4, e.g[:])) != nil {
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
