package spot

import (
	"math"
	"slices"

	"burngauge.dev/burngauge/pkg/ring"
	"burngauge.dev/burngauge/pkg/stat"
)

// Pointer settings.
const (
	leastRedness = 0.10 // red light added, over what the surroundings reflect
	redShare     = 0.44 // of all light added; white shine adds a third in each colour
	dotMM        = 3.5  // half width of what is looked at about a dot
)

// Pointer measures the red pointer's dot: the first moment of the light it adds
// to what the tape reflects. A burn beside it, which reflects little of it, is
// left out and mirrored from the other side of the dot.
func Pointer(f *ring.Fit) (*Mark, error) {
	ink := newPrinted(f)
	extent := f.Spec.OuterRadius() + f.Spec.Index.ToMM
	coarse := flatten(f, 0, 0, extent, 2*extent/coarseCells)
	x, y, ok := reddest(coarse, extent)
	if !ok {
		return nil, &Refusal{NoMark, "no red dot is seen on the target: switch the pointer on, dim the room light, and take the photo again"}
	}
	d := newGlow(f, ink, x, y)
	m, ok := d.centre()
	if !ok {
		return nil, &Refusal{NoMark, "the red dot cannot be told from the tape: dim the room light and take the photo again"}
	}
	mark := &Mark{X: m.x, Y: m.y, Shape: "round", Contrast: d.peak, EdgeU: d.choice(m), NoiseU: 0, Outline: d.outline(m)}
	mark.Major, mark.Minor, mark.Axis = m.principal()
	if mark.Minor < 0.87*mark.Major {
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

// reddest is the middle of the cells that are much redder than the target
// usually is round them.
func reddest(p *flat, extent float64) (x, y float64, ok bool) {
	red := make([]float64, len(p.light))
	var all []float64
	for k := range red {
		i, j := p.place(k%p.n, k/p.n)
		if red[k] = redness(p, k); math.Hypot(i, j) > extent || math.IsNaN(red[k]) {
			red[k] = math.NaN()
		} else {
			all = append(all, red[k])
		}
	}
	if len(all) == 0 {
		return 0, 0, false
	}
	usual, scatter := stat.Median(all), stat.MAD(all)
	limit := usual + max(0.06, 3*scatter)
	found := newMask(p.n)
	for k, v := range red {
		found.in[k] = v > limit && p.light[k] > 0.03 // a dark cell's hue is noise
	}
	found = found.filled().opened(0.2 / p.step)
	best := 0.0
	for _, cells := range found.parts() {
		weight, sx, sy := 0.0, 0.0, 0.0
		for _, k := range cells {
			w := max(p.colour[2][k], 0)
			i, j := p.place(k%p.n, k/p.n)
			weight, sx, sy = weight+w, sx+w*i, sy+w*j
		}
		area := float64(len(cells)) * p.step * p.step
		peak := 0.0
		for _, k := range cells {
			peak = max(peak, red[k]-usual)
		}
		if area > 0.15 && area < 40 && weight*peak > best {
			best, x, y, ok = weight*peak, sx/weight, sy/weight, true
		}
	}
	return x, y, ok
}

// glow is the light that a dot adds.
type glow struct {
	*flat
	added  []float64 // sum over the colours, relative to the tape's light
	hidden mask      // cells that a burn covers
	peak   float64
}

func newGlow(f *ring.Fit, ink printed, x, y float64) *glow {
	step := max(0.7*float64(f.Raster().Factor)/f.PxPerMM(), 2*dotMM/200)
	g := &glow{flat: flatten(f, x, y, dotMM, step)}
	unknown, known := newMask(g.n), []float64{}
	for k := range unknown.in {
		i, j := g.place(k%g.n, k/g.n)
		unknown.in[k] = math.Hypot(i-x, j-y) < 0.72*dotMM
		if !unknown.in[k] && !math.IsNaN(g.light[k]) {
			known = append(known, g.light[k])
		}
	}
	tape := stat.Quantile(known, 0.7)
	dark := newMask(g.n)
	for k, v := range g.light {
		dark.in[k] = v < 0.55*tape
	}
	burn := dark.filled().opened(0.3 / step)
	g.hidden = burn.grown(0.35 / step)
	g.added = make([]float64, len(g.light))
	for c := range g.colour {
		g.add(ink, c, unknown)
	}
	for k := range g.added {
		if !g.hidden.in[k] {
			g.peak = max(g.peak, g.added[k])
		}
	}
	return g
}

// add sums the light that one colour has over what tape and lines would give.
func (g *glow) add(ink printed, colour int, unknown mask) {
	p := *g.flat
	p.light = g.colour[colour]
	source := slices.Clone(p.light)
	for k := range source {
		if g.hidden.in[k] {
			source[k] = math.NaN()
		}
	}
	tape := fill(source, unknown, g.n)
	for k, v := range p.light {
		if !math.IsNaN(v) {
			g.added[k] += (v - tape[k]) / 3
		}
	}
}

// centre is the first moment of the added light. Where a burn hides part of
// the dot, the light there is taken from the place opposite, about the centre
// so far, until that stays.
func (g *glow) centre() (moment, bool) {
	if g.peak < 0.02 {
		return moment{}, false
	}
	m := g.moments(0.35, nil)
	for range 12 {
		next := g.moments(0.35, &m)
		if !(next.area > 0) {
			return moment{}, false
		}
		still := math.Hypot(next.x-m.x, next.y-m.y) < 1e-4
		m = next
		if still {
			break
		}
	}
	return m, m.area > 0.02
}

// moments of the light above a share of the peak; about nil nothing is
// mirrored.
func (g *glow) moments(share float64, about *moment) moment {
	d := &darkness{flat: g.flat, value: g.added}
	floor := share * g.peak
	near := g.connected(floor)
	return d.weighted(func(k int) float64 {
		v := g.added[k]
		if about != nil && g.hidden.in[k] {
			x, y := g.place(k%g.n, k/g.n)
			v = g.flat.sample(g.added, 2*about.x-x, 2*about.y-y)
			return max(0, v-floor)
		}
		if g.hidden.in[k] || !near.in[k] {
			return 0
		}
		return max(0, v-floor)
	})
}

// connected is the brightest part above a level.
func (g *glow) connected(level float64) mask {
	above := newMask(g.n)
	for k, v := range g.added {
		above.in[k] = v > level && !g.hidden.in[k]
	}
	var best []int
	sum := 0.0
	for _, cells := range above.parts() {
		s := 0.0
		for _, k := range cells {
			s += g.added[k]
		}
		if s > sum {
			best, sum = cells, s
		}
	}
	return maskOf(g.n, best)
}

// choice is the standard uncertainty per axis from where the dot's light is cut.
func (g *glow) choice(m moment) float64 {
	sum := 0.0
	shares := []float64{0.2, 0.5, 0.65}
	for _, s := range shares {
		o := g.moments(s, &m)
		sum += (o.x-m.x)*(o.x-m.x) + (o.y-m.y)*(o.y-m.y)
	}
	return math.Sqrt(sum / 2 / float64(len(shares)))
}

// outline is the ellipse of the second moments.
func (g *glow) outline(m moment) [][2]float64 {
	major, minor, axis := m.principal()
	s, c := math.Sincos(axis)
	out := make([][2]float64, 60)
	for i := range out {
		b, a := math.Sincos(2 * math.Pi * float64(i) / 60)
		a, b = a*major/2, b*minor/2
		out[i] = [2]float64{m.x + a*c - b*s, m.y + a*s + b*c}
	}
	return out
}
