package studio

import (
	"math"
)

// Moments are a burn's place and size, integrated numerically from its darkness
// field D; the definitions are those of ISO 11146-1:2021 with D in place of the power
// density of a beam:
//
//	x̄ = ∫x D / ∫D,   σx² = ∫(x-x̄)² D / ∫D,   σxy = ∫(x-x̄)(y-ȳ) D / ∫D.
type Moments struct {
	Right, Up     float64 // first moment, mm
	Major, Minor  float64 // 4 sigma along the principal axes, mm
	AxisDeg       float64 // major axis, counter-clockwise from right, -90..90
	SpreadMM      float64 // how far sensible definitions of the centre differ: half the largest distance between them
	Binary50Right float64 // centre of the area with darkness above 0.5, mm
	Binary50Up    float64
	Binary25Right float64 // the same above 0.25
	Binary25Up    float64
	IntegralMM2   float64 // integral of darkness, mm²
}

// Darkness above which the two other sensible definitions of a centre count a place
// whole: half way to char, and the foot of the edge.
const (
	darkHalf    = 0.5
	darkQuarter = 0.25
)

// momentCells is the number of cells along each side of the integration grid.
// 1000 puts a hard-edged disc's second moment within 1e-4 of its closed form.
const momentCells = 1000

// Moments integrates the darkness on a grid of momentCells² cells by the midpoint rule,
//
//	∫ f D ≈ Σ f(x_i, y_j) D(x_i, y_j) cell²,
//
// over the square of side 2 Reach. The rule is exact for what is linear within a cell; a hard
// edge is misplaced in each cell that it crosses by less than half of it, one way as often as
// the other. A burn without darkness gives NaN everywhere but in IntegralMM2.
func (b *Burn) Moments() Moments {
	var whole, half, quarter sums
	reach, fast := b.Reach(), b.keptTurns()
	cell := 2 * reach / momentCells
	// Sums are taken about the first lobe's centre to keep them well scaled.
	for j := range momentCells {
		y := (float64(j)+0.5)*cell - reach
		for i := range momentCells {
			x := (float64(i)+0.5)*cell - reach
			d := fast.Dark(b.Lobes[0].Right+x, b.Lobes[0].Up+y)
			if d <= 0 {
				continue
			}
			whole.add(x, y, d)
			if d > darkHalf {
				half.add(x, y, 1)
			}
			if d > darkQuarter {
				quarter.add(x, y, 1)
			}
		}
	}
	return b.moments(whole, half, quarter, cell*cell)
}

// moments puts the sums together; cell is a cell's area in mm². The spread of the
// definitions is half the largest distance between three centres: of darkness, of what is
// darker than 1/2 and of what is darker than 1/4. A truth is stated no more finely than that.
func (b *Burn) moments(whole, half, quarter sums, cell float64) Moments {
	x, y := whole.mean()
	x5, y5 := half.mean()
	x2, y2 := quarter.mean()
	var m Moments
	m.Major, m.Minor, m.AxisDeg = whole.axes()
	m.IntegralMM2 = whole.w * cell
	spread := max(math.Hypot(x-x5, y-y5), math.Hypot(x-x2, y-y2), math.Hypot(x5-x2, y5-y2))
	m.SpreadMM = spread / 2
	r, u := b.Lobes[0].Right, b.Lobes[0].Up
	m.Right, m.Up = r+x, u+y
	m.Binary50Right, m.Binary50Up = r+x5, u+y5
	m.Binary25Right, m.Binary25Up = r+x2, u+y2
	return m
}

// sums are weighted sums up to second order.
type sums struct{ w, x, y, xx, yy, xy float64 }

func (s *sums) add(x, y, w float64) {
	s.w += w
	s.x += w * x
	s.y += w * y
	s.xx += w * x * x
	s.yy += w * y * y
	s.xy += w * x * y
}

func (s *sums) mean() (x, y float64) { return s.x / s.w, s.y / s.w }

// axes gives 4 sigma along the principal axes and the major one's direction in degrees.
// The eigenvalues of the matrix (vx vxy; vxy vy) are
//
//	λ = ((vx + vy) ± √((vx - vy)² + 4 vxy²)) / 2,
//
// so that 4√λ = 2√2 · √(vx + vy ± root), and the major axis lies at half the angle of
// (vx - vy, 2 vxy). Central moments come from raw ones: <x²> - <x>².
func (s *sums) axes() (major, minor, deg float64) {
	x, y := s.mean()
	vx, vy, vxy := s.xx/s.w-x*x, s.yy/s.w-y*y, s.xy/s.w-x*y
	root := math.Hypot(vx-vy, 2*vxy)
	major = 2 * math.Sqrt(2) * math.Sqrt(vx+vy+root)
	minor = 2 * math.Sqrt(2) * math.Sqrt(math.Max(vx+vy-root, 0))
	return major, minor, 0.5 * math.Atan2(2*vxy, vx-vy) * 180 / math.Pi
}
