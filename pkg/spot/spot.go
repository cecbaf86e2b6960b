// Package spot measures a mark on the flattened target: a burn by its
// darkness, or the red pointer's dot by the light it adds.
//
// The centre is the first moment, as ISO 11146-1 defines a beam's position,
// applied to the mark's darkness; the size is by second moments. Places are in
// mm, right and up, on the tape's surface.
package spot

import (
	"fmt"
	"math"

	"burngauge.dev/burngauge/pkg/ring"
)

// Mark is one measured mark.
type Mark struct {
	X, Y         float64      // centre, mm: right, up
	Major, Minor float64      // 4 sigma along the principal axes, mm
	Axis         float64      // of the major axis, from right towards up, radians, (-π/2, π/2]
	Shape        string       // round, oval, ragged, clipped or double
	Contrast     float64      // of its edge, 0..1
	EdgeU        float64      // standard uncertainty from what counts as the mark's edge, mm per axis
	NoiseU       float64      // standard uncertainty from noise and texture, mm per axis
	Outline      [][2]float64 // its half-darkness contour, mm
}

// Code names why no mark is measured.
type Code string

// The refusals that looking for a mark can end in.
const (
	NoMark   Code = "no-mark"
	TwoMarks Code = "two-marks"
	Glare    Code = "glare"
)

// Refusal says why there is no mark to measure, and what to do next.
type Refusal struct {
	Code Code
	Text string
}

func (r *Refusal) Error() string { return fmt.Sprintf("%s: %s", r.Code, r.Text) }

// Second marks: a second blob this dark and this large, against the first, is
// looked at as a mark of its own; isMark decides, by its form. The second of two
// marks fired alike had 0.93 to 1.14 of the first one's contrast, and 0.31 to 2.2
// of its area, in 15 simulated photos; the other blobs there, of tape and pen, up
// to 0.68 and 0.58. A pen as dark as a mark has the contrast too, and not the
// form.
const (
	rivalContrast = 0.7
	rivalArea     = 0.3
)

// Burn measures the burn on the target.
func Burn(f *ring.Fit) (*Mark, error) {
	ink := newPrinted(f)
	coarse, blobs := seek(f, ink)
	for i, b := range blobs {
		d := newDarkness(f, ink, coarse, b)
		if d == nil || !d.isMark(0) {
			continue
		}
		if d.open(ink) {
			return nil, &Refusal{NoMark, "what is dark here is not dark against all that lies round it: cover the whole target with fresh tape, fire one pulse, and take the photo again"}
		}
		for _, r := range blobs[i+1:] {
			if r.contrast < rivalContrast*b.contrast || r.area < rivalArea*b.area {
				continue
			}
			if e := newDarkness(f, ink, coarse, r); e != nil && e.isMark(rivalCompact) && !e.open(ink) {
				return nil, &Refusal{TwoMarks, "two separate marks are on the tape: put on fresh tape, fire one pulse, and take the photo again"}
			}
		}
		return d.measure(ink, b)
	}
	return nil, &Refusal{NoMark, "no burn is seen on the tape: fire one short pulse on fresh tape, as the machine's maker instructs, and take the photo again"}
}

// isMark tells a mark from writing: a mark is compact, and charred where it is
// widest, or a disc whose middle is ash or burnt through; writing is strokes,
// which may close a loop.
func (d *darkness) isMark(compactness float64) bool {
	r := d.core.inscribed() * d.step
	compact := math.Pi * r * r / (float64(d.core.count()) * d.step * d.step)
	charred := d.charred.inscribed() * d.step
	if compact > discCompact && charred > leastRimOfChar {
		return true
	}
	return compact > compactness && charred > leastInscribed
}

// open tells whether the mark is not dark against all that lies round it. A
// piece of a dark plate that a tape's edge and a light line cut out is no mark,
// and of a burn that reaches over the tape's edge onto such a plate the half is
// not seen. A light line may hide the plate that lies beyond it: it is looked for
// past the line too.
func (d *darkness) open(ink printed) bool {
	lines := d.onLines(ink)
	if d.openShare(d.fromCore(), lines, 0.25, 0.45) > mostOpenBeside || d.openShare(d.fromCore(), lines, 0.6, 0.9) > mostOpenBeyond {
		return true
	}
	past := d.withLines(ink, lines).distance()
	return d.openShare(past, lines, 0.25, 0.45) > mostOpenBeside
}

