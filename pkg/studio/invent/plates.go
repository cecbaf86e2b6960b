package invent

import (
	"burngauge.dev/burngauge/pkg/studio"
	"burngauge.dev/burngauge/pkg/target"
)

// Look draws paper and ink. Dark paper with light lines needs tape over it: a burn on it would not show.
func (d Draws) Look(spec target.Spec, dark bool) studio.Look {
	k := studio.Look{Mottle: d.Between(0, 0.35), Grain: d.Between(0.005, 0.05), GrainMM: d.Between(0.4, 2), Soft: spec.LineMM >= softLine}
	if dark {
		k.Paper = d.Tint(d.Between(0.02, 0.09), d.Between(0, 0.3))
		k.Ink = d.Tint(d.Between(0.45, 0.8), d.Between(0, 0.2))
		return k
	}
	k.Paper = d.Tint(d.Between(0.42, 0.85), d.Between(0, 0.18))
	k.Ink = d.Tint(d.Between(0.02, 0.12), d.Between(0, 0.5))
	return k
}

// softLine: a line this wide, mm, is a moulded or sprayed one without sharp edges.
const softLine = 1.0

// Plate draws the thing that carries the rings. A known rim gives a disc about
// the rings; otherwise a disc may sit a little beside their centre.
func (d Draws) Plate(spec target.Spec) studio.Plate {
	need := spec.OuterRadius() + spec.Index.ToMM
	p := studio.Plate{ThickMM: d.Between(0.8, 6), BevelMM: d.Between(0, 0.7), Bevel: d.Between(-0.3, 0.2)}
	if spec.RimMM > 0 {
		p.Shape, p.WidthMM = studio.PlateDisc, spec.RimMM
		return p
	}
	switch d.IntN(5) {
	case 0, 1:
		p.Shape, p.WidthMM = studio.PlateDisc, 2*(need+d.Between(0.8, 7))
		p.Right, p.Up = d.Disc(0, 0.5)
	case 2, 3:
		p.Shape = studio.PlateBox
		p.WidthMM, p.HeightMM = 2*(need+d.Between(0.8, 9)), 2*(need+d.Between(0.8, 9))
		p.CornerMM, p.Deg = d.Between(0.2, 5), d.Between(-3, 3)
		p.Right, p.Up = d.Disc(0, 0.6)
	default:
		p.Shape, p.ThickMM = studio.PlateSheet, 0
	}
	return p
}
