package conic

import (
	"cmp"
	"fmt"
	"math"
	"math/cmplx"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// Pair is what the images of two concentric circles tell without any knowledge
// of the camera.
type Pair struct {
	Centre    Point   // image of the common centre
	Vanishing Line    // image of the plane's line at infinity, unit length
	Ratio     float64 // radius of the first circle over that of the second
	// Split is the relative gap of the two eigenvalues that are equal for
	// perfect data: what noise, distortion and misidentified circles leave.
	Split float64
}

// Concentric takes the images of two concentric circles of different radii.
//
// C2⁻¹ C1 has, in the plane's own coordinates, the eigenvalues 1, 1 and
// (r1/r2)²; the vector of the single one is the centre's image, and its polar
// is the vanishing line (J.-S. Kim, P. Gurdjos, I.-S. Kweon, PAMI 27 (2005)
// 637; from memory, checked by construction). ErrNotConcentric where no
// eigenvalue stands alone: equal radii, crossing curves.
func Concentric(c1, c2 Conic) (Pair, error) {
	e1, err := c1.Ellipse()
	if err != nil {
		return Pair{}, fmt.Errorf("first circle: %w", err)
	}
	e2, err := c2.Ellipse()
	if err != nil {
		return Pair{}, fmt.Errorf("second circle: %w", err)
	}
	// Rounding is least with the first ellipse's centre as origin and its size
	// as unit.
	size := math.Sqrt(e1.A * e1.B)
	local := func(e Ellipse) Conic {
		return Ellipse{(e.X - e1.X) / size, (e.Y - e1.Y) / size, e.A / size, e.B / size, e.Theta}.Conic()
	}
	p, err := pencil(local(e1), local(e2))
	if err != nil {
		return Pair{}, err
	}
	p.Centre = Point{e1.X + size*p.Centre.X, e1.Y + size*p.Centre.Y}
	// (x-X)/s in place of x.
	l := p.Vanishing
	l[2] = l[2]*size - l[0]*e1.X - l[1]*e1.Y
	p.Vanishing = unit(l)
	return p, nil
}

// pencil solves C1 v = k C2 v and reads the pair from it.
func pencil(c1, c2 Conic) (Pair, error) {
	inverse := Homography(c2).adjugate()
	m := mat.NewDense(3, 3, nil)
	for i := range 3 {
		for j := range 3 {
			m.Set(i, j, dot(inverse[i], c1[j]))
		}
	}
	// The adjugate is the inverse times det C2, which is negative.
	m.Scale(-1, m)
	var eig mat.Eigen
	if !eig.Factorize(m, mat.EigenRight) {
		return Pair{}, fmt.Errorf("pencil of two conics: %w", ErrNotConcentric)
	}
	single, pair, index, ok := lone(eig.Values(nil))
	if !ok {
		return Pair{}, ErrNotConcentric
	}
	var vectors mat.CDense
	eig.VectorsTo(&vectors)
	w := real(vectors.At(2, index))
	centre := Point{real(vectors.At(0, index)) / w, real(vectors.At(1, index)) / w}
	both := (pair[0] + pair[1]) / 2
	return Pair{
		Centre:    centre,
		Vanishing: c1.Polar(centre),
		Ratio:     math.Sqrt(single / real(both)),
		Split:     cmplx.Abs((pair[0] - pair[1]) / both),
	}, nil
}

// lone picks the eigenvalue that stands apart from the other two, which may be
// a complex pair. ok is false where none does by twice the others' own gap.
func lone(values []complex128) (single float64, pair [2]complex128, index int, ok bool) {
	order := []int{0, 1, 2}
	slices.SortFunc(order, func(i, j int) int { return cmp.Compare(real(values[i]), real(values[j])) })
	low, middle, high := values[order[0]], values[order[1]], values[order[2]]
	if !(real(low) > 0) {
		return 0, pair, 0, false
	}
	index, pair = order[2], [2]complex128{low, middle}
	fromBelow := imag(high) != 0 || imag(low) == 0 && real(middle)/real(low) > real(high)/real(middle)
	if fromBelow {
		index, pair = order[0], [2]complex128{middle, high}
	}
	if imag(values[index]) != 0 { // the real one lies between the parts of a pair
		return 0, pair, 0, false
	}
	single = real(values[index])
	both := (pair[0] + pair[1]) / 2
	apart := math.Abs(math.Log(single / real(both)))
	return single, pair, index, apart > 2*cmplx.Abs((pair[0]-pair[1])/both)
}

// Rectify maps a plane with circles on it, of which one of this radius is seen
// as c, to the image, given the plane's vanishing line: the plane's origin is
// the circle's centre, its lengths are true, and only how it is turned (or
// mirrored) about the origin stays free. No focal length is needed.
func Rectify(c Conic, vanishing Line, radius float64) (Homography, error) {
	seen, err := c.Ellipse()
	if err != nil {
		return Homography{}, fmt.Errorf("circle: %w", err)
	}
	// With the ellipse's centre as origin and its size as unit the vanishing
	// line, which passes it by, cannot go through the origin.
	size := math.Sqrt(seen.A * seen.B)
	place := Homography{{size, 0, seen.X}, {0, size, seen.Y}, {0, 0, 1}}
	line := Line{vanishing[0] * size, vanishing[1] * size, dot(vanishing, [3]float64{seen.X, seen.Y, 1})}
	// The map that sends the line to infinity, and back.
	back, err := Homography{{1, 0, 0}, {0, 1, 0}, unit(line)}.Inverse()
	if err != nil {
		return Homography{}, fmt.Errorf("vanishing line through the circle: %w", err)
	}
	local := Ellipse{0, 0, seen.A / size, seen.B / size, seen.Theta}.Conic()
	e, err := congruent(local, back).Ellipse()
	if err != nil {
		return Homography{}, fmt.Errorf("vanishing line through the circle: %w", err)
	}
	sin, cos := math.Sincos(e.Theta)
	a, b := e.A/radius, e.B/radius
	return place.after(back).after(Homography{{a * cos, -b * sin, e.X}, {a * sin, b * cos, e.Y}, {0, 0, 1}}), nil
}

// congruent is H^T C H: the conic's matrix in coordinates that h maps to c's.
func congruent(c Conic, h Homography) (out Conic) {
	half := Homography(c).after(h)
	for i := range 3 {
		for j := range 3 {
			out[i][j] = h[0][i]*half[0][j] + h[1][i]*half[1][j] + h[2][i]*half[2][j]
		}
	}
	return out
}

// after is the product h g: first g, then h.
func (h Homography) after(g Homography) (out Homography) {
	for i := range 3 {
		for j := range 3 {
			out[i][j] = h[i][0]*g[0][j] + h[i][1]*g[1][j] + h[i][2]*g[2][j]
		}
	}
	return out
}