// onLines are the cells on printed lines.
func (d *darkness) onLines(ink printed) mask {
	lines := newMask(d.n)
	for k := range lines.in {
		x, y := d.place(k%d.n, k/d.n)
		_, _, lines.in[k] = ink.lineAt(x-ink.dx, y-ink.dy)
	}
	return lines
}

// withLines is the core with the lines across their width where it borders them.
func (d *darkness) withLines(ink printed, lines mask) mask {
	_, half := ink.ringNear(0)
	across := 2.2 * half // a line's width, and a tenth for those that are crossed aslant
	out := newMask(d.n)
	for k, r := range d.fromCore() {
		out.in[k] = d.core.in[k] || lines.in[k] && r*d.step < across
	}
	return out
}

// openShare is the part of the mark's surroundings, so many mm from it by the
// given distances in cells and not on a line, that is as dark as the mark.
func (d *darkness) openShare(away []float64, lines mask, from, to float64) float64 {
	open, n := 0, 0
	for k, r := range away {
		if mm := r * d.step; mm < from || mm > to || lines.in[k] || math.IsNaN(d.light[k]) {
			continue
		}
		n++
		if d.light[k] < d.dark {
			open++
		}
	}
	return float64(open) / float64(max(n, 1))
}

// Beside the mark, a burn of 2.5 mm that ends where its tape ends on a black
// plate has 0.21 by the circle's arc beyond the edge, one that ends 0.3 mm
// before it 0.08. Beyond a line's width the latter has 0.22. Burns of 1.8 to
// 4.5 mm over the edge have 0.28 to 0.49 past the lines.
const (
	mostOpenBeside = 0.15
	mostOpenBeyond = 0.3
)

// rivalCompact: two separate discs fired into one tape have 1 each, an oval
// half as wide as long 0.5; a felt pen's writing seldom more than 0.5.
const (
	rivalCompact = 0.58
	discCompact  = 0.75
	// leastRimOfChar is half the width in mm of the char round ash or a hole; a
	// pen's line is thinner.
	leastRimOfChar = 0.2
)

// measure takes the mark's numbers.
func (d *darkness) measure(ink printed, b blob) (*Mark, error) {
	m, whole := d.char(), d.above(sizeAbove)
	edge := d.edgeChoice(m)
	if d.shine(ink, shineMM) > mostShine || (edge > veiledEdge && d.shine(ink, veilMM) > anyShine) {
		return nil, &Refusal{Glare, "light is reflected off the tape beside the burn: turn the lamp or the phone until the shine is gone, and take the photo again"}
	}
	if d.unevenness(m) > mostHalved {
		return nil, &Refusal{NoMark, "a hard shadow's edge runs through the burn and hides a part of it: light it evenly and take the photo again"}
	}
	mark := &Mark{
		X: m.x, Y: m.y, Shape: d.shape(whole), Contrast: b.contrast,
		EdgeU: math.Hypot(math.Hypot(edge, d.unevenU(m)), d.hiddenU(m)), NoiseU: d.noise(m), Outline: d.outline(),
	}
	mark.Major, mark.Minor, mark.Axis = whole.principal()
	return mark, nil
}

// sizeAbove is the darkness from which on it counts for the size: tape's
// texture stays below.
const sizeAbove = 0.1

// moment holds the zeroth, first and second moments of a darkness field: area
// mm², centre mm, variances mm².
type moment struct {
	area, x, y, xx, yy, xy float64
}

// principal are the 4-sigma sizes along the principal axes and the major
// axis's direction (ISO 11146-1's dσx, dσy and azimuth, told by major and
// minor instead of x and y).
func (m moment) principal() (major, minor, axis float64) {
	half, diff := (m.xx+m.yy)/2, math.Hypot((m.xx-m.yy)/2, m.xy)
	return 4 * math.Sqrt(half+diff), 4 * math.Sqrt(max(0, half-diff)), 0.5 * math.Atan2(2*m.xy, m.xx-m.yy)
}
