// Package drawing puts sheets on paper: shapes in millimetres on pages, one writer
// for PDF and one for SVG, and a page flow with text, headings and tables.
//
// Who makes a sheet lays out shapes (Ellipse, Rectangle, Path, Text, Picture), either at
// places of its own or through a Flow, and hands a Document to WritePDF or WriteSVG.
// Both draw the same: every length goes to the file as it is, without a scale.
// The frame of a page: origin at its upper left corner, x right, y DOWN, mm.
//
// Looked for first was a library of page flow (rows that keep together, tables with
// repeated heads) on the PDF library in use, codeberg.org/go-pdf/fpdf. Neither it
// nor its extensions have one, and the one that is well kept elsewhere stands on
// another PDF library and does not keep a row's remarks with it: hence Flow.
package drawing
