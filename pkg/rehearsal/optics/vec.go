package optics

import "math"

// Vec is a place in mm, or a direction.
type Vec struct{ X, Y, Z float64 }

// Plus is v + w.
func (v Vec) Plus(w Vec) Vec { return Vec{v.X + w.X, v.Y + w.Y, v.Z + w.Z} }

// Minus is v - w.
func (v Vec) Minus(w Vec) Vec { return Vec{v.X - w.X, v.Y - w.Y, v.Z - w.Z} }

// Times is k v.
func (v Vec) Times(k float64) Vec { return Vec{k * v.X, k * v.Y, k * v.Z} }

// Dot is the scalar product.
func (v Vec) Dot(w Vec) float64 { return v.X*w.X + v.Y*w.Y + v.Z*w.Z }

// Cross is the vector product.
func (v Vec) Cross(w Vec) Vec {
	return Vec{v.Y*w.Z - v.Z*w.Y, v.Z*w.X - v.X*w.Z, v.X*w.Y - v.Y*w.X}
}

// Len is the length.
func (v Vec) Len() float64 { return math.Sqrt(v.Dot(v)) }

// Unit is v at length 1. The zero vector gives NaN.
func (v Vec) Unit() Vec { return v.Times(1 / v.Len()) }

// Turned is v turned about an axis, whose length is the angle in radians, by the
// right-hand rule (rotation formula of Rodrigues).
func (v Vec) Turned(axis Vec) Vec {
	angle := axis.Len()
	if angle == 0 {
		return v
	}
	k := axis.Times(1 / angle)
	sin, cos := math.Sincos(angle)
	return v.Times(cos).Plus(k.Cross(v).Times(sin)).Plus(k.Times(k.Dot(v) * (1 - cos)))
}
