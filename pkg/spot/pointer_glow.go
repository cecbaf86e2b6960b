package spot

import (
	"math"

	"burngauge.dev/burngauge/pkg/ring"
	"burngauge.dev/burngauge/pkg/stat"
)

// What is looked at about a dot.
const (
	firstReachMM = 2.4 // the dot's light is taken to end here at first,
	reachWidths  = 3.0 // and then at this many times its half width,
	leastReachMM = 1.2
	mostReachMM  = 3.4
	collarMM     = 1.0  // tape that is seen beyond
	glowCells    = 100  // a side, at most
	grainMM      = 0.2  // over which speckle and texture stay alike
	burntDark    = 0.55 // of the tape's light: less is a burn or black plastic
	overlapMM    = 0.3  // a burn's soft edge
	leastLight   = 0.03 // of the camera's scale, below which ratios say nothing
	plainPaint   = 0.06 // a cell's ground may differ from the tape's by this share
	mostPaint    = 2.0  // a lighter line's ground over the tape's, at most: beyond, it is not known well
	mostBeyond   = 8.0  // likewise of the ground beyond a seam
	// saturated is where the camera's scale is taken to end, in linear light:
	// above it phones' tone curves flatten and JPEG's colours are coarse.
	saturated = 0.93
)

// glow is what a dot is fitted to: the flat about it, what its cells would
// reflect without it, and which of them tell.
type glow struct {
	*flat
	bare   [3][]float64 // light of the tape alone, without the dot
	ground [3][]float64 // light without the dot: tape and printed lines
	paint  [3][]float64 // ground over that of plain tape, 1 off lines and other tape
	tape   [3]float64   // light of the plain tape, without the dot
	cells  []int        // that are fitted
	seam   *seam        // between two grounds, nil on one alone
	reach  float64      // mm, how far from the start they lie
	worth  float64      // of a cell: neighbours share their texture
}

// newGlow looks at the square round a dot whose light reaches out to reach mm.
func newGlow(f *ring.Fit, ink printed, x, y, reach float64) *glow {
	half := reach + collarMM
	step := max(float64(f.Raster().Factor)/f.PxPerMM(), 2*half/glowCells)
	g := &glow{flat: flatten(f, x, y, half, step), reach: reach, worth: min(1, square(step/grainMM))}
	var bridged [3][]float64
	for c := range g.colour {
		bridged[c] = (&darkness{flat: g.of(c)}).bridged(ink)
	}
	g.seam = g.findSeam(bridged, x, y, ink.blur)
	hidden := g.burnt(x, y)
	unknown := newMask(g.n)
	for k := range unknown.in {
		i, j := g.place(k%g.n, k/g.n)
		r := math.Hypot(i-x, j-y)
		unknown.in[k] = hidden.in[k] || r < reach
		if r < reach && !hidden.in[k] && g.seam.clear(i, j) && !ink.onBar(i-ink.dx, j-ink.dy) && !math.IsNaN(g.light[k]) {
			g.cells = append(g.cells, k)
		}
	}
	for c := range g.colour {
		g.setGround(c, bridged[c], ink, unknown)
	}
	return g
}

// of is the flat of one colour alone.
func (g *glow) of(c int) *flat {
	p := *g.flat
	p.light = g.colour[c]
	return &p
}

// setGround sets what one colour's cells reflect without the dot, on either
// side of a seam from what is seen on that side.
func (g *glow) setGround(c int, bridged []float64, ink printed, unknown mask) {
	g.bare[c], g.ground[c] = g.groundOf(c, 1, bridged, ink, unknown)
	if g.seam != nil {
		bare, ground := g.groundOf(c, -1, bridged, ink, unknown)
		for k := range bare {
			if g.part(k) == 1 {
				g.bare[c][k], g.ground[c][k] = bare[k], ground[k]
			}
		}
	}
	var under []float64
	for k, u := range unknown.in {
		if u && g.part(k) == 0 {
			under = append(under, g.bare[c][k])
		}
	}
	g.tape[c] = stat.Median(under)
	g.paint[c] = make([]float64, len(g.light))
	for k, v := range g.ground[c] {
		g.paint[c][k] = min(v/max(g.tape[c], leastLight), [2]float64{mostPaint, mostBeyond}[g.part(k)])
	}
}

// part is which ground a cell lies on: 0 the dot's own, 1 that beyond the seam.
func (g *glow) part(k int) int {
	if g.sideOf(k) < 0 {
		return 1
	}
	return 0
}

// groundOf is the light of the tape alone, and with its printed lines, as one
// side of the seam has it.
func (g *glow) groundOf(c int, sign float64, bridged []float64, ink printed, unknown mask) (bare, ground []float64) {
	if g.seam != nil {
		whole := unknown
		unknown = newMask(g.n)
		for k := range unknown.in {
			unknown.in[k] = whole.in[k] || sign*g.sideOf(k) < g.seam.margin
		}
	}
	bare = fill(bridged, unknown, g.n)
	printed, _ := ink.dimmed(g.of(c), bare, unknown)
	return bare, printed
}

// sideOf is a cell's distance from the seam.
func (g *glow) sideOf(k int) float64 { return g.seam.side(g.place(k%g.n, k/g.n)) }

// burnt is what reflects too little of the dot to tell: darker than most of
// what lies about it on its side of the seam, wider than a line.
func (g *glow) burnt(x, y float64) mask {
	var known [2][]float64
	for k, v := range g.light {
		if i, j := g.place(k%g.n, k/g.n); math.Hypot(i-x, j-y) > g.reach && !math.IsNaN(v) {
			known[g.part(k)] = append(known[g.part(k)], v)
		}
	}
	tape := [2]float64{stat.Quantile(known[0], 0.7), stat.Quantile(known[1], 0.7)}
	dark := newMask(g.n)
	for k, v := range g.light {
		dark.in[k] = v < burntDark*tape[g.part(k)]
	}
	return dark.opened(strokeMM / g.step).filled().grown(overlapMM / g.step) // opened first: a dark ring is no burn
}

// added is the light of a colour over the ground's.
func (g *glow) added(c, k int) float64 { return g.colour[c][k] - g.ground[c][k] }

// plain tells whether a cell lies on tape alone.
func (g *glow) plain(c, k int) bool { return math.Abs(g.paint[c][k]-1) < plainPaint }

// holds tells whether a place lies on the flat.
func (g *glow) holds(x, y float64) bool {
	i, j := (x-g.x0)/g.step, (y-g.y0)/g.step
	return i >= 0 && j >= 0 && i <= float64(g.n-1) && j <= float64(g.n-1)
}
