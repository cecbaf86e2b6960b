// Package ring fits the target's plane to the edges of its printed rings, its rim
// and its index bar in one photo, and states how well the fit is known.
//
// # The model
//
// A place (right, up) on the target, mm, lies in the camera's axes (x right, y
// down, z forward) at
//
//	q = R (right, up, 0)ᵀ + T
//
// and is seen, by a pinhole with the focal length F (px), at (u, v) = F (qx/qz,
// qy/qz) from the principal point. The lens moves it along its ray from there, by
// one radial term (pkg/lens has the formula). The print departs from its spec: each
// ring's radius, the rim's, and the index bar's place, direction, half width and half
// length. That makes 10 parameters of pose and camera, and 6 + n of the print
// for n rings (parameter.go).
//
// # The residual
//
// An edge point p is taken back through the lens to the plane, and its distance
// from the curve that it was found on is counted in photo px: for a ring of the
// radius r with the departure δ
//
//	e = (√(right² + up²) - r - δ) · scale
//
// with the photo's scale across the curve, px/mm, at that place. In px all edges
// are about equally uncertain, wherever on a tilted target they lie.
//
// # The estimate
//
// What rings and bar determine is found freely; what they leave open (one ring
// leaves the perspective open) is held by what is known of phone cameras and of
// printing, each with its own standard uncertainty. So the sum that is minimised is
//
//	Σ w (e/σ)² + Σ ((value - known)/u)²
//
// with σ each curve's own scatter and w Tukey's biweight (weights.go). It is the
// posterior's mode for normal errors; its curvature is the inverse of the covariance
// (covariance.go).
//
// # The layers
//
// A Fit is made of five layers, each in its own file and each adding one idea:
//
//	Plane     where the target lies before the camera: pixels to places and back
//	model     the parameters: camera, pose, the print's departures, what is known of them
//	problem   the edges with their weights: residuals, derivatives, the least squares
//	Evidence  the photo, and how much of each curve is seen in it
//	Fit       the work: trace, fit, find the index bar, choose the tilt, covariance
//
// Edges are found by a tracer, the bar's direction by a barSearch; both look at a
// face, the plane on the photo, and know nothing of the fit. Every number that
// decides stands in Settings, and what was decided goes to the Fit's Log under its
// field's name.
package ring
