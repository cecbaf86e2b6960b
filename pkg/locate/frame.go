package locate

import (
	"cmp"
	"math"
	"slices"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/ellipse"
	"burngauge.dev/burngauge/pkg/lens"
	"burngauge.dev/burngauge/pkg/raster"
	"burngauge.dev/burngauge/pkg/ring"
	"burngauge.dev/burngauge/pkg/target"
)

// frame is a first idea of where the target plane is, with how well the rings'
// lines agree with it.
type frame struct {
	camera lens.Camera
	pose   lens.Pose // mm, roll not yet known
	sign   float64
	score  float64 // mean agreement of the rings, 0..1
}

// The polar picture about an ellipse: logRadii rising by logStep from
// innermost, in units of the ellipse's own circle.
const (
	polarAngles = 60
	logStep     = 0.0125
	innermost   = 0.16
	outermost   = 4.2
)

var logRadii = int(math.Log(outermost/innermost) / logStep)

// polar is a small picture seen in rings about a candidate.
type polar struct {
	sum   [][]float64 // running sums along the radius, per angle
	count [][]int     // running number of valid samples
	px    float64     // px of the small picture per unit radius
}

// newPolar samples the picture on circles of the plane that the pose gives.
func newPolar(small *raster.Raster, camera lens.Camera, unit lens.Pose, pxPerUnit float64) *polar {
	p := &polar{px: pxPerUnit}
	radii := make([]float64, logRadii)
	for i := range radii {
		radii[i] = innermost * math.Exp(float64(i)*logStep)
	}
	for a := range polarAngles {
		s, c := math.Sincos(2 * math.Pi * float64(a) / polarAngles)
		sum, count := make([]float64, logRadii+1), make([]int, logRadii+1)
		for i := range logRadii {
			r := radii[i]
			v := small.Sample(small.Light, camera.Project(unit, r*c, r*s))
			sum[i+1], count[i+1] = sum[i], count[i]
			if !math.IsNaN(v) {
				sum[i+1] += v
				count[i+1]++
			}
		}
		p.sum, p.count = append(p.sum, sum), append(p.count, count)
	}
	return p
}

// mean over steps [from, to) at one angle; NaN unless all of it is in the picture.
func (p *polar) mean(angle, from, to int) float64 {
	if from < 0 || to > logRadii || to <= from || p.count[angle][to]-p.count[angle][from] != to-from {
		return math.NaN()
	}
	return (p.sum[angle][to] - p.sum[angle][from]) / float64(to-from)
}

// lineAgreement tells for each radius step how consistently, over all angles,
// a line of relative half width h lies there: -1 (dark all round) to +1.
func (p *polar) lineAgreement(h float64) []float64 {
	return p.agreement(func(angle, i, half int) float64 {
		line := p.mean(angle, i-half, i+half+1)
		inner := p.mean(angle, i-int(3.2*float64(half))-1, i-int(1.6*float64(half)))
		outer := p.mean(angle, i+int(1.6*float64(half))+1, i+int(3.2*float64(half))+2)
		a, b := line-inner, line-outer
		if a*b <= 0 || math.IsNaN(a*b) { // a step, not a line
			return 0 * a * b
		}
		return math.Copysign(min(math.Abs(a), math.Abs(b)), a)
	}, h)
}

func (p *polar) agreement(contrast func(angle, i, half int) float64, h float64) []float64 {
	values := make([][]float64, logRadii)
	total, n := 0.0, 0
	for i := range values {
		r := innermost * math.Exp(float64(i)*logStep)
		half := int(math.Round(max(h/logStep, 0.6/(p.px*r*logStep)))) // a line is never seen narrower than 1.2 px
		values[i] = make([]float64, polarAngles)
		for a := range polarAngles {
			v := contrast(a, i, half)
			values[i][a] = v
			if !math.IsNaN(v) {
				total += math.Abs(v)
				n++
			}
		}
	}
	typical := 2*total/float64(max(n, 1)) + 0.3 // code values
	out := make([]float64, logRadii)
	for i, row := range values {
		for _, v := range row {
			if !math.IsNaN(v) {
				out[i] += max(-1, min(1, v/typical)) / polarAngles
			}
		}
	}
	return out
}

// framesFor scores all scales at which the spec's rings may lie about one
// candidate, seen in one pose.
func framesFor(small *raster.Raster, spec target.Spec, camera lens.Camera, unit lens.Pose, pxPerUnit float64) []frame {
	p := newPolar(small, camera, unit, pxPerUnit)
	lines := make([][]float64, len(spec.RingsMM))
	for k, d := range spec.RingsMM {
		lines[k] = p.lineAgreement(spec.LineMM / d)
	}
	score := func(mmPerUnit, sign float64) float64 {
		total := 0.0
		for k, d := range spec.RingsMM {
			if v, ok := best(lines[k], d/2/mmPerUnit, sign); ok {
				total += v
			}
		}
		total /= float64(len(spec.RingsMM))
		return total
	}
	return scaleMaxima(spec, camera, unit, score)
}

