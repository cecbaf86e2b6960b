package studio

import (
	"math"

	"burngauge.dev/burngauge/pkg/studio/raster"
)

// A pixel's value is the mean of the light over its square. Where the light is nearly even
// the mean of the four corners is right but for the light's curvature; where it is not, n x n places
// in the middles of equal cells are looked at, which misplaces an edge by less than half a
// cell and, over a whole outline, by far less.
//
// Antialiasing: a pixel whose four corners differ by more than this share of
// their mean is sampled finely. Inside the target the share is small, so that edges keep
// their place to far below a hundredth of a pixel; outside only looks matter.
const (
	edgeInside  = 0.015
	edgeOutside = 0.10
	fineInside  = 4 // samples along each side of a pixel
	fineOutside = 3
	fineQuick   = 3 // inside, too: over a whole outline a grid of thirds misplaces an edge by far less than 0.01 px
	// Below this scale a ring's line may slip between two corners: sample everything finely.
	smallScale = 9 // px/mm
)

// Render looks at the scene through the camera: no blur, no noise, light averaged
// over each pixel's square. The result depends on nothing but its arguments.
func Render(scene *Scene, cam *Camera) *raster.Picture {
	return newRenderer(scene, cam).render()
}

// RenderQuickly is Render in half the time: it looks at every other corner of the
// pixels only, and takes the ones between as the mean of their neighbours where
// these hardly differ. Edges are sampled as finely as by Render.
func RenderQuickly(scene *Scene, cam *Camera) *raster.Picture {
	return newQuickRenderer(scene, cam).render()
}

// QuickRows is RenderQuickly row by row, for each processor that calls it: nothing keeps
// the whole picture.
func QuickRows(scene *Scene, cam *Camera) func() raster.Rows {
	return newQuickRenderer(scene, cam).rows
}

// sparseScale: above it, px/mm, no line of a target is so fine that it slips
// between two corners that lie two pixels apart. 0.2 mm are three pixels.
const sparseScale = 15

type renderer struct {
	scene         *Scene
	view          *view
	width, height int
	box           [4]int // target's place in the picture: x0, y0, x1, y1
	fineInside    int
	always        bool // sample everything inside finely
	sparse        bool // look at every other corner only
}

func newRenderer(scene *Scene, cam *Camera) *renderer {
	return &renderer{scene: scene.prepared(), view: newView(cam), width: cam.Width, height: cam.Height,
		box: targetBox(scene, cam), fineInside: fineInside, always: cam.PxPerMM() < smallScale}
}

func newQuickRenderer(scene *Scene, cam *Camera) *renderer {
	r := newRenderer(scene, cam)
	if cam.PxPerMM() > sparseScale {
		r.sparse, r.fineInside = true, fineQuick
	}
	return r
}

func (r *renderer) render() *raster.Picture {
	pic := raster.NewPicture(r.width, r.height)
	raster.InRuns(r.height, func(next func() (from, to int, ok bool)) {
		row := r.rows()
		for from, to, ok := next(); ok; from, to, ok = next() {
			for y := from; y < to; y++ {
				pic.Put(y, row(y))
			}
		}
	})
	return pic
}

// rows renders row after row, on one processor.
func (r *renderer) rows() raster.Rows {
	if r.sparse {
		return newCells(r).row
	}
	corners, out := raster.NewWindow(r.height+1, 1, func() []RGB { return make([]RGB, r.width+1) }, r.lookAlong), raster.NewLine(r.width)
	return func(y int) raster.Line {
		above, below := corners.Row(y), corners.Row(y+1)
		for x := range r.width {
			r.pixel(out, x, y, [4]*RGB{&above[x], &above[x+1], &below[x], &below[x+1]})
		}
		return out
	}
}

// boxPlaces is how many places round the target targetBox looks at, and boxRoomMM how far
// beyond the index bar they lie.
const (
	boxPlaces = 64
	boxRoomMM = 1
)

// targetBox bounds the rings and the index bar in the picture.
func targetBox(scene *Scene, cam *Camera) [4]int {
	far := scene.Target.OuterRadius() + scene.Target.Index.ToMM + boxRoomMM
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for i := range boxPlaces {
		s, c := math.Sincos(2 * math.Pi * float64(i) / boxPlaces)
		x, y := cam.Project(far*c, far*s, 0)
		if math.IsNaN(x) {
			return [4]int{0, 0, cam.Width, cam.Height}
		}
		x0, x1, y0, y1 = min(x0, x), max(x1, x), min(y0, y), max(y1, y)
	}
	clip := func(v float64, most int) int { return int(min(max(v, 0), float64(most))) }
	return [4]int{clip(x0, cam.Width), clip(y0, cam.Height), clip(x1+1, cam.Width), clip(y1+1, cam.Height)}
}

// lookAlong looks at the corners above a row of pixels.
func (r *renderer) lookAlong(out []RGB, y int) {
	for x := range out {
		out[x] = r.look(x, y)
	}
}

// look is the light at the corner above and left of the pixel (x, y).
func (r *renderer) look(x, y int) RGB {
	return r.scene.radiance(r.view.at(float64(x)-0.5, float64(y)-0.5))
}

// pixel renders one from its corners: the two above it, then the two below.
func (r *renderer) pixel(out raster.Line, x, y int, corners [4]*RGB) {
	share, n, fine := edgeOutside, fineOutside, false
	if r.inBox(x, y) {
		share, n, fine = edgeInside, r.fineInside, r.always
	}
	if fine || differ(corners, share) {
		c := r.fine(x, y, n)
		out.Set(x, c.R, c.G, c.B)
		return
	}
	c := corners[0].Plus(*corners[1]).Plus(*corners[2]).Plus(*corners[3]).Times(0.25)
	out.Set(x, c.R, c.G, c.B)
}

// differ reports whether a pixel's four corners differ by more than a share of their mean, in
// any channel: high - low > share · (high + low)/2 + darkRoom.
func differ(corners [4]*RGB, share float64) bool {
	a, b, c, d := corners[0], corners[1], corners[2], corners[3]
	return apart(a.R, b.R, c.R, d.R, share) || apart(a.G, b.G, c.G, d.G, share) || apart(a.B, b.B, c.B, d.B, share)
}

// darkRoom is a difference, in white papers, that is never looked at: as much as a sensor's
// noise in the dark.
const darkRoom = 0.002

// apart is differ for one channel. The mean of the four corners is near enough to that of
// the lowest and the highest.
func apart(a, b, c, d, share float64) bool {
	low, high := extremes(a, b, c, d)
	return high-low > share*(high+low)/2+darkRoom
}

// extremes are the least and the largest of four.
func extremes(a, b, c, d float64) (low, high float64) {
	return min(min(a, b), min(c, d)), max(max(a, b), max(c, d))
}

// inBox reports whether a pixel lies in the target's place in the picture.
func (r *renderer) inBox(x, y int) bool {
	return x >= r.box[0] && x < r.box[2] && y >= r.box[1] && y < r.box[3]
}

// fine averages n x n samples over the pixel's square: at ((i + 1/2)/n - 1/2, (j + 1/2)/n - 1/2)
// from its centre, i, j = 0 .. n-1, the middles of n² equal squares (midpoint rule).
func (r *renderer) fine(x, y, n int) (sum RGB) {
	step := 1 / float64(n)
	for j := range n {
		for i := range n {
			dx, dy := (float64(i)+0.5)*step-0.5, (float64(j)+0.5)*step-0.5
			sum = sum.Plus(r.scene.radiance(r.view.at(float64(x)+dx, float64(y)+dy)))
		}
	}
	return sum.Times(step * step)
}
