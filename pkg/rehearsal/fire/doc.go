// Package fire makes one test fire of a simulated machine and photographs the mark:
// fresh tape, the burn of one pulse where the beam arrives, and a phone held by hand.
//
// It stands between package rehearsal, which knows where the beam lands, and package
// studio, which knows how things look. What a bench's seed decides once (phone,
// target, workshop) is the same in all photos of that bench. Tape, hand and light
// follow from the seed, the number of turns made so far, and the station: firing
// again without a turn gives the same bytes.
package fire
