// Package drawing puts sheets on paper: shapes in millimetres on pages, one writer
// for PDF and one for SVG, and a page flow with text, headings and tables.
//
// Who makes a sheet lays out shapes (Ellipse, Rectangle, Path, Text, Picture), either at
// places of its own or through a Flow, and hands a Document to WritePDF or WriteSVG.
// Both draw the same: every length goes to the file as it is, without a scale.
// The frame of a page: origin at its upper left corner, x right, y DOWN, mm.
//
// Flow is own code because a library of page flow (blocks that keep together, tables
// with repeated heads) was looked for on the PDF library in use, codeberg.org/go-pdf/fpdf,
// and neither it nor its extensions have one; those that are well kept stand on other
// PDF libraries.
package drawing
