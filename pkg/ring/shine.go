package ring

import (
	"math"
)

// shine is the share of the target's face that is burnt out in all colours.
func (f *Fit) Shine() float64 {
	bright, n := 0, 0
	for i := range 40 {
		for j := range 40 {
			x, y := (float64(i)/19.5-1)*f.Spec.OuterRadius(), (float64(j)/19.5-1)*f.Spec.OuterRadius()
			if math.Hypot(x, y) > f.Spec.OuterRadius() {
				continue
			}
			n++
			px := f.Pixel(x, y)
			if f.raster.Sample(f.raster.Colour[0], px) > saturated && f.raster.Sample(f.raster.Colour[1], px) > saturated && f.raster.Sample(f.raster.Colour[2], px) > saturated {
				bright++
			}
		}
	}
	return float64(bright) / float64(n)
}

// saturated is the linear light of a pixel that shows nothing any more.
const saturated = 0.97
