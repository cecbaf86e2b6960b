package studio

import (
	"math"
	"slices"
)

// meterSide is the number of places along each side of the grid that Meter looks at, and
// meterShare what it takes of them in rising order: bright paper counts, single flashes
// do not.
const (
	meterSide  = 15
	meterShare = 9 // tenths
)

// Meter is the luminance that nine tenths of the target's area stay below,
// without reflections and pointers: what a spot meter would go by.
func Meter(scene *Scene, cam *Camera) float64 {
	plain := *scene
	plain.Pointers, plain.Covers, plain.Lights.Glares = nil, nil, nil
	v := newView(cam)
	outer := scene.Target.OuterRadius()
	var all []float64
	for j := range meterSide {
		for i := range meterSide {
			right, up := (float64(i)/(meterSide/2)-1)*outer, (float64(j)/(meterSide/2)-1)*outer
			if math.Hypot(right, up) > outer {
				continue
			}
			x, y := cam.Project(right, up, 0)
			all = append(all, plain.radiance(v.at(x, y)).Luminance())
		}
	}
	slices.Sort(all)
	return all[len(all)*meterShare/10]
}
