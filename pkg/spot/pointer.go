package spot

import (
	"math"

	"burngauge.dev/burngauge/pkg/ring"
	"burngauge.dev/burngauge/pkg/stat"
)

// Pointer settings.
const (
	dotMM      = 3.4   // half width of what is looked at about a dot
	coreMM     = 2.4   // the dot's light lies within this of its middle
	leastRed   = 0.025 // by which a dot is redder than what surrounds it
	leastGlow  = 0.04  // light it adds, relative to the tape's
	burntDark  = 0.55  // of the tape's light: less is a burn or black plastic
	overlapMM  = 0.3   // a burn's soft edge
	speckleU   = 0.012 // mm per axis: laser light is grainy; from simulated photos
	smallestMM = 0.15  // sigma of the smallest dot
	largestMM  = 2.0
)

// Pointer measures the red pointer's dot: light added to what the target
// reflects. Everything there reflects it in the measure it reflects the room's
// light, so the light is divided by that of tape and printed lines. The dot's
// middle may be burnt out white and a burn may hide a part of it: the centre is
// that of the two-dimensional Gaussian that fits what is left in all three
// colours, of which the first moment is the same.
func Pointer(f *ring.Fit) (*Mark, error) {
	ink := newPrinted(f)
	extent := f.Spec.OuterRadius() + f.Spec.Index.ToMM
	coarse := flatten(f, 0, 0, extent, 2*extent/coarseCells)
	x, y, ok := reddest(coarse, extent)
	if !ok {
		return nil, &Refusal{NoMark, "no red dot is seen on the target: switch the pointer on, dim the room light, and take the photo again"}
	}
	unclear := &Refusal{NoMark, "the red dot cannot be told from the tape: dim the room light and take the photo again"}
	g := newGlow(f, ink, x, y)
	dot, ok := g.fit(x, y)
	if !ok {
		return nil, unclear
	}
	if math.Hypot(dot.x-x, dot.y-y) > 0.5*dotMM { // once more about the right place
		g = newGlow(f, ink, dot.x, dot.y)
		if dot, ok = g.fit(dot.x, dot.y); !ok {
			return nil, unclear
		}
	}
	mark := &Mark{X: dot.x, Y: dot.y, Shape: "round", Contrast: dot.amplitude[2], EdgeU: g.choice(dot), NoiseU: math.Hypot(dot.u, speckleU), Outline: dot.outline()}
	mark.Major, mark.Minor, mark.Axis = dot.principal()
	if mark.Minor < circular*mark.Major {
		mark.Shape = "oval"
	}
	return mark, nil
}

// redness of a cell: how much more red than the other colours, against the
// light there.
func redness(p *flat, k int) float64 {
	b, g, r := p.colour[0][k], p.colour[1][k], p.colour[2][k]
	return (r - (b+g)/2) / (r + b + g + 0.02)
}

// reddest is the middle of the place that is redder than its surroundings and
// not darker: red ink and scorched tape are darker, white shine is not redder.
func reddest(p *flat, extent float64) (x, y float64, ok bool) {
	red := make([]float64, len(p.light))
	for k := range red {
		i, j := p.place(k%p.n, k/p.n)
		if red[k] = redness(p, k); math.Hypot(i, j) > extent || p.light[k] < 0.02 { // a dark cell's hue is noise
			red[k] = math.NaN()
		}
	}
	near, far := int(0.35/p.step)+1, int(2.6/p.step)
	redNear, redFar := boxMean(red, p.n, near), boxMean(red, p.n, far)
	lightNear, lightFar := boxMean(p.light, p.n, near), boxMean(p.light, p.n, far)
	best := leastRed
	at := -1
	for k := range red {
		excess := redNear[k] - redFar[k]
		if math.IsNaN(red[k]) || !(excess > leastRed) || lightNear[k] < 1.01*lightFar[k] {
			continue
		}
		if score := excess * min(2, lightNear[k]/lightFar[k]); score > best {
			best, at = score, k
		}
	}
	if at < 0 {
		return 0, 0, false
	}
	x, y = p.place(at%p.n, at/p.n)
	return x, y, true
}

// boxMean is the mean over squares of half width h cells, NaN cells left out,
// by running sums.
func boxMean(v []float64, n, h int) []float64 {
	w := n + 1
	sum, count := make([]float64, w*w), make([]float64, w*w)
	for j := range n {
		for i := range n {
			k := (j+1)*w + i + 1
			sum[k] = sum[k-1] + sum[k-w] - sum[k-w-1]
			count[k] = count[k-1] + count[k-w] - count[k-w-1]
			if x := v[j*n+i]; !math.IsNaN(x) {
				sum[k] += x
				count[k]++
			}
		}
	}
	out := make([]float64, n*n)
	for j := range n {
		for i := range n {
			x0, x1, y0, y1 := max(i-h, 0), min(i+h+1, n), max(j-h, 0), min(j+h+1, n)
			box := func(s []float64) float64 { return s[y1*w+x1] - s[y0*w+x1] - s[y1*w+x0] + s[y0*w+x0] }
			out[j*n+i] = box(sum) / box(count)
		}
	}
	return out
}

// glow is the light that a dot adds, by colour, relative to what its place
// reflects; NaN where that cannot be told: burnt out, hidden by a burn, dark.
type glow struct {
	*flat
	added [3][]float64
}

func newGlow(f *ring.Fit, ink printed, x, y float64) *glow {
	step := max(float64(f.Raster().Factor)/f.PxPerMM(), 2*dotMM/150)
	g := &glow{flat: flatten(f, x, y, dotMM, step)}
	burn := g.burn(x, y)
	unknown := newMask(g.n)
	for k := range unknown.in {
		i, j := g.place(k%g.n, k/g.n)
		unknown.in[k] = burn.in[k] || math.Hypot(i-x, j-y) < coreMM
	}
	for c := range g.colour {
		p := *g.flat
		p.light = g.colour[c]
		reflected := ink.dimmed(&p, fill((&darkness{flat: &p}).bridged(ink), unknown, g.n), unknown)
		g.added[c] = make([]float64, len(p.light))
		for k, v := range p.light {
			g.added[c][k] = v/reflected[k] - 1
			if burn.in[k] || v > burntOut || reflected[k] < 0.02 {
				g.added[c][k] = math.NaN()
			}
		}
	}
	return g
}

// burn is what reflects too little of the dot to tell: darker than most of
// what lies about it, wider than a line.
func (g *glow) burn(x, y float64) mask {
	var known []float64
	for k, v := range g.light {
		if i, j := g.place(k%g.n, k/g.n); math.Hypot(i-x, j-y) > coreMM && !math.IsNaN(v) {
			known = append(known, v)
		}
	}
	tape := stat.Quantile(known, 0.7)
	dark := newMask(g.n)
	for k, v := range g.light {
		dark.in[k] = v < burntDark*tape
	}
	return dark.opened(strokeMM / g.step).filled().grown(overlapMM / g.step) // opened first: a dark ring is no burn
}
