// Package invent draws by chance what a photo shows: the target's print and plate,
// tape, burn, writing, surroundings, clutter, lamps, how the camera is held and what
// the phone makes of the light.
//
// The ranges are what one meets around laser machines: common practice, without a
// source, unless one is named. They must stay, and so must the order of the draws: seeds
// mean for ever what they meant. New looks get draws of their own after the old ones.
package invent
