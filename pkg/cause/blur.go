package cause

import (
	"math"

	"burngauge.dev/burngauge/pkg/raster"
	"burngauge.dev/burngauge/pkg/stat"
)

// sharpest is the sigma in px of the small picture of the blur at the sharpest
// tenth of the steps anywhere in it; 0 when it has too few steps to know. Steps
// too blurred for a window of the small picture show in one of its halvings.
func (e explainer) sharpest() float64 {
	r := e.Small
	for scale := 1.0; ; scale *= 2 {
		if blurs := e.stepBlurs(r); len(blurs) >= e.set.FewSteps {
			return scale * stat.Quantile(blurs, e.set.SharpShare)
		}
		if min(r.Width, r.Height) < 2*e.Settings().Ellipse.SmallestPicture {
			return 0
		}
		r = r.Halved()
	}
}

// stepBlurs lists the blur of all steps.
func (e explainer) stepBlurs(r *raster.Raster) []float64 {
	var blurs []float64
	window := e.set.Window // a quarter of it from one to the next
	for y := 0; y+window < r.Height; y += window / 4 {
		for x := 0; x+window < r.Width; x += window / 4 {
			if b, ok := e.stepBlur(r, x, y); ok {
				blurs = append(blurs, b)
			}
		}
	}
	return blurs
}

// stepBlur is the blur of the steepest step in one window, which must lie in its
// middle third: of a step at its side only a part of the height would be seen.
//
// A step of height H blurred by a Gaussian of standard deviation σ is
// H Φ(x/σ), whose steepest slope is H φ(0)/σ = H / (σ √2π). So σ = H / (slope √2π),
// with H the difference between the lightest and the darkest pixel of the window,
// and the slope by central differences. Light that fades over the whole window is
// no step: false.
func (e explainer) stepBlur(r *raster.Raster, x0, y0 int) (sigma float64, ok bool) {
	window := e.set.Window
	central := func(i int) bool { return i >= window/3 && i < window-window/3 }
	low, high, steep := math.Inf(1), math.Inf(-1), 0.0
	inside := false
	for y := y0 + 1; y < y0+window-1; y++ {
		for x := x0 + 1; x < x0+window-1; x++ {
			k := y*r.Width + x
			v := float64(r.Light[k])
			low, high = min(low, v), max(high, v)
			gx, gy := float64(r.Light[k+1]-r.Light[k-1])/2, float64(r.Light[k+r.Width]-r.Light[k-r.Width])/2
			if slope := math.Hypot(gx, gy); slope > steep {
				steep, inside = slope, central(x-x0) && central(y-y0)
			}
		}
	}
	if high-low < e.set.LeastStep || !inside {
		return 0, false
	}
	sigma = (high - low) / (steep * math.Sqrt(2*math.Pi))
	return sigma, sigma < e.set.WidestStep
}
