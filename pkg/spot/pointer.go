package spot

import (
	"math"

	"burngauge.dev/burngauge/pkg/ring"
	"burngauge.dev/burngauge/pkg/stat"
)

// What is accepted as a dot.
const (
	leastExplained = 0.7  // of the light over the ground, in the colour that shows it best
	leastRed       = 1.35 // red over green or blue where red is not burnt out; white shine and creases have 1, simulated dots 1.5 to 13
	leastShare     = 0.15 // of a dot's height: farther out the ground's errors are as strong
	mostLong       = 0.7  // e of the ellipse, axes of 1 to 2: what is longer is a tape's edge
	leastGlow      = 0.04 // red light it adds, of the camera's scale
	narrowestMM    = 0.4  // half width of a dot, mm; simulated ones of 0.3 mm sigma have 0.5, red being burnt out
	widestMM       = 3.0  // likewise; simulated ones reach 2.5 with their glow
	sharpness      = 0.05 // standard uncertainty of a dot's middle over its half width, at most; measured dots have 0.002 to 0.03
	worstU         = 0.15 // mm per axis: a middle that is known worse is not one
	mostUneven     = 0.12 // of the tape about the dot, see unevenness: with more, simulated middles are up to 0.6 mm off
	halvesU        = 0.15 // of the light on either side of a seam through the middle; three simulated dots on one have 0.07 to 0.27
	rivalGlow      = 0.3  // another dot's light against the first's, from which there are two
	starts         = 3    // round the middle, from which it is looked for again
	startWidths    = 0.25 // so many half widths off
	narrower       = 0.7  // of the reach, for the second look that tells the uncertainty
	apartMM        = 1.2  // between the middles of two dots, at least
)

// speckleU is what is left, in mm per axis, between measured and true middles
// of simulated dots beyond what their own parts tell: laser light is grainy, and
// lines and tape's texture are not known exactly.
const speckleU = 0.016

// Pointer measures the red pointer's dot: light added to what the target
// reflects. Its centre is where that light is symmetrical about, whatever the
// law by which it falls outwards: the core may be burnt out white, a burn or a
// line may hide a part. Of a symmetrical dot the first moment is the same.
func Pointer(f *ring.Fit) (*Mark, error) {
	var best *halo
	ink := newPrinted(f)
	for _, p := range suspects(f, ink) {
		if best != nil && math.Hypot(p[0]-best.x, p[1]-best.y) < max(apartMM, best.width) {
			continue
		}
		h := look(f, ink, p)
		if !h.isDot() {
			continue
		}
		if h.choiceU = h.choice(f, ink); h.choiceU > worstU {
			continue
		}
		if best == nil {
			best = h
			continue
		}
		if h.apart(best) && min(h.light(), best.light()) > rivalGlow*max(h.light(), best.light()) {
			return nil, &Refusal{TwoMarks, "two red dots are on the target: shade the reflection or the second pointer, and take the photo again"}
		}
		if h.light() > best.light() {
			best = h
		}
	}
	if best == nil {
		return nil, &Refusal{NoMark, "no red dot can be told on the target: switch the pointer on, dim the room light, and take the photo again"}
	}
	return best.mark(), nil
}

// halo is a dot with what was looked at to find it.
type halo struct {
	dot
	*glow
	settled bool
	choiceU float64 // mm per axis, see choice
	width   float64 // mm, where the light has fallen to half, in the widest colour
}

// look fits a dot near a place, twice: the second time the ground is taken from
// beyond the dot's own light.
func look(f *ring.Fit, ink printed, at [2]float64) *halo {
	h := &halo{dot: dot{x: at[0], y: at[1]}}
	for c := range h.loss {
		h.loss[c] = usualLoss
	}
	reach := firstReachMM
	for range 2 {
		h.glow = newGlow(f, ink, h.dot.x, h.dot.y, reach)
		h.settled = h.settle(h.glow) && math.Hypot(h.x-at[0], h.y-at[1]) < firstReachMM
		if !h.settled {
			return h
		}
		h.width = 0
		for c := range h.fall {
			h.width = max(h.width, h.fall[c].halfWidth())
		}
		reach = min(max(reachWidths*h.width, leastReachMM), mostReachMM)
	}
	return h
}

// light is the red light in the dot's middle.
func (h *halo) light() float64 { return h.fall[2].height() }

// apart tells whether two dots are not one found twice.
func (h *halo) apart(o *halo) bool {
	return math.Hypot(h.x-o.x, h.y-o.y) > max(apartMM, h.width, o.width)
}

// isDot tells a dot from shine, paper and tape's edges: its light falls off all
// round, is red, and has a middle.
func (h *halo) isDot() bool {
	if !h.settled || math.Hypot(h.e1, h.e2) > mostLong || h.width < narrowestMM || h.width > widestMM || h.light() < leastGlow || h.redness() < leastRed {
		return false
	}
	return h.explained() > leastExplained && h.u() < min(worstU, sharpness*h.width)
}

