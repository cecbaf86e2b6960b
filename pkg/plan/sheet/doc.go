// Package sheet shows a plan to the person who turns the screws: as text for a
// terminal, and as a sheet of paper in PDF or SVG.
//
// One function puts the plan into words (newWording), one lays them out on
// pages (layOut); the three writers only write. What counts is shown by words
// and form, never by colour alone.
//
// The page's frame: origin at the top left corner, x right, y DOWN, mm. A
// mount is drawn as one sees it from behind.
package sheet
