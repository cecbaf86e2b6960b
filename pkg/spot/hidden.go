package spot

import "math"

// hiddenCell is a cell on a line as dark as the mark. Its darkness is not seen;
// it lies between that of the line's two sides.
type hiddenCell struct {
	k         int
	low, high float64
}

// hiddenU is the standard uncertainty per axis from a mark's edge that runs
// under dark lines, mm. The edge may lie on either side of its line or anywhere
// between: the centre is taken to be uniform between those of the two extremes
// (JCGM 100, 4.3.7). What is hidden on one side of the mark tells nothing of
// the others, so the four quarters about the centre count one by one.
func (d *darkness) hiddenU(m moment) float64 {
	var quarters [4][]hiddenCell
	for _, c := range d.hidden {
		x, y := d.place(c.k%d.n, c.k/d.n)
		turn := math.Atan2(y-m.y, x-m.x)/(2*math.Pi) + 1.125 // quarters lie about the axes
		quarters[int(4*turn)%4] = append(quarters[int(4*turn)%4], c)
	}
	squares := 0.0
	for _, cells := range quarters {
		low := d.hiddenAs(cells, func(c hiddenCell) float64 { return c.low })
		high := d.hiddenAs(cells, func(c hiddenCell) float64 { return c.high })
		squares += low.distance(high) * low.distance(high) / 12
	}
	return math.Sqrt(squares / 2)
}

// hiddenAs is the mark's position if each of these cells had this darkness.
func (d *darkness) hiddenAs(cells []hiddenCell, value func(hiddenCell) float64) moment {
	as := make(map[int]float64, len(cells))
	for _, c := range cells {
		as[c.k] = value(c)
	}
	return d.weighted(func(k int) float64 {
		if !d.support.in[k] {
			return 0
		}
		v := d.value[k]
		if own, hidden := as[k]; hidden {
			v = own
		}
		return max(0, v-charAbove)
	})
}
