package rehearsal

import (
	"math"
	"runtime"
	"sync"
	"sync/atomic"
)

// Picture is an upright picture in linear light: red, green, blue, row after row
// from the top. Pixel (0, 0) is the centre of the top left pixel.
type Picture struct {
	Width, Height int
	Pix           []float32 // len = 3 * Width * Height
}

// spare holds pixels of pictures that are done with, for scratch. A picture of
// 12 megapixels takes 144 MB: making each anew would cost as much as blurring it.
var spare sync.Pool // of *Picture

// scratchPicture is a picture whose pixels hold anything.
func scratchPicture(width, height int) *Picture {
	n := 3 * width * height
	if old, ok := spare.Get().(*Picture); ok && cap(old.Pix) >= n {
		return &Picture{width, height, old.Pix[:n]}
	}
	return NewPicture(width, height)
}

// release gives the pixels back. The picture is not used afterwards.
func (p *Picture) release() { spare.Put(p) }

// NewPicture is a black picture.
func NewPicture(width, height int) *Picture {
	return &Picture{width, height, make([]float32, 3*width*height)}
}

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
func Render(scene *Scene, cam *Camera) *Picture {
	return newRenderer(scene, cam).render()
}

// RenderQuickly is Render in half the time: it looks at every other corner of the
// pixels only, and takes the ones between as the mean of their neighbours where
// these hardly differ. Edges are sampled as finely as by Render.
func RenderQuickly(scene *Scene, cam *Camera) *Picture {
	r := newRenderer(scene, cam)
	if cam.PxPerMM() > sparseScale {
		r.sparse, r.fineInside = true, fineQuick
	}
	return r.render()
}

// sparseScale: above it, px/mm, no line of a target is so fine that it slips
// between two corners that lie two pixels apart. 0.2 mm are three pixels.
const sparseScale = 15

type renderer struct {
	scene      *Scene
	view       *view
	pic        *Picture
	box        [4]int // target's place in the picture: x0, y0, x1, y1
	fineInside int
	always     bool // sample everything inside finely
	sparse     bool // look at every other corner only
}

func newRenderer(scene *Scene, cam *Camera) *renderer {
	return &renderer{scene: scene.prepared(), view: newView(cam), pic: scratchPicture(cam.Width, cam.Height),
		box: targetBox(scene, cam), fineInside: fineInside, always: cam.PxPerMM() < smallScale}
}

func (r *renderer) render() *Picture {
	inBlocks(r.pic.Height, r.rows)
	return r.pic
}

// targetBox bounds the rings and the index bar in the picture.
func targetBox(scene *Scene, cam *Camera) [4]int {
	far := scene.Target.OuterRadius() + scene.Target.Index.ToMM + 1
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for i := range 64 {
		s, c := math.Sincos(2 * math.Pi * float64(i) / 64)
		x, y := cam.Project(far*c, far*s, 0)
		if math.IsNaN(x) {
			return [4]int{0, 0, cam.Width, cam.Height}
		}
		x0, x1, y0, y1 = min(x0, x), max(x1, x), min(y0, y), max(y1, y)
	}
	clip := func(v float64, most int) int { return int(min(max(v, 0), float64(most))) }
	return [4]int{clip(x0, cam.Width), clip(y0, cam.Height), clip(x1+1, cam.Width), clip(y1+1, cam.Height)}
}

// rows renders the rows from..to-1, sharing each row of pixel corners with the next.
func (r *renderer) rows(from, to int) {
	rows := newCornerRows(r)
	for y := from; y < to; y++ {
		above, below := rows.at(y), rows.at(y+1)
		out := r.pic.Pix[3*y*r.pic.Width:]
		for x := range r.pic.Width {
			c := r.pixel(x, y, [4]RGB{above[x], above[x+1], below[x], below[x+1]})
			out[3*x], out[3*x+1], out[3*x+2] = float32(c[0]), float32(c[1]), float32(c[2])
		}
	}
}

func (r *renderer) pixel(x, y int, corner [4]RGB) RGB {
	inside := r.inBox(x, y)
	share, n := edgeOutside, fineOutside
	if inside {
		share, n = edgeInside, r.fineInside
	}
	if (inside && r.always) || differ(&corner, share) {
		return r.fine(x, y, n)
	}
	return corner[0].Plus(corner[1]).Plus(corner[2]).Plus(corner[3]).Times(0.25)
}

// inBox tells whether a pixel lies in the target's place in the picture.
func (r *renderer) inBox(x, y int) bool {
	return x >= r.box[0] && x < r.box[2] && y >= r.box[1] && y < r.box[3]
}

func differ(corner *[4]RGB, share float64) bool {
	for c := range 3 {
		low := min(corner[0][c], corner[1][c], corner[2][c], corner[3][c])
		high := max(corner[0][c], corner[1][c], corner[2][c], corner[3][c])
		if high-low > share*(high+low)/2+0.002 {
			return true
		}
	}
	return false
}

// fine averages n x n samples over the pixel's square.
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

// blockRows balances the load between processors without many shared corner rows.
const blockRows = 32

// inBlocks runs work over all rows in blocks, on all processors. The blocks
// never depend on how many processors there are.
func inBlocks(rows int, work func(from, to int)) {
	var next atomic.Int64
	var all sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		all.Go(func() {
			for {
				from := int(next.Add(blockRows)) - blockRows
				if from >= rows {
					return
				}
				work(from, min(from+blockRows, rows))
			}
		})
	}
	all.Wait()
}
