// Package sheet lays out printable sheets of ring targets, true to size, as PDF
// and as SVG.
//
// One function (layOut) puts the page together from shapes in mm; drawing's writers
// only write them. The page's frame: origin at the top left corner, x right, y DOWN.
package sheet
