package ring

import (
	"math"

	"burngauge.dev/burngauge/pkg/conic"
)

// shine is the share of the target's face that is burnt out in all colours.
func (f *Fit) shine() float64 {
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

// shines tells whether something round and large enough for a target is burnt
// out.
func (s *search) shines() bool {
	short := float64(min(s.photo.Image.Width, s.photo.Image.Height))
	return s.any(0.06*short, func(c candidate) bool { return s.shineIn(c.Ellipse) > mostGlare })
}

// shineIn is the share of an ellipse's inside that is burnt out.
func (s *search) shineIn(el conic.Ellipse) float64 {
	im := s.photo.Image
	bright, n := 0, 0
	for i := range 24 {
		for _, r := range [...]float64{0.1, 0.3, 0.5, 0.7, 0.85} {
			inner := el
			inner.A, inner.B = r*el.A, r*el.B
			p := inner.At(2 * math.Pi * float64(i) / 24)
			x, y := int(p.X+0.5), int(p.Y+0.5)
			if x < 0 || y < 0 || x >= im.Width || y >= im.Height {
				continue
			}
			n++
			if k := 3 * (y*im.Width + x); im.Pix[k] >= 250 && im.Pix[k+1] >= 250 && im.Pix[k+2] >= 250 {
				bright++
			}
		}
	}
	return float64(bright) / float64(max(n, 1))
}
