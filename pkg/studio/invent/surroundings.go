package invent

import (
	"math"

	"burngauge.dev/burngauge/pkg/chance"
	"burngauge.dev/burngauge/pkg/studio"
	"burngauge.dev/burngauge/pkg/target"
)

// dye is a colour drawn by luminance alone; vivid is that of its kind.
type dye struct {
	luminance span
	vivid     float64
}

// dyed draws it.
func (d Draws) dyed(c dye) studio.RGB { return d.Tint(d.In(c.luminance), c.vivid) }

// contrasts is how deep a background's texture is, 0..1.
var contrasts = span{0.1, 0.5}

// Woods by reflectance: the light and the dark of the year rings, and the factors on
// them that make one board lighter than another (chosen by eye).
var (
	lightWood, darkWood           = studio.RGB{R: 0.48, G: 0.30, B: 0.16}, studio.RGB{R: 0.22, G: 0.11, B: 0.05}
	lightWoodTimes, darkWoodTimes = span{0.5, 1.5}, span{0.6, 1.6}
)

// patterned are backgrounds of two dyes (chosen by eye); pitchMM is the period in mm of
// beds, profiles, sheets, lines of print and grids as they are made (common practice, no
// source).
var patterned = map[studio.BackgroundKind]struct {
	colour, second dye
	pitchMM        span
}{
	studio.BackHoneycomb:  {dye{span{0.25, 0.6}, 0.05}, dye{span{0.03, 0.12}, 0.2}, span{5, 11}},
	studio.BackPrint:      {dye{span{0.5, 0.8}, 0.06}, dye{span{0.02, 0.2}, 0.3}, span{3.5, 8}},
	studio.BackMat:        {dye{span{0.04, 0.2}, 0.7}, dye{span{0.3, 0.6}, 0.3}, span{4, 10}},
	studio.BackExtrusion:  {colour: dye{span{0.25, 0.6}, 0.05}, pitchMM: span{18, 32}},
	studio.BackPerforated: {colour: dye{span{0.2, 0.55}, 0.1}, pitchMM: span{5, 12}},
}

// plainBack is a background without a pattern: brushed metal or paint.
var plainBack = struct {
	colour tint
	second dye
}{tint{span{0.08, 0.6}, span{0, 0.5}}, dye{span{0.02, 0.6}, 0.2}}

// woodPitch is the period of year rings, mm; gap is the reflectance of holes and slots.
var woodPitch, gap = span{2.5, 9}, span{0.01, 0.05}

// Background draws the surroundings, every kind as likely as any other. Its pattern keeps
// a plausible size whatever the field of view.
func (d Draws) Background() studio.Background {
	kind := studio.BackgroundKind(d.IntN(studio.BackKinds))
	b := studio.Background{Kind: kind, Deg: d.Angle(), Seed: d.Uint32(), Contrast: d.In(contrasts)}
	p := patterned[kind]
	switch kind {
	case studio.BackHoneycomb, studio.BackPrint, studio.BackMat:
		b.Colour, b.Second, b.PitchMM = d.dyed(p.colour), d.dyed(p.second), d.In(p.pitchMM)
	case studio.BackExtrusion, studio.BackPerforated:
		b.Colour, b.Second, b.PitchMM = d.dyed(p.colour), studio.Grey(d.In(gap)), d.In(p.pitchMM)
	case studio.BackWood:
		b.Colour, b.Second, b.PitchMM = lightWood.Times(d.In(lightWoodTimes)), darkWood.Times(d.In(darkWoodTimes)), d.In(woodPitch)
	default:
		b.Colour, b.Second = d.colour(plainBack.colour), d.dyed(plainBack.second)
	}
	return b
}

// scattering is how things lie about (common practice, no source).
var scattering = struct {
	tries   int     // draws of a thing that are made for each that is wanted
	clear   float64 // mm, free rim round rings and index bar
	overlap float64 // share of a thing's radius by which the plate may cover it
}{tries: 6, clear: 1.5, overlap: 0.6}

// Clutter scatters up to most things over the picture, clear of the target.
func (d Draws) Clutter(scene *studio.Scene, cam *studio.Camera, most int) []studio.Clutter {
	var list []studio.Clutter
	sheet := scene.Plate.Shape == studio.PlateSheet && !scene.Absent
	depth := -scene.Plate.ThickMM
	clear := scene.Target.OuterRadius() + scene.Target.Index.ToMM + scattering.clear
	for range most * scattering.tries {
		if len(list) == most {
			break
		}
		k := d.thing(cam.Field(), sheet)
		x, y := d.Between(0, float64(cam.Width)), d.Between(0, float64(cam.Height))
		k.Right, k.Up = cam.Unproject(x, y, depth)
		away := math.Hypot(k.Right, k.Up) - k.RadiusMM
		if scene.Absent || away > clear && (sheet || scene.Plate.Inside(k.Right, k.Up) < -k.RadiusMM*scattering.overlap) {
			list = append(list, k)
		}
	}
	return list
}

