package ellipse

import (
	"math"
	"slices"

	"burngauge.dev/burngauge/pkg/conic"
)

// edgel is one edge point on the small picture.
type edgel struct {
	conic.Point
	gx, gy float64
}

// chains links edge pixels into curves that turn smoothly.
func (e *edgeMap) chains() [][]edgel {
	used := make([]bool, len(e.magnitude))
	var out [][]edgel
	for k, m := range e.magnitude {
		if m < e.high || used[k] {
			continue
		}
		used[k] = true
		back := e.follow(k, -1, used)
		slices.Reverse(back)
		chain := append(append(back, e.edgel(k)), e.follow(k, +1, used)...)
		if len(chain) >= e.set.ShortestChain {
			out = append(out, chain)
		}
	}
	return out
}

func (e *edgeMap) edgel(k int) edgel {
	return edgel{
		Point: conic.Point{X: float64(k%e.w) + float64(e.shift[k]*e.gx[k]), Y: float64(k/e.w) + float64(e.shift[k]*e.gy[k])},
		gx:    float64(e.gx[k]), gy: float64(e.gy[k]),
	}
}

// follow walks from pixel k along the edge (sense +1: the gradient on the
// left hand's side of the walk, -1: the other way) as long as it turns gently.
func (e *edgeMap) follow(k, sense int, used []bool) []edgel {
	var out []edgel
	s := float32(sense)
	for {
		x, y := k%e.w, k/e.w
		if x < 2 || y < 2 || x >= e.w-3 || y >= e.h-3 {
			return out
		}
		tx, ty := -s*e.gy[k], s*e.gx[k]
		best, bestScore := -1, float32(0)
		for dy := -1; dy <= 1; dy++ {
			for dx := -1; dx <= 1; dx++ {
				j := k + dy*e.w + dx
				if j == k || used[j] || e.magnitude[j] < e.low {
					continue
				}
				turn := e.gx[k]*e.gx[j] + e.gy[k]*e.gy[j]
				forward := (float32(dx)*tx + float32(dy)*ty) / float32(math.Sqrt(float64(dx*dx+dy*dy)))
				if turn < e.set.LeastAlike || forward < e.set.LeastForward {
					continue
				}
				if score := turn + forward; score > bestScore {
					best, bestScore = j, score
				}
			}
		}
		if best < 0 {
			return out
		}
		used[best] = true
		k = best
		out = append(out, e.edgel(k))
	}
}
