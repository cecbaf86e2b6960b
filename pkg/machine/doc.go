// Package machine knows a flatbed laser machine by its profile: where source,
// mirrors and target sit, what moves with what, where the mounts' screws are,
// and at which stations the head is tested.
//
// Lengths are in mm, turns of a screw in turns. The machine's frame: x right, y
// to the rear, z up, as one stands in front; origin at the bed's front left corner.
package machine
