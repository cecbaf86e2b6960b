// Package rehearsal is a machine to practise on that is not there, and the
// photos that nobody took of it.
//
// A Bench is a simulated machine: a profile, faults that are hidden from whoever
// works on it, and screws that can be turned. Bench.Spots traces the beam exactly
// (package optics) to the target at each station; Bench.Photograph fires there and
// photographs the mark.
//
// A photo looks with an exactly known camera at an exactly known target, and
// develops what it sees as a phone would. A Scene is defined analytically in the
// target's frame: right and up in mm on the plane of the rings, height in mm
// towards the viewer. A Camera is a pinhole with a radial lens. Render casts rays
// and averages linear light over each pixel; Develop adds blur, noise, tone curve
// and sharpening; EncodeJPEG writes the file with its EXIF block. The truth of a
// photo, Camera.Project and Burn.Moments, comes from the same geometry and never
// from the picture.
//
// Dice draws what is left to chance. Everything is repeatable to the byte from
// the seeds, whatever the number of processors.
package rehearsal
