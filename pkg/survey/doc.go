// Package survey turns a folder of measured photos into one round's report: it
// finds a photo's station by its file's name, takes the better of two photos,
// keeps rounds apart, and watches a folder that photos land in.
//
// It measures nothing itself and reads no pixels: measurements come from the
// caller, so that the package builds without cgo.
package survey
