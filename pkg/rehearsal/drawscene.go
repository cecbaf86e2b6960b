package rehearsal

import (
	"math"
	"slices"

	"burngauge.dev/burngauge/pkg/target"
)

// Framing says how a photo is taken; Dice.Camera turns it into a camera.
type Framing struct {
	Megapixels float64
	Aspect     float64 // long side over short side
	Portrait   bool
	Fraction   float64 // outer ring's diameter over the short side
	Pose       Pose
	Focal35    float64 // mm
	K1, K2     float64
	OffCentre  float64 // 0: target in the middle, 1: anywhere it still fits
}

// nearest is how close, mm, a phone is brought to the target at most.
const nearest = 48

// Camera places a camera so that rings and index bar are in the picture with a
// little room. It returns false when the framing cannot hold them.
func (d Dice) Camera(f Framing, spec target.Spec) (Camera, bool) {
	short := math.Sqrt(f.Megapixels * 1e6 / f.Aspect)
	w, h := int(short*f.Aspect+0.5)&^1, int(short+0.5)&^1
	if f.Portrait {
		w, h = h, w
	}
	cam := Camera{Width: w, Height: h, FocalPX: FocalFrom35(f.Focal35, w, h), K1: f.K1, K2: f.K2}
	cam.Middle = [2]float64{float64(w-1)/2 + d.Between(-0.008, 0.008)*short, float64(h-1)/2 + d.Between(-0.008, 0.008)*short}
	distance := max(2*spec.OuterRadius()*cam.FocalPX/(f.Fraction*short), nearest)
	for range 60 {
		x := float64(w-1)/2 + f.OffCentre*d.Between(-0.5, 0.5)*float64(w)
		y := float64(h-1)/2 + f.OffCentre*d.Between(-0.5, 0.5)*float64(h)
		cam.Aim(f.Pose, x, y, distance)
		if cam.Holds(spec, 0.015*short) {
			return cam, true
		}
	}
	return cam, false
}

// Holds tells whether all rings and the index bar lie in the picture, room px from its border.
func (c *Camera) Holds(spec target.Spec, room float64) bool {
	in := func(right, up float64) bool {
		x, y := c.Project(right, up, 0)
		return x > room && y > room && x < float64(c.Width-1)-room && y < float64(c.Height-1)-room
	}
	r := spec.OuterRadius() + spec.LineMM
	for i := range 72 {
		s, cs := math.Sincos(2 * math.Pi * float64(i) / 72)
		if !in(r*cs, r*s) {
			return false
		}
	}
	top := spec.OuterRadius() + spec.Index.ToMM + 0.3
	return in(-spec.Index.WidthMM, top) && in(spec.Index.WidthMM, top)
}

// Field is the length in mm that the picture's short side spans at the target's distance.
func (c *Camera) Field() float64 { return float64(min(c.Width, c.Height)) / c.PxPerMM() }

// Background draws the surroundings. Its pattern keeps a plausible size whatever the field of view.
func (d Dice) Background() Background {
	kind := BackgroundKind(d.IntN(BackKinds))
	b := Background{Kind: kind, Deg: d.Angle(), Seed: d.Uint32(), Contrast: d.Between(0.1, 0.5)}
	switch kind {
	case BackHoneycomb:
		b.Colour, b.Second, b.PitchMM = d.Tint(d.Between(0.25, 0.6), 0.05), d.Tint(d.Between(0.03, 0.12), 0.2), d.Between(5, 11)
	case BackExtrusion:
		b.Colour, b.Second, b.PitchMM = d.Tint(d.Between(0.25, 0.6), 0.05), Grey(d.Between(0.01, 0.05)), d.Between(18, 32)
	case BackWood:
		b.Colour, b.Second, b.PitchMM = RGB{0.48, 0.30, 0.16}.Times(d.Between(0.5, 1.5)), RGB{0.22, 0.11, 0.05}.Times(d.Between(0.6, 1.6)), d.Between(2.5, 9)
	case BackPrint:
		b.Colour, b.Second, b.PitchMM = d.Tint(d.Between(0.5, 0.8), 0.06), d.Tint(d.Between(0.02, 0.2), 0.3), d.Between(3.5, 8)
	case BackMat:
		b.Colour, b.Second, b.PitchMM = d.Tint(d.Between(0.04, 0.2), 0.7), d.Tint(d.Between(0.3, 0.6), 0.3), d.Between(4, 10)
	case BackPerforated:
		b.Colour, b.Second, b.PitchMM = d.Tint(d.Between(0.2, 0.55), 0.1), Grey(d.Between(0.01, 0.05)), d.Between(5, 12)
	default:
		b.Colour, b.Second = d.Tint(d.Between(0.08, 0.6), d.Between(0, 0.5)), d.Tint(d.Between(0.02, 0.6), 0.2)
	}
	return b
}

