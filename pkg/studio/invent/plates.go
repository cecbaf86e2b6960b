package invent

import (
	"burngauge.dev/burngauge/pkg/studio"
	"burngauge.dev/burngauge/pkg/target"
)

// prints are how targets are printed: dark ink on light paper, or light lines in dark
// plastic (common practice, no source). Colours are reflectances.
var prints = struct {
	mottle, grain      span // 0..1, unevenness of the ink, texture of the paper
	grainMM            span // mm, size of that texture
	paper, ink         tint
	darkPaper, lightOn tint // of dark targets: the surface and the lines on it
}{
	mottle: span{0, 0.35}, grain: span{0.005, 0.05}, grainMM: span{0.4, 2},
	paper: tint{span{0.42, 0.85}, span{0, 0.18}}, ink: tint{span{0.02, 0.12}, span{0, 0.5}},
	darkPaper: tint{span{0.02, 0.09}, span{0, 0.3}}, lightOn: tint{span{0.45, 0.8}, span{0, 0.2}},
}

// Look draws paper and ink. Dark paper with light lines needs tape over it: a burn on it
// would not show.
func (d Draws) Look(spec target.Spec, dark bool) studio.Look {
	k := studio.Look{Mottle: d.In(prints.mottle), Grain: d.In(prints.grain), GrainMM: d.In(prints.grainMM), Soft: spec.LineMM >= softLine}
	paper, ink := prints.paper, prints.ink
	if dark {
		paper, ink = prints.darkPaper, prints.lightOn
	}
	k.Paper = d.colour(paper)
	k.Ink = d.colour(ink)
	return k
}

// softLine: a line this wide, mm, is a moulded or sprayed one without sharp edges.
const softLine = 1.0

// plates are what carries the rings, in mm (common practice, no source).
var plates = struct {
	thick, bevel span
	shade        span // how much lighter (negative: darker) the rounded edge is
	discRim      span // a disc's face beyond the index bar
	discOff      float64
	boxRim       span
	boxOff       float64
	corner       span // corner radius of a box
	boxDeg       span // degrees, turn of a box against the rings
}{
	thick: span{0.8, 6}, bevel: span{0, 0.7}, shade: span{-0.3, 0.2}, discRim: span{0.8, 7}, discOff: 0.5,
	boxRim: span{0.8, 9}, boxOff: 0.6, corner: span{0.2, 5}, boxDeg: span{-3, 3},
}

// Plate draws the thing that carries the rings: two in five a disc, two in five a box,
// else a sheet. A known rim gives a disc about the rings; otherwise a disc may sit a
// little beside their centre.
func (d Draws) Plate(spec target.Spec) studio.Plate {
	need := spec.OuterRadius() + spec.Index.ToMM
	p := studio.Plate{ThickMM: d.In(plates.thick), BevelMM: d.In(plates.bevel), Bevel: d.In(plates.shade)}
	if spec.RimMM > 0 {
		p.Shape, p.WidthMM = studio.PlateDisc, spec.RimMM
		return p
	}
	switch d.IntN(5) {
	case 0, 1:
		p.Shape, p.WidthMM = studio.PlateDisc, 2*(need+d.In(plates.discRim))
		p.Right, p.Up = d.Disc(0, plates.discOff)
	case 2, 3:
		p.Shape = studio.PlateBox
		p.WidthMM, p.HeightMM = 2*(need+d.In(plates.boxRim)), 2*(need+d.In(plates.boxRim))
		p.CornerMM, p.Deg = d.In(plates.corner), d.In(plates.boxDeg)
		p.Right, p.Up = d.Disc(0, plates.boxOff)
	default:
		p.Shape, p.ThickMM = studio.PlateSheet, 0
	}
	return p
}