// things are sizes and colours of what lies about. Sizes are shares of the field, the
// length in mm that the picture's short side spans: what matters is how large a thing is
// in the picture (chosen so that some look as large as the target).
var things = struct {
	radius         span
	colour         tint
	second         dye
	cable, sag     span // half length and sag
	cableColour    tint
	rule           span // half length
	ruleLeast      float64
	rubber, copper []studio.RGB // reflectances of O-rings and coins
	knob           tint
	rings, lines   dye // paper and ink of a printed target of another make
}{
	radius: span{0.02, 0.12}, colour: tint{span{0.15, 0.6}, span{0, 0.25}}, second: dye{span{0.01, 0.06}, 0.2},
	cable: span{0.3, 0.7}, sag: span{-0.15, 0.15}, cableColour: tint{span{0.02, 0.3}, span{0, 0.9}},
	rule: span{0.15, 0.3}, ruleLeast: 12, // mm: a shorter one shows too few marks to be known as a rule
	rubber: []studio.RGB{{R: 0.02, G: 0.02, B: 0.022}, {R: 0.35, G: 0.08, B: 0.02}, {R: 0.02, G: 0.12, B: 0.03}},
	copper: []studio.RGB{{R: 0.5, G: 0.32, B: 0.15}, {R: 0.45, G: 0.25, B: 0.14}, {R: 0.5, G: 0.48, B: 0.42}},
	knob:   tint{span{0.02, 0.3}, span{0, 0.8}},
	rings:  dye{span{0.4, 0.8}, 0.1}, lines: dye{span{0.03, 0.2}, 0.5},
}

// thing draws one, every kind as likely as any other.
func (d Draws) thing(field float64, onPlate bool) studio.Clutter {
	k := studio.Clutter{Kind: studio.ClutterKind(d.IntN(studio.ClutterKinds)), Deg: d.Angle(), OnPlate: onPlate, Seed: d.Uint32()}
	k.RadiusMM = field * d.In(things.radius)
	k.Colour, k.Second = d.colour(things.colour), d.dyed(things.second)
	switch k.Kind {
	case studio.ClutterCable:
		k.RadiusMM, k.BendMM = field*d.In(things.cable), field*d.In(things.sag)
		k.Colour = d.colour(things.cableColour)
	case studio.ClutterRule:
		k.RadiusMM = max(field*d.In(things.rule), things.ruleLeast)
	case studio.ClutterORing:
		k.Colour = chance.Pick(d.Dice, things.rubber...)
	case studio.ClutterKnob:
		k.Colour = d.colour(things.knob)
	case studio.ClutterCoin:
		k.Colour = chance.Pick(d.Dice, things.copper...)
	case studio.ClutterRings:
		k.Colour, k.Second = d.dyed(things.rings), d.dyed(things.lines)
	}
	return k
}

// cornerScrews hold a box plate (common practice, no source).
var cornerScrews = struct {
	radius span    // mm, of its head
	rim    float64 // mm, between a head and the plate's edges
	room   float64 // mm, between a head and the outer ring
	metal  dye
	hole   span // reflectance of a socket, a cross or a hole
}{radius: span{1.2, 2.4}, rim: 1.2, room: 1, metal: dye{span{0.2, 0.6}, 0.05}, hole: span{0.01, 0.04}}

// Screws puts a screw or a hole into each corner of a box plate that has the room.
func (d Draws) Screws(p *studio.Plate, spec target.Spec) []studio.Clutter {
	if p.Shape != studio.PlateBox {
		return nil
	}
	g := &cornerScrews
	radius := d.In(g.radius)
	kind := chance.Pick(d.Dice, studio.ClutterHexScrew, studio.ClutterCrossScrew, studio.ClutterHole)
	colour, second := d.dyed(g.metal), studio.Grey(d.In(g.hole))
	s, c := math.Sincos(p.Deg * math.Pi / 180)
	var list []studio.Clutter
	for corner := range 4 {
		x := (p.WidthMM/2 - radius - g.rim) * float64(1-2*(corner&1))
		y := (p.HeightMM/2 - radius - g.rim) * float64(1-(corner&2))
		k := studio.Clutter{Kind: kind, RadiusMM: radius, Deg: d.Angle(), Colour: colour, Second: second, OnPlate: true,
			Right: p.Right + c*x - s*y, Up: p.Up + s*x + c*y}
		if math.Hypot(k.Right, k.Up) > spec.OuterRadius()+radius+g.room && math.Abs(k.Right) > spec.Index.WidthMM+radius {
			list = append(list, k)
		}
	}
	return list
}
