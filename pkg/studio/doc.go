// Package studio shows scenes that are known exactly to a camera that is known
// exactly, so that the truth of a photo never comes from its pixels.
//
// A Scene is defined by formulas in the target's frame: right and up in mm on the
// plane of the rings as one faces the target, height in mm above that plane towards
// the viewer. A Camera is a pinhole with a radial lens. Render casts rays and
// averages linear light over each pixel's square: no blur and no noise, which
// package darkroom adds. Truth (Camera.Project, Burn.Moments) comes from the same
// formulas.
//
// What things look like (colours, grain, depth of a shadow) is invented so that they
// look plausible; unless a source stands beside a number, it was chosen by eye.
// Nothing of this is fitted to what measures the photos.
//
// The package draws nothing by chance: package invent does. Texture comes from
// seeds that stand in the scene, and the result does not depend on the number of
// processors.
package studio
