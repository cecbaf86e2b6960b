// Package raster works on pictures in linear light row by row on all processors.
//
// A step of the work is a function that makes a row (Rows) out of rows of the step
// before; a Window keeps the few that it looks at. InRuns shares the rows among the
// processors. What is made of a row must depend on the row alone: then the number of
// processors changes nothing.
package raster
