package ellipse

import (
	"sync"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/decision"
	"burngauge.dev/burngauge/pkg/photo"
	"burngauge.dev/burngauge/pkg/raster"
)

// Edges are the edges of a picture at several scales, from which ellipses are
// made.
type Edges struct {
	set    *Settings
	scales []*edgeMap
	factor int // of the picture against the photo
}

// Options of Detect.
type Options struct {
	Settings Settings
	Log      *decision.Log // nil: nothing is recorded
}

// Detect finds the edges of a picture that was reduced by a whole factor, and of
// its halvings, and the ellipses that they support: the best, each once, in px of
// the whole photo, with their middles in it.
func Detect(im photo.Image, factor int, opt Options) (*Edges, []Candidate) {
	set := &opt.Settings
	pictures := set.pyramid(im)
	e := &Edges{set: set, scales: make([]*edgeMap, len(pictures)), factor: factor}
	count := newCounts(opt.Log, set)
	found := e.atAllScales(func(i int) []Candidate {
		e.scales[i] = findEdges(pictures[i], set)
		return set.bestSupported(everyEllipse(e.scales[i], middleInside, count))
	})
	count.record()
	opt.Log.Above("ellipse.MostCandidates", float64(len(found)), float64(set.MostCandidates), "the least supported ellipses are left out")
	return e, set.bestSupported(found)
}

// middleInside: the middle of an ellipse that may be the target's lies in the
// picture.
const middleInside = 0

// RunningOut lists the ellipses of which a part lies outside the photo, width x
// height px, also those whose middle does. Detect leaves such aside: nothing can
// be measured there.
func (e *Edges) RunningOut(width, height int) []Candidate {
	var out []Candidate
	for _, c := range e.atAllScales(func(i int) []Candidate { return everyEllipse(e.scales[i], e.set.MiddleOutside, counts{}) }) {
		if _, share := raster.Outside(c.At, width, height); share > 0 {
			out = append(out, c)
		}
	}
	return out
}

// atAllScales looks for ellipses at all scales side by side and gives them in
// the photo's pixels, each once.
func (e *Edges) atAllScales(find func(scale int) []Candidate) []Candidate {
	found := make([][]Candidate, len(e.scales))
	var wait sync.WaitGroup
	for i := range e.scales {
		wait.Go(func() { found[i] = find(i) })
	}
	wait.Wait()
	var out []Candidate
	for i, list := range found {
		for _, c := range list {
			c.Ellipse = full(c.Ellipse, e.factor<<i)
			if !e.set.known(out, c) {
				out = append(out, c)
			}
		}
	}
	return out
}

// pyramid is the picture and up to two halvings of it: soft and faint lines
// show at a coarser scale, where noise is averaged out.
func (set *Settings) pyramid(im photo.Image) []photo.Image {
	out := []photo.Image{im}
	for len(out) < set.MostScales && min(im.Width, im.Height) >= 2*set.SmallestPicture {
		im = raster.Reduced(im, 2)
		out = append(out, im)
	}
	return out
}

// full maps an ellipse from the small picture to the photo's pixels.
func full(el conic.Ellipse, factor int) conic.Ellipse {
	s := float64(factor)
	el.X, el.Y = (el.X+0.5)*s-0.5, (el.Y+0.5)*s-0.5
	el.A *= s
	el.B *= s
	return el
}
