// Package history turns a machine's reports into how it drifted: a table of every
// station's distance from the centre, and a chart with a tile for each station.
//
// Reports come from files that anyone may have edited: what is shown of them goes
// through phrase.Clean, and the chart writes text, never markup.
package history
