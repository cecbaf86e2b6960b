package studio

import (
	"math"
	"slices"
)

// Meter is the luminance that nine tenths of the target's area stay below,
// without reflections and pointers: what a spot meter would go by.
func Meter(scene *Scene, cam *Camera) float64 {
	plain := *scene
	plain.Pointers, plain.Covers, plain.Lights.Glares = nil, nil, nil
	v := newView(cam)
	outer := scene.Target.OuterRadius()
	var all []float64
	for j := range 15 {
		for i := range 15 {
			right, up := (float64(i)/7-1)*outer, (float64(j)/7-1)*outer
			if math.Hypot(right, up) > outer {
				continue
			}
			x, y := cam.Project(right, up, 0)
			all = append(all, plain.radiance(v.at(x, y)).Luminance())
		}
	}
	slices.Sort(all)
	return all[len(all)*9/10]
}
