package cause

import (
	"math"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/refusal"
)

// shines says whether something round and large enough for a target is burnt out.
func (e explainer) shines() bool {
	for _, c := range e.Ellipses {
		if !e.shows(c, e.set.ShineSize) {
			continue
		}
		log := e.Log().About(conic.Point{X: c.X, Y: c.Y}, "ellipse")
		if log.Above("locate.MostGlare", e.shineIn(c.Ellipse), e.Settings().MostGlare, "named "+string(refusal.Glare)) {
			return true
		}
	}
	return false
}

// shineIn is the share of an ellipse's inside that is burnt out.
func (e explainer) shineIn(el conic.Ellipse) float64 {
	im := e.Photo.Image
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
			if k := 3 * (y*im.Width + x); im.Pix[k] >= e.set.BurntOut && im.Pix[k+1] >= e.set.BurntOut && im.Pix[k+2] >= e.set.BurntOut {
				bright++
			}
		}
	}
	return float64(bright) / float64(max(n, 1))
}
