package studio

import (
	"math"

	"burngauge.dev/burngauge/pkg/target"
)

// Look is how the printed target looks without tape.
type Look struct {
	Paper   RGB     // surface between the lines
	Ink     RGB     // lines, cross, index
	Soft    bool    // lines like a Gaussian with line_mm full width at half depth, instead of sharp bars
	Mottle  float64 // 0..1: how unevenly the ink lies
	Grain   float64 // 0..1: texture of the paper
	GrainMM float64 // its size
}

// coverage is the share of ink at a place, 0..1: of a ring by the distance |r - d/2| from its
// circle, of the cross's arms by |right| and |up| within a square of half side CrossMM, of the
// index bar by its rectangle. Where two overlap the darker counts: ink on ink is ink.
func (k *Look) coverage(spec *target.Spec, right, up float64) float64 {
	ink := 0.0
	r := math.Hypot(right, up)
	for _, d := range spec.RingsMM {
		ink = max(ink, k.line(r-d/2, spec.LineMM))
	}
	if c := spec.CrossMM; c > 0 && max(math.Abs(right), math.Abs(up)) < c {
		ink = max(ink, k.line(right, spec.LineMM*crossLine), k.line(up, spec.LineMM*crossLine))
	}
	outer := spec.OuterRadius()
	if math.Abs(right) < spec.Index.WidthMM/2 && up > outer+spec.Index.FromMM && up < outer+spec.Index.ToMM {
		ink = 1
	}
	return ink
}

// crossLine is the cross's line against the rings': drawn a little finer.
const crossLine = 0.8

// mottleGrain is how many patches of uneven ink there are in a mm (chosen by eye).
const mottleGrain = 3

// line is the share of ink at a distance off a line's middle. A soft line is a Gaussian of
// full width at half depth w: exp(-4 ln2 (off/w)²), which is 1/2 at off = w/2.
func (k *Look) line(off, width float64) float64 {
	if k.Soft {
		t := off / width
		return math.Exp(-4 * math.Ln2 * t * t)
	}
	if math.Abs(off) < width/2 {
		return 1
	}
	return 0
}

// surface is the printed target's reflectance at a place: paper (1 - c) + ink c with c the
// share of ink, both uneven by their own textures.
func (k *Look) surface(spec *target.Spec, right, up float64, seed uint32) RGB {
	c := k.Paper
	if k.Grain > 0 {
		c = c.Times(1 + k.Grain*fractal(right/k.GrainMM, up/k.GrainMM, 2, seed+11))
	}
	ink := k.coverage(spec, right, up)
	if ink == 0 {
		return c
	}
	if k.Mottle > 0 {
		ink *= 1 - k.Mottle*(0.5+0.5*noise(right*mottleGrain, up*mottleGrain, seed+12))
	}
	return c.Toward(k.Ink, ink)
}

// PlateShape is the outline of the thing that carries the rings.
type PlateShape int

// Outlines of plates.
const (
	PlateSheet PlateShape = iota // no edge within sight
	PlateDisc
	PlateBox // rectangle with round corners
)

// Plate carries the target. Its face is the ring plane, height 0; its back and
// the surroundings' surface lie ThickMM lower.
type Plate struct {
	Shape     PlateShape
	Right, Up float64 // middle, mm; 0, 0 for a plate that is round about the rings
	WidthMM   float64 // diameter of a disc
	HeightMM  float64 // of a box
	CornerMM  float64 // corner radius of a box
	Deg       float64 // turn of a box
	ThickMM   float64
	BevelMM   float64 // width of a lighter or darker rounded edge, 0: none
	Bevel     float64 // how much lighter (negative: darker)
}

// Inside is the distance to the plate's edge in mm, positive on the plate.
func (p *Plate) Inside(right, up float64) float64 {
	switch p.Shape {
	case PlateDisc:
		return p.WidthMM/2 - math.Hypot(right-p.Right, up-p.Up)
	case PlateBox:
		c, s := cosSin(p.Deg)
		x, y := turned(right-p.Right, up-p.Up, c, s)
		return -boxDistance(x, y, p.WidthMM/2, p.HeightMM/2, p.CornerMM)
	}
	return math.Inf(1)
}

// boxDistance is the signed distance to a box of half sides a, b with corner radius r,
// negative inside: with q = |place| - (a - r, b - r) it is |max(q, 0)| + min(max(q), 0) - r,
// exact outside and at the corners' arcs.
func boxDistance(x, y, a, b, r float64) float64 {
	x, y = math.Abs(x)-a+r, math.Abs(y)-b+r
	return math.Hypot(max(x, 0), max(y, 0)) + min(max(x, y), 0) - r
}

// edge is the factor by which the rounded edge changes the face's light: 1 where the bevel
// begins, 1 + Bevel at the plate's rim, straight between.
func (p *Plate) edge(inside float64) float64 {
	if p.BevelMM <= 0 || inside > p.BevelMM {
		return 1
	}
	return 1 + p.Bevel*(1-inside/p.BevelMM)
}
