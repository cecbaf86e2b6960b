package locate

import (
	"cmp"
	"math"
	"slices"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/decision"
	"burngauge.dev/burngauge/pkg/ellipse"
	"burngauge.dev/burngauge/pkg/lens"
	"burngauge.dev/burngauge/pkg/raster"
	"burngauge.dev/burngauge/pkg/ring"
)

// frame is a first idea of where the target plane is, with how well the rings'
// lines agree with it.
type frame struct {
	camera lens.Camera
	pose   lens.Pose // mm, roll not yet known
	sign   float64   // -1: lines darker than what they are printed on, +1: lighter
	score  float64   // mean agreement of the rings, 0..1, and BarWorth for an index bar
}

// frameSearch looks for frames in what is seen of one photo.
type frameSearch struct{ *Sighting }

func byScore(a, b frame) int { return cmp.Compare(b.score, a.score) }

// frames lists the best first ideas of where the target is. Ellipses are taken in
// batches, the best supported first, until an idea is plainly right.
func (s frameSearch) frames() []frame {
	set := s.set
	agreement := s.log.Tally("locate.LeastAgreement", decision.Above, set.LeastAgreement, "a frame")
	defer agreement.Record()
	var best []frame
	for from := 0; from < len(s.Ellipses); from += set.Batch {
		best = append(best, s.someFrames(s.Ellipses[from:min(from+set.Batch, len(s.Ellipses))], agreement)...)
		slices.SortStableFunc(best, byScore)
		if len(best) > 0 && best[0].score >= set.Plainly {
			break
		}
	}
	return best[:min(len(best), set.MostInClutter)]
}

// someFrames scores a batch of ellipses at every scale and looks for the index
// bar in the best.
func (s frameSearch) someFrames(batch []ellipse.Candidate, agreement *decision.Tally) []frame {
	var all, rims []frame
	lists := make([][]frame, len(batch))
	raster.InBands(len(batch), func(from, to int) {
		for i := from; i < to; i++ {
			lists[i] = s.framesAbout(batch[i], agreement)
		}
	})
	for i, c := range batch {
		all = append(all, lists[i]...)
		rims = append(rims, s.rimFrames(c)...)
	}
	slices.SortStableFunc(all, byScore)
	all = append(s.distinct(all), s.distinct(rims)...)
	for i := range all { // the bar is on the target alone, rings may be on many things
		coarse := ring.Start(s.Spec, s.Priors, all[i].pose, all[i].sign).On(s.Small)
		if coarse.FindIndex(ring.CoarseAngles).Clear() {
			all[i].score += s.set.BarWorth
			if all[i].score >= s.set.Plainly {
				break // the others are worse already
			}
		}
	}
	return all
}

// framesAbout scores all scales at which the spec's rings may lie about one
// ellipse, in each of its poses.
func (s frameSearch) framesAbout(c ellipse.Candidate, agreement *decision.Tally) (out []frame) {
	for _, unit := range s.unitPoses(c.Ellipse) {
		p := newPolar(s.Small, s.Priors.Camera, unit, c.A/float64(s.Small.Factor), s.set)
		lines := make([][]float64, len(s.Spec.RingsMM))
		for k, d := range s.Spec.RingsMM {
			lines[k] = p.lineAgreement(s.Spec.LineMM / d)
		}
		out = append(out, s.scaleMaxima(unit, lines, agreement)...)
	}
	return out
}

// scaleMaxima walks through the scales, mm for a unit of the ellipse's circle, and
// keeps the local maxima of the rings' mean agreement.
func (s frameSearch) scaleMaxima(unit lens.Pose, lines [][]float64, agreement *decision.Tally) (out []frame) {
	set := s.set
	step := math.Exp(set.LogStep)
	for _, sign := range []float64{-1, 1} {
		var previous, current float64
		for mm := set.ScaleFrom * s.Spec.InnerRadius(); mm < set.ScaleTo*s.Spec.OuterRadius(); mm *= step {
			next := s.meanAgreement(lines, mm, sign)
			if current >= previous && current > next && agreement.Above(current, set.LeastAgreement) {
				out = append(out, frame{s.Priors.Camera, unit.Scaled(mm / step), sign, current})
			}
			previous, current = current, next
		}
	}
	return out
}

// meanAgreement is that of all rings at one scale; a ring outside the polar
// picture counts 0.
func (s frameSearch) meanAgreement(lines [][]float64, mmPerUnit, sign float64) float64 {
	total := 0.0
	for k, d := range s.Spec.RingsMM {
		if v, ok := s.set.near(lines[k], d/2/mmPerUnit, sign); ok {
			total += v
		}
	}
	return total / float64(len(s.Spec.RingsMM))
}

// rimFrames are those for which the ellipse is the round edge, where the spec
// has one.
func (s frameSearch) rimFrames(c ellipse.Candidate) (out []frame) {
	if s.Spec.RimMM == 0 {
		return nil
	}
	for _, unit := range s.unitPoses(c.Ellipse) {
		rim := unit.Scaled(s.Spec.RimMM / 2)
		for _, sign := range []float64{-1, 1} {
			out = append(out, frame{s.Priors.Camera, rim, sign, s.set.RimWorth * c.Arc})
		}
	}
	return out
}

// unitPoses are the ways in which a circle of radius 1 can give the ellipse: the
// two tilts that a known focal length leaves (see conic.CirclePoses).
func (s frameSearch) unitPoses(el conic.Ellipse) []lens.Pose {
	camera := s.Priors.Camera
	poses, err := conic.CirclePoses(el, camera.Focal, conic.Point{X: camera.X, Y: camera.Y}, 1)
	if err != nil {
		return nil
	}
	out := []lens.Pose{lens.NewPose(poses[0].Normal, poses[0].Centre)}
	if el.B < s.set.SquareAxes*el.A {
		out = append(out, lens.NewPose(poses[1].Normal, poses[1].Centre))
	}
	return out
}

// distinct drops frames that say the same as a better one.
func (s frameSearch) distinct(all []frame) []frame {
	var out []frame
	for _, f := range all {
		if len(out) == s.set.MostDistinct {
			break
		}
		if !slices.ContainsFunc(out, func(g frame) bool { return f.sign == g.sign && s.same(f, g) }) {
			out = append(out, f)
		}
	}
	return out
}

// same compares where two frames put the outer ring.
func (s frameSearch) same(f, g frame) bool {
	radius := s.Spec.OuterRadius()
	size := f.camera.Focal * radius / f.pose.T[2]
	for _, at := range [][2]float64{{0, 0}, {radius, 0}, {-radius, 0}, {0, radius}, {0, -radius}} {
		a, b := f.camera.Project(f.pose, at[0], at[1]), g.camera.Project(g.pose, at[0], at[1])
		if !(math.Hypot(a.X-b.X, a.Y-b.Y) < s.set.SameFrame*size) {
			return false
		}
	}
	return true
}
