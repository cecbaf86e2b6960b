package pointer

import (
	"math"

	"burngauge.dev/burngauge/pkg/decision"
	"burngauge.dev/burngauge/pkg/spot/cells"
	"burngauge.dev/burngauge/pkg/spot/flat"
	"burngauge.dev/burngauge/pkg/stat"
)

// ground is what a dot is fitted on: the field about it, what its cells would
// reflect without the dot, and which of them say something of it. What stands
// for each of three colours is in the order blue, green, red.
type ground struct {
	*flat.Field
	set    *Settings
	log    *decision.Log
	bare   [3][]float64 // light of the tape alone, without the dot
	light  [3][]float64 // the same with the printed lines
	paint  [3][]float64 // that over plain tape's, 1 off lines and other tape
	tape   [3]float64   // light of the plain tape, without the dot
	fitted []int        // the cells that the dot is fitted to
	seam   *seam        // between two grounds, nil on one alone
	reach  float64      // mm, how far from the start they lie
	weight float64      // of a cell: neighbours share their texture
}

// newGround looks at the square round a dot whose light reaches out to reach mm.
// A cell of step mm counts (step / GrainMM)², as cells within a grain have one
// error together.
func (v *view) newGround(x, y, reach float64) *ground {
	half := reach + v.set.CollarMM
	step := max(float64(v.fit.Raster().Factor)/v.fit.PxPerMM(), 2*half/float64(v.set.FieldCells))
	g := &ground{
		Field: flat.Flatten(v.fit, flat.Square{Right: x, Up: y, Half: half, Step: step}, v.flat),
		set:   v.set, log: v.log, reach: reach, weight: min(1, square(step/v.set.GrainMM)),
	}
	var bridged [3][]float64
	for c := range g.Colour {
		bridged[c] = v.print.Bridged(g.InColour(c))
	}
	g.seam = g.findSeam(bridged, x, y, v.print.BlurMM())
	hidden := g.burnt(x, y)
	unknown := cells.New(g.N)
	for k := range unknown.In {
		i, j := g.Centre(k)
		r := math.Hypot(i-x, j-y)
		unknown.In[k] = hidden.In[k] || r < reach
		if r < reach && !hidden.In[k] && g.seam.clear(i, j) && !v.print.OnBar(i, j) && !math.IsNaN(g.Light[k]) {
			g.fitted = append(g.fitted, k)
		}
	}
	for c := range g.Colour {
		g.setLight(c, bridged[c], v.print, unknown)
	}
	return g
}

func square(v float64) float64 { return v * v }

// setLight sets what one colour's cells reflect without the dot, on either side
// of a seam from what is seen on that side.
func (g *ground) setLight(c int, bridged []float64, print flat.Print, unknown cells.Set) {
	g.bare[c], g.light[c] = g.lightOf(c, 1, bridged, print, unknown)
	if g.seam != nil {
		bare, light := g.lightOf(c, -1, bridged, print, unknown)
		for k := range bare {
			if g.side(k) == beyondSeam {
				g.bare[c][k], g.light[c][k] = bare[k], light[k]
			}
		}
	}
	var under []float64
	for k, u := range unknown.In {
		if u && g.side(k) == ownSide {
			under = append(under, g.bare[c][k])
		}
	}
	g.tape[c] = stat.Median(under)
	g.paint[c] = make([]float64, len(g.Light))
	most := [2]float64{ownSide: g.set.MostPaint, beyondSeam: g.set.MostBeyond}
	for k, v := range g.light[c] {
		g.paint[c][k] = min(v/max(g.tape[c], g.set.LeastLight), most[g.side(k)])
	}
}

// The sides of a seam.
const (
	ownSide    = 0 // the ground that the dot's middle lies on
	beyondSeam = 1
)

// side is which ground a cell lies on.
func (g *ground) side(k int) int {
	if g.fromSeam(k) < 0 {
		return beyondSeam
	}
	return ownSide
}

// fromSeam is a cell's distance from the seam, mm; see seam.from.
func (g *ground) fromSeam(k int) float64 { return g.seam.from(g.Centre(k)) }

// lightOf is the light of the tape alone, and with its printed lines, as one side
// of the seam has it: sign 1 the dot's own, -1 the one beyond.
func (g *ground) lightOf(c int, sign float64, bridged []float64, print flat.Print, unknown cells.Set) (bare, printed []float64) {
	if g.seam != nil {
		whole := unknown
		unknown = cells.New(g.N)
		for k := range unknown.In {
			unknown.In[k] = whole.In[k] || sign*g.fromSeam(k) < g.seam.margin
		}
	}
	bare = cells.Fill(bridged, unknown)
	printed, _ = print.Dimmed(g.InColour(c), bare, unknown)
	return bare, printed
}

// burnt is what reflects too little of the dot to show it: darker than most of
// what lies about it on its side of the seam, wider than a line.
func (g *ground) burnt(x, y float64) cells.Set {
	var known [2][]float64
	for k, v := range g.Light {
		if i, j := g.Centre(k); math.Hypot(i-x, j-y) > g.reach && !math.IsNaN(v) {
			known[g.side(k)] = append(known[g.side(k)], v)
		}
	}
	tape := [2]float64{stat.Quantile(known[0], g.set.TapeQuantile), stat.Quantile(known[1], g.set.TapeQuantile)}
	dark := cells.New(g.N)
	for k, v := range g.Light {
		dark.In[k] = v < g.set.BurntDark*tape[g.side(k)]
	}
	// Opened before filled: a dark ring's line is no burn.
	return dark.Opened(g.set.StrokeMM / g.Step).Filled().Grown(g.set.OverlapMM / g.Step)
}

// added is the light of a colour over the ground's.
func (g *ground) added(c, k int) float64 { return g.Colour[c][k] - g.light[c][k] }

// isPlain says whether a cell lies on tape alone.
func (g *ground) isPlain(c, k int) bool { return math.Abs(g.paint[c][k]-1) < g.set.PlainPaint }
