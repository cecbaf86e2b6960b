package studio

import (
	"math"
	"slices"
)

// Lobe is one dark patch: an ellipse whose edge may wander.
type Lobe struct {
	Right, Up  float64    // centre, mm
	MajorMM    float64    // half axis, mm
	MinorMM    float64    // half axis, mm
	AxisDeg    float64    // major axis, counter-clockwise from right
	EdgeMM     float64    // width over which darkness falls from 1 to 0, centred on the outline
	Waves      [8]float64 // amplitude, share of the radius, of the waves 2..9 round the outline
	WavePhases [8]float64 // rad

	axis turn
}

// Clip cuts a burn off along a straight edge: darkness stays on the side
// where (right, up)·(cos Deg, sin Deg) < AtMM.
type Clip struct {
	AtMM   float64
	Deg    float64
	SoftMM float64

	axis turn
}

// left is the share of darkness that the clip leaves at a place: 1 less the smooth step of
// its signed distance (right, up)·(cos, sin) - At beyond the edge, over the width SoftMM.
func (k *Clip) left(right, up float64) float64 {
	c, s := k.axis.of(k.Deg)
	across := right*c + up*s - k.AtMM
	return 1 - step(-k.SoftMM/2, k.SoftMM/2, across)
}

// Burn is the mark of one pulse (or two overlapping ones) on the tape's surface.
// Its darkness is a field 0..1 over the target plane: 1 is the burn's own full
// darkness, also where ash or a hole shows. Everything in Dark belongs to the
// mark; Strength only says how dark a darkness of 1 looks.
type Burn struct {
	Lobes    []Lobe
	Clips    []Clip  // what passes all of them is left
	HaloMM   float64 // scale length of a brown scorched surround, 0: none
	Halo     float64 // its darkness at the outline, 0..1
	HaloTo   float64 // direction in which the surround is stronger, degrees
	HaloBias float64 // 0: even all round, 1: all on one side
	Strength float64 // 0..1: share of the light taken away at darkness 1
	AshMM    float64 // radius of an ash-white middle of the first lobe, 0: none
	HoleMM   float64 // radius of a hole burnt through in the first lobe, 0: none
	Seed     uint32  // for the soot's grain
}

// level is the lobe's signed distance inside its outline in mm, about, positive inside:
//
//	(e(a) - r) · √(Major · Minor),   e(a) = 1 + Σ Waves[k] cos((k+2) a + WavePhases[k]),
//
// where (r, a) are polar coordinates in axes scaled by the half axes, in which the ellipse
// is the unit circle. Waves begin at 2: wave 1 would be a shift, wave 0 a change of size.
// Along the axes of a long ellipse the distance is stretched or squeezed by √(Major/Minor).
// Farther in than deep, or farther out than far, it says only that much: the waves need
// not be worked out where they cannot matter.
func (l *Lobe) level(right, up, deep, far float64) float64 {
	c, s := l.axis.of(l.AxisDeg)
	x, y := turned(right-l.Right, up-l.Up, c, s)
	x, y = x/l.MajorMM, y/l.MinorMM
	r, size := math.Hypot(x, y), math.Sqrt(l.MajorMM*l.MinorMM)
	if l.Waves == ([8]float64{}) {
		return (1 - r) * size
	}
	waves := l.waves() + rounding
	if least := (1 - waves - r) * size; least > deep {
		return least
	}
	if most := (1 + waves - r) * size; most < -far {
		return most
	}
	edge, a := 1.0, math.Atan2(y, x)
	for k, w := range l.Waves {
		edge += w * math.Cos(float64(k+2)*a+l.WavePhases[k])
	}
	return (edge - r) * size
}

// waves is how far they take the outline off the ellipse at most, as a share of the radius.
func (l *Lobe) waves() (sum float64) {
	for _, w := range l.Waves {
		sum += math.Abs(w)
	}
	return sum
}

// rounding is far more than what sums of a few numbers lose.
const rounding = 1e-9

// Reach is a radius round the first lobe's centre beyond which there is no darkness: for each
// lobe its own distance from the first, its longer half axis with all waves at their largest,
// and edge and scorch, which level stretches by Major/√(Major Minor) along that axis.
func (b *Burn) Reach() float64 {
	far := 0.0
	for i := range b.Lobes {
		l := &b.Lobes[i]
		from := math.Hypot(l.Right-b.Lobes[0].Right, l.Up-b.Lobes[0].Up)
		stretch := l.MajorMM / math.Sqrt(l.MajorMM*l.MinorMM)
		far = max(far, from+l.MajorMM*(1+l.waves())+stretch*l.EdgeMM+haloReach*b.HaloMM*stretch)
	}
	return far
}

// keptTurns is a copy that is quicker to look at.
func (b *Burn) keptTurns() Burn {
	fast := *b
	fast.Lobes, fast.Clips = slices.Clone(b.Lobes), slices.Clone(b.Clips)
	for i := range fast.Lobes {
		fast.Lobes[i].axis.keep(fast.Lobes[i].AxisDeg)
	}
	for i := range fast.Clips {
		fast.Clips[i].axis.keep(fast.Clips[i].Deg)
	}
	return fast
}

