package conic

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Pose places a plane before a camera: x right, y down, z forward, the
// camera's centre at the origin, lengths in the unit of the circle's radius.
type Pose struct {
	Normal [3]float64 // unit normal on the side the camera sees
	Centre [3]float64 // of the circle
}

// CirclePoses gives the two ways in which a circle of known radius can lie
// before a camera of known focal length (px), square pixels and no distortion
// so that its image is the ellipse. Nothing in the ellipse distinguishes them;
// they are one when the circle faces the camera. Their order means nothing.
//
// The rays to the ellipse are a cone qᵀ C q = 0 with C the ellipse's matrix in units
// of the focal length, of eigenvalues l1 >= l2 > 0 > l3. In its eigenvectors e1, e2, e3
// the planes that cut it in circles are known in closed form: their normals are
//
//	±√((l1-l2)/(l1-l3)) e1 + √((l2-l3)/(l1-l3)) e3
//
// (K. Kanatani, W. Liu, CVGIP: Image Understanding 58 (1993) 286; from memory). The
// planes at all distances cut circles; the radius chooses one. An error means that
// focal, radius or ellipse are not positive and finite.
func CirclePoses(e Ellipse, focal float64, principal Point, radius float64) ([2]Pose, error) {
	cone := Ellipse{(e.X - principal.X) / focal, (e.Y - principal.Y) / focal, e.A / focal, e.B / focal, e.Theta}.Conic()
	values, vectors, err := eigen3(cone)
	if err != nil || !(focal > 0 && radius > 0 && values[0] < 0 && values[1] > 0) {
		return [2]Pose{}, fmt.Errorf("viewing cone of ellipse %v, focal length %v, radius %v: %w", e, focal, radius, ErrNotEllipse)
	}
	l1, l2, l3 := values[2], values[1], values[0]
	major := scaled(vectors[2], math.Sqrt((l1-l2)/(l1-l3)))
	axis := scaled(vectors[0], math.Sqrt((l2-l3)/(l1-l3)))
	inverse := cone.adjugate()
	det := l1 * l2 * l3
	var poses [2]Pose
	for i, sign := range [2]float64{1, -1} {
		normal := plus(scaled(major, sign), axis)
		// The centre is the pole of the plane's vanishing line; the form is l2
		// times the unit matrix within the plane, which gives the distance.
		pole := scaled(inverse.times(normal), 1/det)
		centre := scaled(pole, radius*math.Sqrt(-l2/dot(normal, pole)))
		if centre[2] < 0 {
			centre = scaled(centre, -1)
		}
		if dot(normal, centre) > 0 {
			normal = scaled(normal, -1)
		}
		poses[i] = Pose{unit(normal), centre}
	}
	return poses, nil
}

// eigen3 is the eigenvalues of a symmetric matrix, rising, and its unit
// eigenvectors.
func eigen3(c Conic) (values [3]float64, vectors [3][3]float64, err error) {
	m := mat.NewSymDense(3, []float64{c[0][0], c[0][1], c[0][2], c[1][0], c[1][1], c[1][2], c[2][0], c[2][1], c[2][2]})
	var es mat.EigenSym
	if !finite(c) || !es.Factorize(m, true) {
		return values, vectors, ErrDegenerate
	}
	es.Values(values[:])
	var v mat.Dense
	es.VectorsTo(&v)
	for i := range vectors {
		vectors[i] = [3]float64{v.At(0, i), v.At(1, i), v.At(2, i)}
	}
	return values, vectors, nil
}

// finite says whether every entry is a number.
func finite(c Conic) bool {
	for _, row := range c {
		for _, v := range row {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				return false
			}
		}
	}
	return true
}

// unit is the vector at length 1.
func unit(a [3]float64) [3]float64 { return scaled(a, 1/math.Sqrt(dot(a, a))) }
