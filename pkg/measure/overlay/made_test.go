package overlay

import (
	"math"
	"sync"

	"burngauge.dev/burngauge/pkg/measure"
	"burngauge.dev/burngauge/pkg/photo"
	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/target"
)

// grey is the flat photo that results are drawn on: no line's colour and no
// casing's.
const grey = 120

// blank is a flat grey photo.
func blank(width, height int) *photo.Photo {
	p := &photo.Photo{Image: photo.Image{Width: width, Height: height, Pix: make([]byte, 3*width*height)}}
	p.File = "rear-left.jpg"
	for i := range p.Pix {
		p.Pix[i] = grey
	}
	return p
}

// level is a target seen squarely: its centre in px, px per mm, turned
// clockwise.
func level(x, y, perMM, turnedDeg float64) func(right, up float64) (float64, float64) {
	sin, cos := math.Sincos(turnedDeg * math.Pi / 180)
	return func(right, up float64) (float64, float64) {
		return x + perMM*(right*cos+up*sin), y + perMM*(right*sin-up*cos)
	}
}

// tilted is a target turned about the level axis, seen from 120 mm: the plain
// pinhole projection of (right, up cos, up sin).
func tilted(x, y, perMM, tiltDeg float64) func(right, up float64) (float64, float64) {
	const distance = 120
	sin, cos := math.Sincos(tiltDeg * math.Pi / 180)
	return func(right, up float64) (float64, float64) {
		scale := perMM * distance / (distance + up*sin)
		return x + scale*right, y - scale*up*cos
	}
}

// measured is a mark at a place, with its outline as a circle of 1.5 mm.
func measured(mark string, right, up float64, toPixel func(right, up float64) (float64, float64)) (report.Measurement, [][2]float64) {
	distance := math.Hypot(right, up)
	m := report.Measurement{Mark: mark, Target: "plain-4", Status: report.Measured,
		Offset:      &report.Offset{RightMM: right, UpMM: up, DistanceMM: distance, Clock: target.Clock(right, up), Rings: distance / 2},
		Uncertainty: &report.Uncertainty{RadiusMM: 0.03, Coverage: 0.95},
		Verdict:     &report.Verdict{LimitMM: 2, State: "inside", Probability: 0.9999},
		View: &report.View{TiltDeg: 9.9, RingsSeen: []report.RingSeen{
			{DiameterMM: 8, Arc: 0.6}, {DiameterMM: 12, Arc: 0.4}, {DiameterMM: 16, Arc: 0.9}, {DiameterMM: 4, Arc: 0}}},
	}
	outline := make([][2]float64, 90)
	for i := range outline {
		sin, cos := math.Sincos(float64(i) * 2 * math.Pi / 90)
		outline[i][0], outline[i][1] = toPixel(right+1.5*cos, up+1.5*sin)
	}
	return m, outline
}

// one is a photo with one burn.
func one(p *photo.Photo, right, up float64, toPixel func(right, up float64) (float64, float64)) measure.Result {
	m, outline := measured(measure.Burn, right, up, toPixel)
	return measure.Result{Photo: p, ToPixel: toPixel, Measurements: []report.Measurement{m}, Outlines: [][][2]float64{outline}}
}

// both is a photo with a burn and a pointer.
func both(p *photo.Photo, toPixel func(right, up float64) (float64, float64)) measure.Result {
	res := one(p, -0.44, 0.86, toPixel)
	m, outline := measured(measure.Pointer, 2.5, -3, toPixel)
	m.Verdict.State = "outside"
	res.Measurements, res.Outlines = append(res.Measurements, m), append(res.Outlines, outline)
	return res
}

// refused is a photo without a number.
func refused(p *photo.Photo, text string) measure.Result {
	return measure.Result{Photo: p, Outlines: [][][2]float64{nil}, Measurements: []report.Measurement{{
		Mark: measure.Burn, Target: "plain-4", Status: report.Refused, Refusal: &report.Refusal{Code: "cut-off", Text: text}}}}
}