// haloReach is where the surround ends, in scale lengths.
const haloReach = 3

// Dark is the darkness 0..1 at a place of the target plane, mm. Each lobe's falls by the
// smooth step over its edge; lobes add up as layers of soot do, 1 - Π(1 - d); the scorch
// round them counts where it is darker; and what is clipped counts by what the clips leave,
// as a product.
func (b *Burn) Dark(right, up float64) float64 {
	core, level := 0.0, math.Inf(-1)
	for i := range b.Lobes {
		l := &b.Lobes[i]
		// Deeper in there is nothing but char, farther out neither edge nor scorch.
		edge := l.EdgeMM/2 + rounding
		v := l.level(right, up, edge, max(edge, haloReach*b.HaloMM+rounding))
		level = max(level, v)
		d := 0.0
		if l.EdgeMM > 0 {
			d = step(-l.EdgeMM/2, l.EdgeMM/2, v)
		} else if v > 0 {
			d = 1
		}
		core = 1 - (1-core)*(1-d)
	}
	if b.HaloMM > 0 && core < 1 {
		core = max(core, b.scorch(right, up, level))
	}
	for i := range b.Clips {
		core *= b.Clips[i].left(right, up)
	}
	return core
}

// scorch is the darkness of the brown surround, level mm inside the outline (negative
// outside). With t = distance outside / HaloMM it is Halo · (1 + HaloBias cos φ) · (1 - t/3)²,
// φ being the angle to the direction HaloTo: a straight fall to nothing at haloReach,
// squared, so that there is no step at the end.
func (b *Burn) scorch(right, up, level float64) float64 {
	out := math.Max(-level, 0) / b.HaloMM
	if out >= haloReach {
		return 0
	}
	l := &b.Lobes[0]
	to := math.Atan2(up-l.Up, right-l.Right) - b.HaloTo*math.Pi/180
	side := 1 + b.HaloBias*math.Cos(to)
	fall := 1 - out/haloReach
	return min(b.Halo*side*fall*fall, 1)
}

// char is the reflectance of burnt tape, soot: matt black surfaces lie near 3 to 5 %
// (common practice, no source).
var char = RGB{0.035, 0.026, 0.020}

// brown makes a part-dark place brown: it weighs darkness by channel and keeps luminance (their mean by luminance is 0.99).
var brown = RGB{0.78, 1.03, 1.22}

// How soot and ash look (chosen by eye). Grains are per mm, others reflectances or shares.
const (
	sootGrain, sootDepth = 9, 0.35 // how fine and how deep soot is grained
	browning             = 6.75    // 27/4: makes x (1-x)² reach 1, which it does at x = 1/3
	raggedGrain          = 2.5     // how fine the outline of ash and hole wanders
	raggedDepth          = 0.18    // and how far, as a share of the radius
	ashGrain             = 6       // how fine ash is grained
	ashLight, ashDepth   = 0.55, 0.35
	holeLight            = 0.012 // what shines out of a hole: next to nothing
)

// ashHue takes a little green and blue away: ash is warm white.
var ashHue = RGB{1, 0.97, 0.92}

// Ash and hole end within these shares of their radius.
const (
	ashFrom, ashTo   = 0.75, 1.15
	holeFrom, holeTo = 0.92, 1.05
)

// over lays the burn on a surface colour s; dark is Dark there. With the amount
// a = dark · Strength the surface becomes s (1 - w) + soot w, where w is a in the mean of
// the channels and, between bare tape and char, more in blue than in red: scorched paper
// is brown.
func (b *Burn) over(surface RGB, right, up, dark float64) RGB {
	if dark <= 0 {
		return surface
	}
	grain := fractal(right*sootGrain, up*sootGrain, 2, b.Seed)
	soot := char.Times(1 + sootDepth*grain)
	amount := dark * b.Strength
	tint := browning * amount * (1 - amount) * (1 - amount) // 1 where a third is burnt, none in the soot
	w := brown.each(func(v float64) float64 { return amount * (1 + (v-1)*tint) })
	left := w.each(func(v float64) float64 { return 1 - v })
	return b.middle(surface.Under(left).Plus(soot.Under(w)), right, up)
}

// middle adds ash or a hole within the first lobe: with r the distance from its middle,
// made ragged by noise, a smooth step from the one to the other over the shares of the
// radius above. A hole shows what lies behind, which is dark; ash is as white as paper.
func (b *Burn) middle(c RGB, right, up float64) RGB {
	if b.AshMM <= 0 && b.HoleMM <= 0 {
		return c
	}
	l := &b.Lobes[0]
	r := math.Hypot(right-l.Right, up-l.Up)
	r *= 1 + raggedDepth*noise(right*raggedGrain, up*raggedGrain, b.Seed+7)
	if b.AshMM > 0 {
		flake := ashLight + ashDepth*fractal(right*ashGrain, up*ashGrain, 3, b.Seed+3)
		c = c.Toward(ashHue.Times(flake), 1-step(ashFrom*b.AshMM, ashTo*b.AshMM, r))
	}
	if b.HoleMM > 0 {
		c = c.Toward(Grey(holeLight), 1-step(holeFrom*b.HoleMM, holeTo*b.HoleMM, r))
	}
	return c
}