// u is the standard uncertainty of the middle from how its parts agree, mm per
// axis.
func (h *halo) u() float64 {
	cov := h.covariance(h.glow)
	return math.Sqrt((cov[0][0] + cov[1][1]) / 2)
}

// redness is the red light the dot adds over the green or blue, where red is
// not burnt out; the least of taking it as light and against the tape's own
// light, of which shine and creases have as much in all colours. 0 when red is
// burnt out everywhere.
func (h *halo) redness() float64 {
	var sum [3]float64
	for i, r := range h.fall[2].radius {
		if h.fall[2].light[i]+h.tape[2] > saturated || h.fall[2].over(r) < leastShare*h.light() {
			continue
		}
		for c := range sum {
			sum[c] += r * max(0, h.fall[c].over(r))
		}
	}
	most := math.Inf(1)
	for _, c := range []int{0, 1} {
		other := max(sum[c], 0.02*sum[2], 1e-9)
		most = min(most, sum[2]/other, sum[2]/other*h.tape[c]/max(h.tape[2], leastLight))
	}
	return most
}

// explained is the share of the light over its surroundings that a dot
// describes, within twice its half width, in the colour where that is most.
func (h *halo) explained() float64 {
	best := 0.0
	for c := range h.fall {
		var left, all float64
		f := &h.fall[c]
		for _, k := range h.cells {
			r, _ := h.distance(h.place(k%h.n, k/h.n))
			if r > 2*f.halfWidth() || !h.plain(c, k) {
				continue
			}
			light, _, scatter := f.at(r)
			off := h.added(c, k) - light
			w := stat.Tukey(off / scatter) // writing is no part of the question
			left += w * square(off)
			all += w * square(off+f.over(r))
		}
		if all > 0 {
			best = max(best, 1-left/all)
		}
	}
	return best
}

func square(v float64) float64 { return v * v }

// choice is the standard uncertainty, mm per axis, from how one looks: what a
// narrower look and other starts make of the middle, and what the ground may
// hide.
func (h *halo) choice(f *ring.Fit, ink printed) float64 {
	o := &halo{dot: h.dot, glow: newGlow(f, ink, h.x, h.y, narrower*h.reach)}
	if !o.settle(o.glow) {
		return math.Inf(1)
	}
	uneven := h.unevenness()
	if uneven > mostUneven {
		return math.Inf(1)
	}
	look := math.Hypot(o.x-h.x, o.y-h.y) / math.Sqrt2
	return math.Hypot(math.Hypot(look, h.astray()), math.Hypot(uneven, h.halves())*h.width/4)
}

// astray is the standard uncertainty, mm per axis, from where the search
// starts: where lines and burnt out light hide most of a dot's sides, several
// places do about equally well. One start that strays, over a tape's edge say,
// does not count.
func (h *halo) astray() float64 {
	var off []float64
	for i := range starts {
		o := h.dot
		up, right := math.Sincos(2 * math.Pi * float64(i) / starts)
		o.x, o.y = o.x+startWidths*h.width*right, o.y+startWidths*h.width*up
		if !o.settle(h.glow) {
			return math.Inf(1)
		}
		off = append(off, math.Hypot(o.x-h.x, o.y-h.y))
	}
	return stat.Median(off) / math.Sqrt2
}

// halves is how far the light of the dot's two halves may differ where a seam
// runs through it, as a share of the dot's: another ground spreads more of it or
// less, and the camera's tone curve bends the two sides differently. It counts
// the less the farther the seam lies from the middle.
func (h *halo) halves() float64 {
	return halvesU * math.Exp(-square(h.seam.side(h.x, h.y)/h.width))
}

// unevenness is by how much the tape's light changes under and about the dot,
// as a share of the dot's, apart from a seam: where that runs is known. What
// changes across the middle moves what is fitted to it by about that share of
// half the dot's width at most.
func (h *halo) unevenness() float64 {
	var steps, heights float64
	for c := range h.fall {
		var bare [2][]float64 // on either side of a seam
		for _, k := range h.cells {
			if r, _ := h.distance(h.place(k%h.n, k/h.n)); r < 1.5*h.width {
				bare[h.part(k)] = append(bare[h.part(k)], h.bare[c][k])
			}
		}
		step := 0.0
		for _, b := range bare {
			if len(b) > 0 {
				step = max(step, (stat.Quantile(b, 0.9)-stat.Quantile(b, 0.1))/2)
			}
		}
		steps += step * h.fall[c].height()
		heights += square(h.fall[c].height())
	}
	return steps / max(heights, 1e-9)
}

// mark is the dot as a mark.
func (h *halo) mark() *Mark {
	m := &Mark{X: h.x, Y: h.y, Contrast: min(1, h.light()), NoiseU: math.Hypot(h.u(), speckleU), EdgeU: h.choiceU, Shape: "round"}
	m.Major, m.Minor, m.Axis = h.principal()
	if m.Minor < circular*m.Major {
		m.Shape = "oval"
	}
	m.Outline = h.outline(m)
	return m
}