// long is a sentence that needs several lines.
const long = "only one ring was seen, and one ring alone does not show to which side the target is tilted, so that the centre may be off " +
	"by up to a millimetre: hold the phone squarely over the target, or take two photos from opposite sides, and measure both"

// named gives the photo another name.
func named(res measure.Result, name string) measure.Result {
	res.Photo.File = name
	return res
}

// warned adds warnings to every mark, and one to the first alone.
func warned(res measure.Result) measure.Result {
	for i := range res.Measurements {
		res.Measurements[i].Warnings = []report.Warning{{Code: "one-ring", Text: long}}
	}
	res.Measurements[0].Warnings = append(res.Measurements[0].Warnings, report.Warning{Code: "clipped", Text: "the mark's middle is saturated"})
	return res
}

// bare takes away what may be missing.
func bare(res measure.Result) measure.Result {
	for i := range res.Measurements {
		m := &res.Measurements[i]
		m.Uncertainty, m.Verdict, m.View, m.Target = nil, nil, nil, "somebody's own"
	}
	res.Outlines = nil
	return res
}

// cases are results of all sorts and sizes.
var cases = sync.OnceValue(func() map[string]measure.Result {
	square := level(900, 700, 40, 0)
	return map[string]measure.Result{
		"plain":          one(blank(2000, 1500), -0.44, 0.86, square),
		"tilted":         both(blank(2000, 1500), tilted(900, 700, 40, 45)),
		"upside down":    both(blank(2000, 1500), level(900, 700, 40, 180)),
		"on its side":    warned(both(blank(1500, 2000), level(700, 900, 40, 97))),
		"tiny":           both(blank(900, 700), level(300, 400, 2.5, 20)),
		"huge":           one(blank(4000, 3000), -0.44, 0.86, level(2000, 1500, 150, 0)),
		"at the corner":  one(blank(2000, 1500), 1, 1, level(150, 120, 30, -40)),
		"outside":        one(blank(2000, 1500), 1, 1, level(-5000, 120, 30, 0)),
		"far off":        one(blank(2000, 1500), 38, -10, level(500, 500, 20, 0)),
		"on the centre":  one(blank(2000, 1500), 0, 0, square),
		"huge limit":     limited(one(blank(2000, 1500), 1, 1, square), 60),
		"long name":      named(warned(one(blank(2000, 1500), 1, 1, square)), "rear-left_customer-with-a-very-long-name_and-no-spaces-in-it_2026-09-02T09-14-11+02-00_second-round_after-turning-A.jpeg"),
		"foreign name":   named(one(blank(2000, 1500), 1, 1, square), "Ru\u0308ckseite \u0441\u043b\u0435\u0432\u0430 \u5de6\u5f8c\n\x1b[31m.jpg"),
		"refused":        refused(blank(3000, 2000), "the target is cut off at the left: "+long),
		"refused, small": refused(blank(60, 40), long),
		"one pixel":      refused(blank(1, 1), long),
		"a strip":        refused(blank(4000, 90), long),
		"a tall strip":   refused(blank(90, 4000), long),
		"bare":           bare(one(blank(2000, 1500), 1, 1, square)),
		"nothing":        {Photo: blank(800, 600)},
		"no number":      noNumber(both(blank(2000, 1500), square)),
	}
})

// limited sets the limit.
func limited(res measure.Result, mm float64) measure.Result {
	res.Measurements[0].Verdict.LimitMM = mm
	return res
}

// noNumber is a target that was found, without its marks.
func noNumber(res measure.Result) measure.Result {
	for i := range res.Measurements {
		m := &res.Measurements[i]
		m.Status, m.Offset, m.Uncertainty, m.Verdict = report.Refused, nil, nil, nil
		m.Refusal = &report.Refusal{Code: "no-mark", Text: "there is no mark on the target: fire again, a little longer"}
	}
	res.Outlines = [][][2]float64{nil, nil}
	return res
}