// best reads the agreement near a radius, in the wanted sense.
func best(agreement []float64, radius, sign float64) (float64, bool) {
	i := int(math.Round(math.Log(radius/innermost) / logStep))
	if i < 1 || i >= len(agreement)-1 {
		return 0, false
	}
	return max(0, sign*agreement[i-1], sign*agreement[i], sign*agreement[i+1]), true
}

// scaleMaxima walks through the scales and keeps the local maxima.
func scaleMaxima(spec target.Spec, camera lens.Camera, unit lens.Pose, score func(mmPerUnit, sign float64) float64) []frame {
	from, to := 0.5*spec.InnerRadius(), 2.6*spec.OuterRadius()
	var out []frame
	for _, sign := range []float64{-1, 1} {
		var previous, current float64
		for mm := from; mm < to; mm *= math.Exp(logStep) {
			next := score(mm, sign)
			if current >= previous && current > next && current > leastAgreement {
				out = append(out, frame{camera, unit.Scaled(mm / math.Exp(logStep)), sign, current})
			}
			previous, current = current, next
		}
	}
	return out
}

// leastAgreement: among frames about circles that are no target, seen in
// simulated clutter, the score stays below this in all but a few.
const leastAgreement = 0.12

// frames lists the best first ideas of where the target is. Candidates are
// taken in batches, the best supported first, until an idea is plainly right.
func frames(small *raster.Raster, spec target.Spec, priors lens.Priors, candidates []ellipse.Candidate) []frame {
	var best []frame
	for from := 0; from < len(candidates); from += batch {
		best = append(best, someFrames(small, spec, priors, candidates[from:min(from+batch, len(candidates))])...)
		slices.SortStableFunc(best, byScore)
		if len(best) > 0 && best[0].score >= plainly {
			break
		}
	}
	return best[:min(len(best), mostInClutter)]
}

const batch = 8

func byScore(a, b frame) int { return cmp.Compare(b.score, a.score) }

// someFrames scores a batch of candidates at every scale and looks for the
// index bar in the best.
func someFrames(small *raster.Raster, spec target.Spec, priors lens.Priors, candidates []ellipse.Candidate) []frame {
	var all, rims []frame
	lists := make([][]frame, len(candidates))
	raster.InBands(len(candidates), func(from, to int) {
		for i := from; i < to; i++ {
			for _, unit := range unitPoses(candidates[i].Ellipse, priors.Camera) {
				lists[i] = append(lists[i], framesFor(small, spec, priors.Camera, unit, candidates[i].A/float64(small.Factor))...)
			}
		}
	})
	for i, c := range candidates {
		all = append(all, lists[i]...)
		if spec.RimMM == 0 {
			continue
		}
		for _, unit := range unitPoses(c.Ellipse, priors.Camera) { // tape may hide every line: the ellipse may be the rim
			rim := unit.Scaled(spec.RimMM / 2)
			rims = append(rims, frame{priors.Camera, rim, -1, 0.5 * c.Arc}, frame{priors.Camera, rim, 1, 0.5 * c.Arc})
		}
	}
	slices.SortStableFunc(all, byScore)
	all = append(distinct(all, spec), distinct(rims, spec)...)
	for i := range all { // the bar is on the target alone, rings may be on many things
		coarse := ring.Start(spec, priors, all[i].pose, all[i].sign).On(small)
		if coarse.FindIndex(ring.CoarseAngles).Clear() {
			all[i].score += 0.5
			if all[i].score >= plainly {
				break // the others are worse already
			}
		}
	}
	return all
}

// unitPoses are the ways in which a circle of radius 1 can give the ellipse:
// the two tilts that a known focal length leaves.
func unitPoses(el conic.Ellipse, camera lens.Camera) []lens.Pose {
	poses, err := conic.CirclePoses(el, camera.Focal, conic.Point{X: camera.X, Y: camera.Y}, 1)
	if err != nil {
		return nil
	}
	out := []lens.Pose{lens.NewPose(poses[0].Normal, poses[0].Centre)}
	if el.B < 0.985*el.A { // 10 degrees: squarer than that the two are one for this purpose
		out = append(out, lens.NewPose(poses[1].Normal, poses[1].Centre))
	}
	return out
}

// distinct drops frames that say the same as a better one.
func distinct(all []frame, spec target.Spec) []frame {
	var out []frame
	for _, f := range all {
		if len(out) == mostDistinct {
			break
		}
		if !slices.ContainsFunc(out, func(g frame) bool { return f.sign == g.sign && same(f, g, spec.OuterRadius()) }) {
			out = append(out, f)
		}
	}
	return out
}

const (
	mostDistinct = 12 // of a batch are looked at on the small picture
	mostFrames   = 6  // of them, at full size
	// mostInClutter at full size, while none of the first has the target.
	mostInClutter = 30
)

// same compares where two frames put the outer ring, to a tenth of its radius.
func same(f, g frame, radius float64) bool {
	size := f.camera.Focal * radius / f.pose.T[2]
	for _, at := range [][2]float64{{0, 0}, {radius, 0}, {-radius, 0}, {0, radius}, {0, -radius}} {
		a, b := f.camera.Project(f.pose, at[0], at[1]), g.camera.Project(g.pose, at[0], at[1])
		if !(math.Hypot(a.X-b.X, a.Y-b.Y) < 0.05*size) {
			return false
		}
	}
	return true
}
