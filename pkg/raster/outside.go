package raster

import (
	"math"

	"burngauge.dev/burngauge/pkg/conic"
)

// Outside is the share of a closed curve outside a photo of width x height px and
// the side on which most of it is, "" when none is. The curve is given by its angle
// (radians) and looked at every 5 degrees: shares are known to 1.4 %.
func Outside(at func(angle float64) conic.Point, width, height int) (side string, share float64) {
	const n = 72
	count := map[string]int{}
	for i := range n {
		if out := sideBeyond(at(2*math.Pi*float64(i)/n), width, height); out != "" {
			count[out]++
		}
	}
	total := 0
	for _, name := range sides {
		total += count[name]
		if count[name] > count[side] {
			side = name
		}
	}
	return side, float64(total) / n
}

var sides = []string{"left", "right", "top", "bottom"}

// sideBeyond names the side of the photo beyond which a pixel lies, "" within.
func sideBeyond(p conic.Point, width, height int) string {
	switch {
	case p.X < 0:
		return "left"
	case p.X > float64(width-1):
		return "right"
	case p.Y < 0:
		return "top"
	case p.Y > float64(height-1):
		return "bottom"
	}
	return ""
}
