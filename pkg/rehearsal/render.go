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

// row is a row's pixels.
func (p *Picture) row(y int) []float32 { return p.Pix[3*y*p.Width:][:3*p.Width] }

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
	corners, ends := newCornerRows(r), make([]span, r.pic.Width+1)
	for y := from; y < to; y++ {
		r.row(y, corners.at(y), corners.at(y+1), ends)
	}
}

// span is the darker and the lighter of two corners, in each colour.
type span struct{ low, high RGB }

// row renders one row from the corners above and below it. ends is scratch: the
// span of each corner and the one below it, which two pixels share.
func (r *renderer) row(y int, above, below []RGB, ends []span) {
	for x := range ends {
		a, b, e := &above[x], &below[x], &ends[x]
		for c := range 3 {
			e.low[c], e.high[c] = min(a[c], b[c]), max(a[c], b[c])
		}
	}
	out := r.pic.row(y)
	for x := range r.pic.Width {
		p := out[3*x : 3*x+3]
		share, n, fine := edgeOutside, fineOutside, false
		if r.inBox(x, y) {
			share, n, fine = edgeInside, r.fineInside, r.always
		}
		if fine || differ(&ends[x], &ends[x+1], share) {
			for c, v := range r.fine(x, y, n) {
				p[c] = float32(v)
			}
			continue
		}
		for c := range 3 {
			p[c] = float32((above[x][c] + above[x+1][c] + below[x][c] + below[x+1][c]) * 0.25)
		}
	}
}

// differ tells whether a pixel's four corners, two on its left and two on its
// right, differ by more than a share of their mean.
func differ(left, right *span, share float64) bool {
	for c := range 3 {
		low, high := min(left.low[c], right.low[c]), max(left.high[c], right.high[c])
		if high-low > share*(high+low)/2+0.002 {
			return true
		}
	}
	return false
}

// inBox tells whether a pixel lies in the target's place in the picture.
func (r *renderer) inBox(x, y int) bool {
	return x >= r.box[0] && x < r.box[2] && y >= r.box[1] && y < r.box[3]
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
func inBlocks(rows int, work func(from, to int)) { inBlocksOf(blockRows, rows, work) }

// inBlocksOf is inBlocks with blocks of a size of one's own.
func inBlocksOf(size, rows int, work func(from, to int)) {
	var next atomic.Int64
	var all sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		all.Go(func() {
			for {
				from := int(next.Add(int64(size))) - size
				if from >= rows {
					return
				}
				work(from, min(from+size, rows))
			}
		})
	}
	all.Wait()
}
