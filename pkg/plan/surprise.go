package plan

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	"burngauge.dev/burngauge/pkg/coverage"
)

// expectation is what was expected of a round's readings, right and up of each in
// turn, and how far they are off.
type expectation struct {
	off    *mat.VecDense
	spread *mat.SymDense
}

// surprise is the square of the distance between the readings of a round and what
// was expected of them, in units of its uncertainty (chi-squared distributed if
// nothing but the plan was done), and its worst station in words.
func (b *bench) surprise(before []round, after round) (square float64, worst string, err error) {
	known, err := b.believe(before)
	if err != nil {
		return 0, "", err
	}
	after.segment = before[len(before)-1].segment
	known.now = after
	e := known.expect()
	var chol mat.Cholesky
	var x mat.VecDense
	if !chol.Factorize(e.spread) || chol.SolveVecTo(&x, e.off) != nil {
		return 0, "", errNotSolved
	}
	return mat.Dot(e.off, &x), e.words(after.readings), nil
}

// expect compares the readings of the last round with the belief.
func (b *belief) expect() expectation {
	n := 2 * len(b.now.readings)
	c, noise, off := mat.NewDense(n, b.layout.size(), nil), mat.NewSymDense(n, nil), mat.NewVecDense(n, nil)
	for i, r := range b.now.readings {
		k := b.response.Station(r.Station)
		pair := b.rowsOf(k)
		mean, _ := b.spread(pair)
		own := b.noise(r, b.now, k)
		for a, read := range [2]float64{r.RightMM, r.UpMM} {
			c.SetRow(2*i+a, pair[a])
			off.SetVec(2*i+a, read-mean[a])
			noise.SetSym(2*i+a, 2*i+a, own[a][a])
		}
		noise.SetSym(2*i, 2*i+1, own[0][1])
	}
	e := expectation{off: off, spread: coverage.Propagate(c, b.cov)}
	e.spread.AddSym(e.spread, noise)
	return e
}

// words tell the station that is farthest off.
func (e expectation) words(readings []Reading) string {
	most, at := -1.0, 0
	for i := range readings {
		if d := math.Hypot(e.off.AtVec(2*i), e.off.AtVec(2*i+1)); d > most {
			most, at = d, i
		}
	}
	r, right, up := readings[at], e.off.AtVec(2*at), e.off.AtVec(2*at+1)
	return fmt.Sprintf("%s: expected %+.2f mm right and %+.2f mm up to within %.2f mm, measured %+.2f and %+.2f",
		r.Station, r.RightMM-right, r.UpMM-up, coverage.Radius(block(e.spread, at), coverage.Sure), r.RightMM, r.UpMM)
}