// Clutter scatters up to most things over the picture, clear of the target.
func (d Dice) Clutter(scene *Scene, cam *Camera, most int) []Clutter {
	var list []Clutter
	sheet := scene.Plate.Shape == PlateSheet && !scene.Absent
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
		if scene.Absent || away > clear && (sheet || scene.Plate.inside(k.Right, k.Up) < -k.RadiusMM*0.6) {
			list = append(list, k)
		}
	}
	return list
}

func (d Dice) thing(field float64, onPlate bool) Clutter {
	k := Clutter{Kind: ClutterKind(d.IntN(ClutterKinds)), Deg: d.Angle(), OnPlate: onPlate, Seed: d.Uint32()}
	k.RadiusMM = field * d.Between(0.02, 0.12)
	k.Colour, k.Second = d.Tint(d.Between(0.15, 0.6), d.Between(0, 0.25)), d.Tint(d.Between(0.01, 0.06), 0.2)
	switch k.Kind {
	case ClutterCable:
		k.RadiusMM, k.BendMM = field*d.Between(0.3, 0.7), field*d.Between(-0.15, 0.15)
		k.Colour = d.Tint(d.Between(0.02, 0.3), d.Between(0, 0.9))
	case ClutterRule:
		k.RadiusMM = max(field*d.Between(0.15, 0.3), 12)
	case ClutterORing:
		k.Colour = pick(d, RGB{0.02, 0.02, 0.022}, RGB{0.35, 0.08, 0.02}, RGB{0.02, 0.12, 0.03})
	case ClutterKnob:
		k.Colour = d.Tint(d.Between(0.02, 0.3), d.Between(0, 0.8))
	case ClutterCoin:
		k.Colour = pick(d, RGB{0.5, 0.32, 0.15}, RGB{0.45, 0.25, 0.14}, RGB{0.5, 0.48, 0.42})
	case ClutterRings:
		k.Colour, k.Second = d.Tint(d.Between(0.4, 0.8), 0.1), d.Tint(d.Between(0.03, 0.2), 0.5)
	}
	return k
}

// Screws puts a screw or a hole into each corner of a box plate that has the room.
func (d Dice) Screws(p *Plate, spec target.Spec) []Clutter {
	if p.Shape != PlateBox {
		return nil
	}
	radius := d.Between(1.2, 2.4)
	kind := pick(d, ClutterHexScrew, ClutterCrossScrew, ClutterHole)
	colour, second := d.Tint(d.Between(0.2, 0.6), 0.05), Grey(d.Between(0.01, 0.04))
	c, s := cosSin(p.Deg)
	var list []Clutter
	for corner := range 4 {
		x := (p.WidthMM/2 - radius - 1.2) * float64(1-2*(corner&1))
		y := (p.HeightMM/2 - radius - 1.2) * float64(1-(corner&2))
		k := Clutter{Kind: kind, RadiusMM: radius, Deg: d.Angle(), Colour: colour, Second: second, OnPlate: true,
			Right: p.Right + c*x - s*y, Up: p.Up + s*x + c*y}
		if math.Hypot(k.Right, k.Up) > spec.OuterRadius()+radius+1 && math.Abs(k.Right) > spec.Index.WidthMM+radius {
			list = append(list, k)
		}
	}
	return list
}

