package machine

import "math"

// Vec is a place in mm or a direction, x, y, z in the machine's frame: as one stands in front
// of the machine x points right, y to the rear and z up, which is right-handed, so that
// x × y = z.
type Vec [3]float64

// Add gives v + w.
func (v Vec) Add(w Vec) Vec { return Vec{v[0] + w[0], v[1] + w[1], v[2] + w[2]} }

// Sub gives v - w.
func (v Vec) Sub(w Vec) Vec { return Vec{v[0] - w[0], v[1] - w[1], v[2] - w[2]} }

// Times gives k v.
func (v Vec) Times(k float64) Vec { return Vec{k * v[0], k * v[1], k * v[2]} }

// Dot is the scalar product, |v| |w| cos of the angle between them.
func (v Vec) Dot(w Vec) float64 { return v[0]*w[0] + v[1]*w[1] + v[2]*w[2] }

// Cross is the vector product: square to both by the right-hand rule, of the length
// |v| |w| sin of the angle between them.
func (v Vec) Cross(w Vec) Vec {
	return Vec{v[1]*w[2] - v[2]*w[1], v[2]*w[0] - v[0]*w[2], v[0]*w[1] - v[1]*w[0]}
}

// Norm is the length. Numbers near the ends of float64 do not overflow it.
func (v Vec) Norm() float64 { return math.Hypot(math.Hypot(v[0], v[1]), v[2]) }

// Unit is the direction of v with length 1; of the zero vector it is the zero vector.
func (v Vec) Unit() Vec {
	n := v.Norm()
	if n == 0 {
		return Vec{}
	}
	return Vec{v[0] / n, v[1] / n, v[2] / n}
}
