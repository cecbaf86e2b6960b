// Package flat is the target seen from straight above: the photo resampled on a
// square of equal cells on the tape's surface, and what is printed there.
//
// Places are in mm, right and up from the point below which the rings' centre
// would lie without perspective; light is linear, 0..1 of the camera's scale.
package flat

import (
	"math"

	"burngauge.dev/burngauge/pkg/raster"
	"burngauge.dev/burngauge/pkg/ring"
	"burngauge.dev/burngauge/pkg/spot/cells"
)

// Field is a square piece of the target seen from straight above: N x N cells
// of Step mm. Cell (i, j), of index k = j N + i, has its centre at right
// X0 + i Step, up Y0 + j Step.
type Field struct {
	N      int
	Step   float64
	X0, Y0 float64
	Light  []float64    // luminance, NaN off the photo
	Colour [3][]float64 // blue, green, red
}

// Square is a square on the tape's surface, mm.
type Square struct {
	Right, Up float64 // its middle
	Half      float64 // half its width
	Step      float64 // of its cells
}

// Flatten samples the fit's raster on a square.
func Flatten(f *ring.Fit, s Square, set Settings) *Field {
	n := 2*int(math.Ceil(s.Half/s.Step)) + 1
	p := &Field{N: n, Step: s.Step, X0: s.Right - s.Step*float64(n/2), Y0: s.Up - s.Step*float64(n/2)}
	p.Light = make([]float64, n*n)
	for c := range p.Colour {
		p.Colour[c] = make([]float64, n*n)
	}
	raster := f.Raster()
	// A sample for each pixel that a cell's side covers.
	fine := min(max(1, int(math.Ceil(s.Step*f.PxPerMM()/float64(raster.Factor)))), set.SamplesAcross)
	tape := f.Tape()
	cells.InRows(n, func(j int) {
		for i := range n {
			p.average(tape, raster, i, j, fine)
		}
	})
	return p
}

// average sets a cell to the mean of fine x fine samples, at the middles of the
// squares into which they divide it.
func (p *Field) average(tape ring.Surface, light *raster.Raster, i, j, fine int) {
	var sum [4]float64
	for a := range fine {
		for b := range fine {
			x, y := p.Place(i, j)
			x += p.Step * ((float64(a)+0.5)/float64(fine) - 0.5)
			y += p.Step * ((float64(b)+0.5)/float64(fine) - 0.5)
			px := tape.Pixel(x, y)
			v := light.SampleAll(px)
			for c := range sum {
				sum[c] += v[c]
			}
		}
	}
	k, norm := j*p.N+i, 1/float64(fine*fine)
	p.Light[k] = sum[0] * norm
	for c := range p.Colour {
		p.Colour[c][k] = sum[c+1] * norm
	}
}

// Place is the centre of cell (i, j), mm: right, up.
func (p *Field) Place(i, j int) (right, up float64) {
	return p.X0 + float64(i)*p.Step, p.Y0 + float64(j)*p.Step
}

// Centre is the centre of the cell with index k, mm: right, up.
func (p *Field) Centre(k int) (right, up float64) { return p.Place(k%p.N, k/p.N) }

// Holds says whether a place lies between the centres of the field's cells.
func (p *Field) Holds(x, y float64) bool {
	i, j := (x-p.X0)/p.Step, (y-p.Y0)/p.Step
	return i >= 0 && j >= 0 && i <= float64(p.N-1) && j <= float64(p.N-1)
}

// InColour is the field with the light of one colour: 0 blue, 1 green, 2 red.
func (p *Field) InColour(c int) *Field {
	one := *p
	one.Light = p.Colour[c]
	return &one
}

// Sample reads values of the field's cells bilinearly at a place, at the nearest
// cell beyond the border.
func (p *Field) Sample(values []float64, x, y float64) float64 {
	u := min(max((x-p.X0)/p.Step, 0), float64(p.N-1))
	v := min(max((y-p.Y0)/p.Step, 0), float64(p.N-1))
	i, j := min(int(u), p.N-2), min(int(v), p.N-2)
	fx, fy := u-float64(i), v-float64(j)
	k := j*p.N + i
	a := values[k] + fx*(values[k+1]-values[k])
	b := values[k+p.N] + fx*(values[k+p.N+1]-values[k+p.N])
	return a + fy*(b-a)
}

// Resampled is a set of cells of another field, taken to this one's cells: each
// is in it when the other field's nearest cell is.
func (p *Field) Resampled(other *Field, s cells.Set) cells.Set {
	out := cells.New(p.N)
	for k := range out.In {
		x, y := p.Centre(k)
		i := int(math.Round((x - other.X0) / other.Step))
		j := int(math.Round((y - other.Y0) / other.Step))
		if i >= 0 && j >= 0 && i < other.N && j < other.N {
			out.In[k] = s.In[j*other.N+i]
		}
	}
	return out
}