// Lights draws one or two lamps and the room's light; uneven 0..1 says how
// steep the fall across the target may be.
func (d Dice) Lights(uneven float64) Lights {
	l := Lights{Ambient: d.Tint(d.Between(0.15, 0.5), d.Between(0, 0.12))}
	lamps := 1 + d.IntN(2)
	for range lamps {
		away := d.Between(120, 600) * (1.2 - uneven)
		deg := d.Angle()
		c, s := cosSin(deg)
		side := away * d.Between(0.1, 0.6+1.2*uneven)
		l.Lamps = append(l.Lamps, Lamp{At: [3]float64{c * side, s * side, away},
			Colour: d.Tint(1, d.Between(0, 0.15)), Strength: d.Between(0.3, 0.8) / float64(lamps)})
	}
	return l
}

// Shade draws a shadow that crosses the target.
func (d Dice) Shade(outer float64) Shade {
	right, up := d.Disc(0, outer)
	return Shade{Shape: ShadeShape(d.IntN(3)), Right: right, Up: up, Deg: d.Angle(), SizeMM: outer * d.Between(0.15, 0.9),
		SoftMM: pick(d, d.Between(0.3, 1), d.Between(2, 12)), Depth: d.Between(0.25, 0.65)}
}

// Glare draws a reflection at a place.
func (d Dice) Glare(right, up, size, strength float64) Glare {
	return Glare{Right: right, Up: up, LongMM: size, ShortMM: size * d.Between(0.6, 1), Deg: d.Angle(), Strength: strength,
		Colour: d.Tint(1, 0.06), Broken: d.Between(0, 0.4), TextureMM: d.Between(0.3, 1.2), TextureKey: d.Uint32()}
}

// Develop draws a phone's processing; f_px-independent settings only, blur in px.
func (d Dice) Develop() Develop {
	v := DefaultDevelop()
	v.BlurPX = d.Between(0.5, 1.1)
	v.Vignette, v.Flare = d.Between(0, 0.35), d.Between(0, 0.02)
	v.Shot, v.Read = 1/d.Between(1200, 8000), d.Between(0.001, 0.004)
	v.Mosaic = d.Chance(0.8)
	if d.Chance(0.6) {
		v.Sharpen, v.SharpenPX = d.Between(0.2, 0.9), d.Between(0.7, 1.6)
	}
	v.Gamma, v.Curve = d.Between(0.88, 1.12), d.Between(0, 0.45)
	v.Quality, v.Seed = 60+d.IntN(36), d.Uint64()
	return v
}

// Balance is the white balance of a phone that finds share of the lights' colour.
func (l *Lights) Balance(share float64) RGB {
	sum := l.Ambient
	for _, lamp := range l.Lamps {
		sum = sum.Plus(lamp.Colour.Times(lamp.Strength))
	}
	return sum.each(func(v float64) float64 { return math.Pow(sum.Luminance()/v, share) })
}

// Meter is the luminance that nine tenths of the target's area stay below,
// without reflections and pointers: what a spot meter would go by.
func Meter(scene *Scene, cam *Camera) float64 {
	plain := *scene
	plain.Pointers, plain.Covers, plain.Lights.Glares = nil, nil, nil
	v := newView(cam)
	outer := scene.Target.OuterRadius()
	var all []float64
	for j := range 15 {
		for i := range 15 {
			right, up := (float64(i)/7-1)*outer, (float64(j)/7-1)*outer
			if math.Hypot(right, up) > outer {
				continue
			}
			x, y := cam.Project(right, up, 0)
			all = append(all, plain.radiance(v.at(x, y)).Luminance())
		}
	}
	slices.Sort(all)
	return all[len(all)*9/10]
}
