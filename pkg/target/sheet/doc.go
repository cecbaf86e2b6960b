// Package sheet draws printable sheets of ring targets, true to size, as PDF
// and as SVG.
//
// One function lays the page out as shapes in mm; the two writers only draw
// them. The page's frame: origin at the top left corner, x right, y DOWN.
package sheet
