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
		if log.Above("locate.MostGlare", e.shineIn(c.Ellipse), e.Settings().MostGlare, "refused: "+string(refusal.Glare)) {
			return true
		}
	}
	return false
}

// shineIn is the share of an ellipse's inside that is burnt out, of the places in
// ShineAngles directions at ShineRadii of the way out. The outermost lies inside a
// ring's own line, which may be white.
func (e explainer) shineIn(el conic.Ellipse) float64 {
	im := e.Photo.Image
	bright, n := 0, 0
	for i := range e.set.ShineAngles {
		for _, r := range e.set.ShineRadii {
			inner := el
			inner.A, inner.B = r*el.A, r*el.B
			p := inner.At(2 * math.Pi * float64(i) / float64(e.set.ShineAngles))
			x, y := int(p.X+0.5), int(p.Y+0.5) // the nearest pixel
			if x < 0 || y < 0 || x >= im.Width || y >= im.Height {
				continue
			}
			n++
			if e.burntOut(im.Pix[3*(y*im.Width+x):]) {
				bright++
			}
		}
	}
	return float64(bright) / float64(max(n, 1))
}

// burntOut says whether a pixel's blue, green and red hold nothing any more.
func (e explainer) burntOut(pixel []byte) bool {
	return min(pixel[0], pixel[1], pixel[2]) >= e.set.BurntOut
}
