// Package plan turns a survey's readings into turns of the mirrors' screws: how
// far to turn which, what to expect at every station afterwards, and what no
// screw can cure.
//
// Lengths are in mm, turns of a screw in turns, clockwise seen from its head
// counting as positive. Right and up are the target's.
//
// # How a plan is made
//
// All readings, of this round and of past ones (historyOf), are solved together by
// Bayesian least squares (believe): for the spots' field over the bed (a plane, a twist,
// a little of each station's own), for every screw's gain over the profile's (1 ± 0.3
// unless learnt), for the lengths of the beam's legs, and for the play that a screw's
// first turn takes up. The result is a mean and a covariance (belief) from which every
// spot follows for any turns, linear in them (outlook).
//
// The plan makes the worst station's mean square distance small (package search):
// Lawson's weights for the turns as they would be best, then a search over whole
// combinations of finest turns, with two screws of each mirror at most where
// that is as good, and fewer where a screw gains less than it is worth.
// Anticlockwise turns go past and come back, so that play lies on one side (inOrder).
//
// What stands in the way of a plan, or beside it, is a Finding: findings.go has the
// list, codes.go the words. Every number that decides stands in settings.go.
//
// # What it rests on
//
// The response is linear: with turns below one, second-order terms are hundredths
// of a mm. The field over the bed is a plane but for what carriages do; that is
// exact for plane mirrors and straight rails. Errors are taken as normal.
// scripts/closedloop holds all of it against simulated machines that share no code
// with it.
//
// A first round's radii are wide because the gains' prior is: a turn of a quarter at
// 40 mm a turn is 10 mm ± 3. It cannot be narrower and hold: a plan does not know
// whether its machine's gains are exact or off by 30 %. All screws' covariances are in
// it, those between screws too; the radius is that of a circle about a long ellipse.
package plan
