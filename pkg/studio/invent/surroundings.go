package invent

import (
	"math"

	"burngauge.dev/burngauge/pkg/chance"
	"burngauge.dev/burngauge/pkg/studio"
	"burngauge.dev/burngauge/pkg/target"
)

// Background draws the surroundings. Its pattern keeps a plausible size whatever the field of view.
func (d Draws) Background() studio.Background {
	kind := studio.BackgroundKind(d.IntN(studio.BackKinds))
	b := studio.Background{Kind: kind, Deg: d.Angle(), Seed: d.Uint32(), Contrast: d.Between(0.1, 0.5)}
	switch kind {
	case studio.BackHoneycomb:
		b.Colour, b.Second, b.PitchMM = d.Tint(d.Between(0.25, 0.6), 0.05), d.Tint(d.Between(0.03, 0.12), 0.2), d.Between(5, 11)
	case studio.BackExtrusion:
		b.Colour, b.Second, b.PitchMM = d.Tint(d.Between(0.25, 0.6), 0.05), studio.Grey(d.Between(0.01, 0.05)), d.Between(18, 32)
	case studio.BackWood:
		b.Colour, b.Second, b.PitchMM = studio.RGB{R: 0.48, G: 0.30, B: 0.16}.Times(d.Between(0.5, 1.5)), studio.RGB{R: 0.22, G: 0.11, B: 0.05}.Times(d.Between(0.6, 1.6)), d.Between(2.5, 9)
	case studio.BackPrint:
		b.Colour, b.Second, b.PitchMM = d.Tint(d.Between(0.5, 0.8), 0.06), d.Tint(d.Between(0.02, 0.2), 0.3), d.Between(3.5, 8)
	case studio.BackMat:
		b.Colour, b.Second, b.PitchMM = d.Tint(d.Between(0.04, 0.2), 0.7), d.Tint(d.Between(0.3, 0.6), 0.3), d.Between(4, 10)
	case studio.BackPerforated:
		b.Colour, b.Second, b.PitchMM = d.Tint(d.Between(0.2, 0.55), 0.1), studio.Grey(d.Between(0.01, 0.05)), d.Between(5, 12)
	default:
		b.Colour, b.Second = d.Tint(d.Between(0.08, 0.6), d.Between(0, 0.5)), d.Tint(d.Between(0.02, 0.6), 0.2)
	}
	return b
}

// Clutter scatters up to most things over the picture, clear of the target.
func (d Draws) Clutter(scene *studio.Scene, cam *studio.Camera, most int) []studio.Clutter {
	var list []studio.Clutter
	sheet := scene.Plate.Shape == studio.PlateSheet && !scene.Absent
	depth := -scene.Plate.ThickMM
	clear := scene.Target.OuterRadius() + scene.Target.Index.ToMM + 1.5
	for range most * 6 {
		if len(list) == most {
			break
		}
		k := d.thing(cam.Field(), sheet)
		x, y := d.Between(0, float64(cam.Width)), d.Between(0, float64(cam.Height))
		k.Right, k.Up = cam.Unproject(x, y, depth)
		away := math.Hypot(k.Right, k.Up) - k.RadiusMM
		if scene.Absent || away > clear && (sheet || scene.Plate.Inside(k.Right, k.Up) < -k.RadiusMM*0.6) {
			list = append(list, k)
		}
	}
	return list
}

func (d Draws) thing(field float64, onPlate bool) studio.Clutter {
	k := studio.Clutter{Kind: studio.ClutterKind(d.IntN(studio.ClutterKinds)), Deg: d.Angle(), OnPlate: onPlate, Seed: d.Uint32()}
	k.RadiusMM = field * d.Between(0.02, 0.12)
	k.Colour, k.Second = d.Tint(d.Between(0.15, 0.6), d.Between(0, 0.25)), d.Tint(d.Between(0.01, 0.06), 0.2)
	switch k.Kind {
	case studio.ClutterCable:
		k.RadiusMM, k.BendMM = field*d.Between(0.3, 0.7), field*d.Between(-0.15, 0.15)
		k.Colour = d.Tint(d.Between(0.02, 0.3), d.Between(0, 0.9))
	case studio.ClutterRule:
		k.RadiusMM = max(field*d.Between(0.15, 0.3), 12)
	case studio.ClutterORing:
		k.Colour = chance.Pick(d.Dice, studio.RGB{R: 0.02, G: 0.02, B: 0.022}, studio.RGB{R: 0.35, G: 0.08, B: 0.02}, studio.RGB{R: 0.02, G: 0.12, B: 0.03})
	case studio.ClutterKnob:
		k.Colour = d.Tint(d.Between(0.02, 0.3), d.Between(0, 0.8))
	case studio.ClutterCoin:
		k.Colour = chance.Pick(d.Dice, studio.RGB{R: 0.5, G: 0.32, B: 0.15}, studio.RGB{R: 0.45, G: 0.25, B: 0.14}, studio.RGB{R: 0.5, G: 0.48, B: 0.42})
	case studio.ClutterRings:
		k.Colour, k.Second = d.Tint(d.Between(0.4, 0.8), 0.1), d.Tint(d.Between(0.03, 0.2), 0.5)
	}
	return k
}

// Screws puts a screw or a hole into each corner of a box plate that has the room.
func (d Draws) Screws(p *studio.Plate, spec target.Spec) []studio.Clutter {
	if p.Shape != studio.PlateBox {
		return nil
	}
	radius := d.Between(1.2, 2.4)
	kind := chance.Pick(d.Dice, studio.ClutterHexScrew, studio.ClutterCrossScrew, studio.ClutterHole)
	colour, second := d.Tint(d.Between(0.2, 0.6), 0.05), studio.Grey(d.Between(0.01, 0.04))
	s, c := math.Sincos(p.Deg * math.Pi / 180)
	var list []studio.Clutter
	for corner := range 4 {
		x := (p.WidthMM/2 - radius - 1.2) * float64(1-2*(corner&1))
		y := (p.HeightMM/2 - radius - 1.2) * float64(1-(corner&2))
		k := studio.Clutter{Kind: kind, RadiusMM: radius, Deg: d.Angle(), Colour: colour, Second: second, OnPlate: true,
			Right: p.Right + c*x - s*y, Up: p.Up + s*x + c*y}
		if math.Hypot(k.Right, k.Up) > spec.OuterRadius()+radius+1 && math.Abs(k.Right) > spec.Index.WidthMM+radius {
			list = append(list, k)
		}
	}
	return list
}
