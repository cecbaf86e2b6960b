// Package darkroom makes of linear light what a phone makes of it: a JPEG file.
//
// The steps, in the order of the light's way: shake and defocus (smear.go), the
// lens's blur (blur.go), exposure, vignetting, flare and white balance, the sensor's
// noise and colour filters, demosaicing, the tone curve, sharpening and 8 bits
// (develop.go), the place that an EXIF orientation stores a pixel at (storage.go),
// and the file (file.go).
//
// Each step makes a row out of a few rows of the step before, so that a picture is
// never whole in memory. What a row becomes depends on nothing but the picture and
// the settings: the number of processors changes no byte.
package darkroom
