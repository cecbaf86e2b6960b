// Package exif writes the EXIF block of a photo as phones do (Exif 2.32, which is
// CIPA DC-008-2019, on a TIFF 6.0 structure), and knows where an orientation stores
// a pixel. It does not read: what reads photos must not share code with it.
package exif
