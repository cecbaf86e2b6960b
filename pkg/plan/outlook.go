package plan

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"burngauge.dev/burngauge/pkg/coverage"
	"burngauge.dev/burngauge/pkg/plan/search"
)

// outlook is where every spot will be after further turns t. A spot's axis is linear in
// x = (1, t), aᵀx, with coefficients a that are known by mean and covariance: the mean
// is E[a]ᵀx, the covariance xᵀ Cov[a] x.
type outlook struct {
	repeatMM float64
	screws   int
	stations []int           // places in the response of those that count
	mean     [][2][]float64  // [station][axis][0: now, 1+j: per turn of screw j]
	cov      []*mat.SymDense // [station], both axes' coefficients one after the other
	// used is the covariance that turning a screw at all adds: the hand's setting, and
	// play that it takes up for the first time.
	used [][][2][2]float64
}

// outlook of the stations: with K the rows of coefficients by the unknowns, the mean of a
// is K u and its covariance K V Kᵀ, with u and V the belief's. Nothing is sampled: for normal
// unknowns and linear spots that is the whole distribution (JCGM 102:2011, 6.2). The search
// asks for it thousands of times, so that the unknowns, some tens, are taken to the few
// coefficients of each station once.
func (b *belief) outlook(stations []int) *outlook {
	o := &outlook{repeatMM: b.settings.Reading.RepeatMM, screws: b.screws(), stations: stations}
	for _, k := range stations {
		coefficients := b.coefficients(k)
		var mean mat.VecDense
		mean.MulVec(coefficients, mat.NewVecDense(len(b.mean), b.mean))
		n := o.screws + 1
		both := [2][]float64{mean.RawVector().Data[:n], mean.RawVector().Data[n:]}
		o.mean, o.cov = append(o.mean, both), append(o.cov, coverage.Propagate(coefficients, b.cov))
		o.used = append(o.used, b.usedAt(k))
	}
	return o
}

// coefficients are those of a station's spot by the unknowns: a row for now and
// one for each screw, for right and then for up. A screw's row is the derivative of the
// spot by its turn, at the believed gain where gain and length multiply.
func (b *belief) coefficients(station int) *mat.Dense {
	n := b.screws() + 1
	out := mat.NewDense(2*n, b.layout.size(), nil)
	for axis, now := range b.rowsOf(station) {
		out.SetRow(axis*n, now)
		for j := range b.screws() {
			c := make([]float64, b.layout.size())
			b.turn(c, b.layout, turn{station, j, axis, 1, b.mean[b.layout.gain(j)]})
			out.SetRow(axis*n+1+j, c)
		}
	}
	return out
}

// usedAt is what turning each screw at all adds to a station's covariance, however far
// it is turned: how well a hand sets it, and its play. A screw whose last move was
// clockwise has its play taken up already, since every move ends clockwise.
func (b *belief) usedAt(station int) [][2][2]float64 {
	list := make([][2][2]float64, b.screws())
	for j := range list {
		list[j] = b.setting(station, j)
		if b.now.last[j] <= 0 { // every move ends clockwise: see inOrder
			list[j] = coverage.Sum(list[j], b.alongScrew(station, j, b.settings.Prior.PlayTurns))
		}
	}
	return list
}

// at is where a station's spot will be after the turns, and how surely: with x = (1, t) the
// mean of axis a is m_aᵀ x, and the covariance of axes a and c
//
//	xᵀ C_ac x + Σ_{j turned} used_j,
//
// where C_ac is the block of the coefficients' covariance. Its terms in t² are those of the
// gains: the farther a screw is turned, the less is known of where that leads. station counts
// in o.stations.
func (o *outlook) at(station int, turns []float64) (mean [2]float64, cov [2][2]float64) {
	n := o.screws + 1
	x := append([]float64{1}, turns...)
	for a := range 2 {
		for i, v := range x {
			mean[a] += v * o.mean[station][a][i]
		}
		for c := range 2 {
			for i, v := range x {
				for j, w := range x {
					cov[a][c] += v * w * o.cov[station].At(a*n+i, c*n+j)
				}
			}
		}
	}
	for j, t := range turns {
		if t != 0 {
			cov = coverage.Sum(cov, o.used[station][j])
		}
	}
	return mean, cov
}

// predict is a station's spot after the turns: a circle about the mean that holds it with
// probability coverage.Sure, and the state by the probability of lying within the limit. The
// reading that will judge it is of a head that came back, whose repeatability r adds r² I.
func (o *outlook) predict(name string, station int, turns []float64, limit float64) Predicted {
	mean, cov := o.at(station, turns)
	cov = coverage.Sum(cov, coverage.Isotropic(o.repeatMM))
	return Predicted{
		Station: name, RightMM: mean[0], UpMM: mean[1],
		RadiusMM: coverage.Radius(cov, coverage.Sure),
		State:    coverage.State(coverage.Within(mean, cov, limit)),
	}
}

// goal is what turns are searched for. caution weighs the variance against the mean's
// square: E|spot|² = |E spot|² + tr Cov, so that 1 makes it the mean square distance, and
// 0 is what would happen if all went as believed. Bounds and steps are left to the
// caller.
func (o *outlook) goal(caution float64) *search.Goal {
	g := &search.Goal{Size: o.screws + 1}
	for k := range o.stations {
		q := make([]float64, g.Size*g.Size)
		for a := range axes {
			m := o.mean[k][a]
			for i := range g.Size {
				for j := range g.Size {
					q[i*g.Size+j] += m[i]*m[j] + caution*o.cov[k].At(a*g.Size+i, a*g.Size+j)
				}
			}
		}
		used := make([]float64, o.screws)
		for j := range used {
			used[j] = caution * (o.used[k][j][0][0] + o.used[k][j][1][1])
		}
		g.Square, g.Used = append(g.Square, q), append(g.Used, used)
	}
	return g
}

// worst is the farthest mean of all spots after the turns, what would happen if all went
// as believed.
func (o *outlook) worst(turns []float64) (station int, mm float64) {
	for k := range o.stations {
		mean, _ := o.at(k, turns)
		if d := math.Hypot(mean[0], mean[1]); d >= mm {
			station, mm = k, d
		}
	}
	return station, mm
}
