package cause

import (
	"math"

	"burngauge.dev/burngauge/pkg/ellipse"
	"burngauge.dev/burngauge/pkg/raster"
	"burngauge.dev/burngauge/pkg/stat"
)

// Settings of sharpest.
const (
	blurWindow = 24 // px of the small picture: the side of what is looked at in one piece
	blurStep   = 25 // code values: less of a step tells nothing
	sharpShare = 0.1
	fewSteps   = 8              // tell nothing
	widestStep = blurWindow / 4 // sigma: four of it, 95 % of a step, fill the window
)

// sharpest is the sigma in px of the small picture of the blur at the sharpest
// tenth of the steps anywhere in it; 0 when it has too few steps to tell. Steps
// too blurred for a window of the small picture show in one of its halvings.
func (e explainer) sharpest() float64 {
	r := e.Small
	for scale := 1.0; ; scale *= 2 {
		if blurs := stepBlurs(r); len(blurs) >= fewSteps {
			return scale * stat.Quantile(blurs, sharpShare)
		}
		if min(r.Width, r.Height) < 2*ellipse.SmallestPicture {
			return 0
		}
		r = r.Halved()
	}
}

// stepBlurs lists the blur of all steps.
func stepBlurs(r *raster.Raster) []float64 {
	var blurs []float64
	for y := 0; y+blurWindow < r.Height; y += blurWindow / 4 {
		for x := 0; x+blurWindow < r.Width; x += blurWindow / 4 {
			if b, ok := stepBlur(r, x, y); ok {
				blurs = append(blurs, b)
			}
		}
	}
	return blurs
}

// stepBlur is the blur of the steepest step in one window, which must lie in its
// middle: of a step at its side only a part of the height would be seen. A step's
// blur is its height over its steepest slope (Gaussian: height / (sigma √2π)).
// Light that fades over the whole window is no step.
func stepBlur(r *raster.Raster, x0, y0 int) (sigma float64, ok bool) {
	low, high, steep := math.Inf(1), math.Inf(-1), 0.0
	inside := false
	for y := y0 + 1; y < y0+blurWindow-1; y++ {
		for x := x0 + 1; x < x0+blurWindow-1; x++ {
			k := y*r.Width + x
			v := float64(r.Light[k])
			low, high = min(low, v), max(high, v)
			gx, gy := float64(r.Light[k+1]-r.Light[k-1])/2, float64(r.Light[k+r.Width]-r.Light[k-r.Width])/2
			if slope := math.Hypot(gx, gy); slope > steep {
				steep, inside = slope, central(x-x0) && central(y-y0)
			}
		}
	}
	if high-low < blurStep || !inside {
		return 0, false
	}
	sigma = (high - low) / (steep * math.Sqrt(2*math.Pi))
	return sigma, sigma < widestStep
}

// central tells whether a place lies in the middle third of a window.
func central(i int) bool { return i >= blurWindow/3 && i < blurWindow-blurWindow/3 }
