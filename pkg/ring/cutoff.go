package ring

import (
	"fmt"
	"math"
	"slices"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/photo"
)

func cutOff(side string) *Refusal {
	where := map[string]string{"left": "at the left", "right": "at the right", "top": "at the top", "bottom": "at the bottom"}[side]
	return &Refusal{CutOff, fmt.Sprintf("the target is cut off %s: step back or move the phone until all of it is in the picture, and take it again", where)}
}

// cutOff is the share of the outer ring outside the photo and the side on
// which most of it is.
func (f *Fit) cutOff(width, height int) (side string, share float64) {
	return shareOutside(func(angle float64) conic.Point {
		s, c := math.Sincos(angle)
		return f.Pixel(f.Spec.OuterRadius()*c, f.Spec.OuterRadius()*s)
	}, width, height)
}

// cutRosette names the side of the photo at which rings of the spec's ratios
// run out of it, "" when none do. They must be larger than least, px, and two
// lines of more, which have one ratio only, as large as a target should be.
func (s *search) cutRosette(least float64) string {
	w, h := s.photo.Image.Width, s.photo.Image.Height
	short := float64(min(w, h))
	for _, r := range rosettes(append(s.leaving(), s.candidates...), leastArc) {
		fitting, scale := r.fit(s.spec.RingsMM)
		if fitting < len(r) {
			continue
		}
		outer := r[0].Ellipse
		grow := s.spec.OuterRadius() / scale / outer.A
		outer.A, outer.B = outer.A*grow, outer.B*grow
		smallest := leastSize / 2 * short
		if fitting < min(leastRosette, len(s.spec.RingsMM)) {
			smallest = largestThing / 2 * short
		}
		if side, share := shareOutside(outer.At, w, h); share > mostCut && outer.A > max(least, smallest) {
			return side
		}
	}
	return ""
}

// leaving lists the ellipses that run out of the photo, also those whose middle
// lies outside. The search leaves such aside: nothing can be measured there.
func (s *search) leaving() []candidate {
	w, h := s.photo.Image.Width, s.photo.Image.Height
	im, small := smallPicture(s.photo)
	all := atAllScales(im, small.Factor, func(picture photo.Image) []candidate {
		edges := findEdges(picture)
		edges.margin = middleOutside
		return everyEllipse(edges)
	})
	return slices.DeleteFunc(all, func(c candidate) bool {
		_, share := shareOutside(c.At, w, h)
		return share == 0
	})
}

// middleOutside is how far, in major semi-axes, the middle of an ellipse may lie
// outside the photo: beyond, less is seen than holds an ellipse (leastArc).
const middleOutside = 0.5

// shareOutside is the share of a closed curve outside the photo and the side on
// which most of it is.
func shareOutside(at func(angle float64) conic.Point, width, height int) (side string, share float64) {
	const n = 72
	count := map[string]int{}
	for i := range n {
		if out := outside(at(2*math.Pi*float64(i)/n), width, height); out != "" {
			count[out]++
		}
	}
	total := 0
	for _, name := range sides {
		total += count[name]
		if count[name] > count[side] {
			side = name
		}
	}
	return side, float64(total) / n
}

var sides = []string{"left", "right", "top", "bottom"}

// outside names the side of the photo beyond which a pixel lies, "" within.
func outside(p conic.Point, width, height int) string {
	switch {
	case p.X < 0:
		return "left"
	case p.X > float64(width-1):
		return "right"
	case p.Y < 0:
		return "top"
	case p.Y > float64(height-1):
		return "bottom"
	}
	return ""
}
