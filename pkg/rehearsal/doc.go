// Package rehearsal is a simulated laser machine to practise aligning on.
//
// A Bench is one such machine: a profile (what whoever works on it knows), faults
// that are hidden (where each part really sits, how its screws really pull), and
// screws that can be turned. Bench.Spots gives where the beam meets the target at
// each station. It follows the ray exactly, with package optics, and shares no code
// with what plans the turns of screws, so that it can prove a plan wrong. Package
// fire makes photos of the spots.
//
// Frames. The machine's frame is the profile's: x, y, z in mm, right-handed. On the
// target, right and up are counted in mm as one faces it. Angles are in degrees in
// Faults and in radians inside.
//
// The same seed, level and profile give the same bench, and the same turns the same
// spots, to the last bit.
package rehearsal
