// Package optics traces rays over plane mirrors in three dimensions, exactly: no
// angle is taken to be small. It knows planes through three screw points, the law
// of reflection, and what the edge of a mirror cuts off a beam.
//
// Lengths are in mm, angles in radians. Nothing here is shared with what plans
// the turns of screws: the simulated machine must be able to prove a plan wrong.
package optics
