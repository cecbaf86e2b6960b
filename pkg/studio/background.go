package studio

import (
	"math"
)

// BackgroundKind names what the target lies on.
type BackgroundKind int

// Surroundings as one meets them round a laser machine.
const (
	BackBrushed   BackgroundKind = iota // brushed metal
	BackHoneycomb                       // the bed's honeycomb
	BackExtrusion                       // slotted aluminium profiles side by side
	BackWood
	BackPrint      // a printed page
	BackMat        // a cutting mat with a grid
	BackPaint      // painted sheet with specks
	BackPerforated // sheet with round holes in rows
	backKinds
)

// BackKinds is the number of kinds, for drawing one at random.
const BackKinds = int(backKinds)

// The numbers in this file say what each pattern looks like: lengths in mm or as shares of
// PitchMM, depths as shares of the light. They were chosen by eye, and nothing but looks
// depends on them: what is measured lies on the plate.

// Background is the surface under and round the target, at the plate's back.
type Background struct {
	Kind     BackgroundKind
	Colour   RGB
	Second   RGB     // grooves, cells, print, lines
	Deg      float64 // turn of the pattern
	PitchMM  float64 // period of the pattern
	Contrast float64 // depth of the texture, 0..1
	Seed     uint32

	axis turn
}

// at is the reflectance at a place of the background's plane, mm.
func (b *Background) at(right, up float64) RGB {
	c, s := b.axis.of(b.Deg)
	x, y := turned(right, up, c, s)
	switch b.Kind {
	case BackHoneycomb:
		return b.honeycomb(x, y)
	case BackExtrusion:
		return b.extrusion(x, y)
	case BackWood:
		return b.wood(x, y)
	case BackPrint:
		return b.print(x, y)
	case BackMat:
		return b.mat(x, y)
	case BackPaint:
		return b.paint(x, y)
	case BackPerforated:
		return b.perforated(x, y)
	}
	return b.brushed(x, y)
}

// brushed: long thin streaks, and wide bands of sheen across them.
func (b *Background) brushed(x, y float64) RGB {
	v := 0.6*noise(x/14, y*6, b.Seed) + 0.4*noise(x/40, y*2.1, b.Seed+1)
	v += 0.5 * noise(x/60, y/25, b.Seed+2)
	return b.Colour.Times(max(1+b.Contrast*v, 0.05))
}

// honeycomb: thin bright walls round dark cells. Middles of hexagons of width 1 lie on two
// rectangular lattices of 1 by √3, one moved by (1/2, √3/2) against the other. From the
// nearer middle the wall is at max(|x|, |x|/2 + |y| √3/2) = 1/2.
func (b *Background) honeycomb(x, y float64) RGB {
	x, y = x/b.PitchMM, y/b.PitchMM
	x += 0.05 * noise(x*0.7, y*0.7, b.Seed)
	const h = 0.8660254037844386 // √3/2
	ax, ay := cycle(x, 1)-0.5, cycle(y, 2*h)-h
	bx, by := cycle(x-0.5, 1)-0.5, cycle(y-h, 2*h)-h
	if ax*ax+ay*ay > bx*bx+by*by {
		ax, ay = bx, by
	}
	ax, ay = math.Abs(ax), math.Abs(ay)
	wall := 0.5 - max(ax, ax*0.5+ay*h)
	if wall < 0.035 {
		return b.Colour.Times(1 + b.Contrast*noise(x*3, y*3, b.Seed+1))
	}
	return b.Second.Times(0.5 + 0.8*(0.5-wall) + 0.2*noise(x, y, b.Seed+2))
}

// extrusion: flat lands, a rounded edge, a dark slot, again and again.
func (b *Background) extrusion(x, y float64) RGB {
	t := y/b.PitchMM - math.Floor(y/b.PitchMM)
	grain := 1 + 0.25*b.Contrast*noise(x/18, y*7, b.Seed)
	off := math.Abs(t - 0.5)
	switch {
	case off < 0.14:
		return b.Second.Times(grain * (0.5 + off/0.14))
	case off < 0.19:
		return b.Colour.Times(grain * (1 + b.Contrast*math.Copysign(0.6, t-0.5)))
	case off > 0.485:
		return b.Second
	}
	return b.Colour.Times(grain)
}

// wood: year rings stretched along x, and pores.
func (b *Background) wood(x, y float64) RGB {
	warp := 2.2*noise(x/90, y/20, b.Seed) + 0.5*noise(x/25, y/6, b.Seed+1)
	ring := 0.5 + 0.5*math.Sin(2*math.Pi*(y/b.PitchMM+warp))
	v := b.Contrast * (ring*ring - 0.4)
	if noise(x/4, y*3.5, b.Seed+2) > 0.72 {
		v -= 0.5 * b.Contrast
	}
	return b.Colour.Toward(b.Second, min(max(0.5-v, 0), 1))
}

// print: lines of letters and a rule now and then; PitchMM is the line spacing.
func (b *Background) print(x, y float64) RGB {
	paper := b.Colour.Times(1 + 0.04*noise(x/8, y/8, b.Seed))
	row := math.Floor(y / b.PitchMM)
	unit := b.PitchMM * 0.55 / letterHeight
	fy := (y - row*b.PitchMM) / unit
	col := math.Floor(x / (unit * advance))
	fx := x/unit - col*advance
	h := hash(int32(col), int32(row), b.Seed)
	if hash(0, int32(row), b.Seed+5)%7 == 0 || h%6 == 0 || fy > letterHeight+1 {
		return paper
	}
	letter := "ABCDEFGHIKLMNOPRSTUVWXYZ0123456789"[h/7%34]
	if glyphs[letter].distance(fx-0.8, fy) < 0.42 {
		return b.Second
	}
	return paper
}

// mat: a grid of thin lines, every fifth one stronger.
func (b *Background) mat(x, y float64) RGB {
	base := b.Colour.Times(1 + 0.3*b.Contrast*fractal(x/2, y/2, 2, b.Seed))
	near := func(v, pitch float64) float64 { return math.Abs(v - pitch*math.Round(v/pitch)) }
	fine := min(near(x, b.PitchMM), near(y, b.PitchMM))
	bold := min(near(x, 5*b.PitchMM), near(y, 5*b.PitchMM))
	if bold < 0.25 {
		return b.Second
	}
	if fine < 0.1 {
		return base.Toward(b.Second, 0.6)
	}
	return base
}

// paint: an orange-peel surface with chips and specks.
func (b *Background) paint(x, y float64) RGB {
	c := b.Colour.Times(max(1+0.35*b.Contrast*fractal(x/5, y/5, 3, b.Seed), 0.05))
	if v := fractal(x*0.8, y*0.8, 2, b.Seed+1); v > 0.56 {
		return c.Toward(b.Second, 0.7)
	}
	return c
}

// perforated: round holes in staggered rows.
func (b *Background) perforated(x, y float64) RGB {
	row := math.Round(y / b.PitchMM)
	if int(row)&1 != 0 {
		x += b.PitchMM / 2
	}
	dx := x - b.PitchMM*math.Round(x/b.PitchMM)
	dy := y - b.PitchMM*row
	r := math.Hypot(dx, dy) / b.PitchMM
	base := b.Colour.Times(1 + 0.2*b.Contrast*noise(x/9, y/3, b.Seed))
	switch {
	case r < 0.27:
		return b.Second.Times(0.7 + 0.6*dy/b.PitchMM)
	case r < 0.31:
		return base.Times(1.25)
	}
	return base
}
