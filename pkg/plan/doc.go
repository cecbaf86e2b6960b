// # How a plan is made
//
// All readings, of this round and of past ones, are solved together by Bayesian least
// squares: for the spots' field over the bed (a plane, a twist, a little of each
// station's own), for every screw's gain over the profile's (1 ± 0.3 unless learnt), for
// the lengths of the beam's legs, and for the play that a screw's first turn takes
// up. The result is a mean and a covariance from which every spot follows for
// any turns, linear in them (belief, outlook).
//
// The plan makes the worst station's mean square distance small (goal): Lawson's
// weights for the turns as they would be best, then a search over whole
// combinations of finest turns, with two screws of each mirror at most where
// that is as good, and fewer where a screw gains less than it is worth (search).
// Anticlockwise turns go past and come back, so that play lies on one side.
//
// # What it rests on
//
// The response is linear: with turns below one, second-order terms are hundredths
// of a mm. The field over the bed is a plane but for what carriages do; that is
// exact for plane mirrors and straight rails. Errors are taken as normal.
// scripts/closedloop holds all of it against simulated machines that share no code
// with it.
package plan
