package overlay

import (
	"image"
	"math"
)

// point is a place in a picture, px from the top left corner: pixel (0, 0)
// reaches from 0 to 1.
type point struct{ x, y float64 }

func (p point) add(q point) point                { return point{p.x + q.x, p.y + q.y} }
func (p point) sub(q point) point                { return point{p.x - q.x, p.y - q.y} }
func (p point) times(f float64) point            { return point{p.x * f, p.y * f} }
func (p point) length() float64                  { return math.Hypot(p.x, p.y) }
func (p point) finite() bool                     { return !math.IsNaN(p.x-p.x) && !math.IsNaN(p.y-p.y) }
func (p point) left() point                      { return point{-p.y, p.x} }
func (p point) between(q point, f float64) point { return p.add(q.sub(p).times(f)) }

// unit is the direction of p; false when it has none.
func (p point) unit() (point, bool) {
	length := p.length()
	if !(length > 0) || math.IsInf(length, 0) {
		return point{}, false
	}
	return p.times(1 / length), true
}

// box is an upright rectangle. The zero value is not empty: start from noBox.
type box struct{ min, max point }

// noBox holds nothing.
func noBox() box {
	return box{point{math.Inf(1), math.Inf(1)}, point{math.Inf(-1), math.Inf(-1)}}
}

// with is the box grown to hold p. A point that is not finite is passed over.
func (b box) with(p point) box {
	if !p.finite() {
		return b
	}
	return box{point{min(b.min.x, p.x), min(b.min.y, p.y)}, point{max(b.max.x, p.x), max(b.max.y, p.y)}}
}

func (b box) empty() bool   { return !(b.min.x <= b.max.x && b.min.y <= b.max.y) }
func (b box) size() point   { return b.max.sub(b.min) }
func (b box) middle() point { return b.min.between(b.max, 0.5) }

// padded is the box with a margin all around.
func (b box) padded(margin float64) box {
	return box{b.min.sub(point{margin, margin}), b.max.add(point{margin, margin})}
}

// around is the box of a size about its middle.
func around(middle, size point) box {
	return box{middle.sub(size.times(0.5)), middle.add(size.times(0.5))}
}

// meets reports whether two boxes have a place in common.
func (b box) meets(c box) bool {
	return b.min.x < c.max.x && c.min.x < b.max.x && b.min.y < c.max.y && c.min.y < b.max.y
}

// holds reports whether c lies in b.
func (b box) holds(c box) bool {
	return b.min.x <= c.min.x && b.min.y <= c.min.y && c.max.x <= b.max.x && c.max.y <= b.max.y
}

// within is the part of the box in a picture, in whole px outward.
func (b box) within(all image.Rectangle) image.Rectangle {
	if b.empty() || !b.meets(boxOf(all)) {
		return image.Rectangle{}
	}
	clamp := func(v float64, end int) int { return int(min(max(v, 0), float64(end))) }
	return image.Rect(clamp(math.Floor(b.min.x), all.Max.X), clamp(math.Floor(b.min.y), all.Max.Y),
		clamp(math.Ceil(b.max.x), all.Max.X), clamp(math.Ceil(b.max.y), all.Max.Y))
}

// boxOf is a rectangle of pixels.
func boxOf(r image.Rectangle) box {
	return box{point{float64(r.Min.X), float64(r.Min.Y)}, point{float64(r.Max.X), float64(r.Max.Y)}}
}

// path is a line through points; closed: the last is joined to the first.
type path struct {
	points []point
	closed bool
}

// segments calls each with every straight piece.
func (p path) segments(each func(a, b point)) {
	for i := 1; i < len(p.points); i++ {
		each(p.points[i-1], p.points[i])
	}
	if n := len(p.points); p.closed && n > 2 {
		each(p.points[n-1], p.points[0])
	}
}

// length is that of all pieces.
func (p path) length() (total float64) {
	p.segments(func(a, b point) { total += b.sub(a).length() })
	return total
}

// bounds is the box of the path's points.
func (p path) bounds() box {
	b := noBox()
	for _, q := range p.points {
		b = b.with(q)
	}
	return b
}

// inside cuts away what lies outside the frame. A path that lies wholly inside
// comes back as it is; what is not finite is left out.
func (p path) inside(frame box) []path {
	if b := p.bounds(); allFinite(p.points) && frame.holds(b) {
		return []path{p}
	}
	var parts []path
	p.segments(func(a, b point) {
		a, b, ok := clip(a, b, frame)
		if !ok {
			return
		}
		if n := len(parts); n > 0 && last(parts[n-1].points) == a {
			parts[n-1].points = append(parts[n-1].points, b)
			return
		}
		parts = append(parts, path{points: []point{a, b}})
	})
	return parts
}

func last(points []point) point { return points[len(points)-1] }

func allFinite(points []point) bool {
	for _, p := range points {
		if !p.finite() {
			return false
		}
	}
	return true
}

// clip is the part of a straight piece inside the frame (Liang and Barsky, ACM
// Transactions on Graphics 3(1), 1984, by its parametric form).
func clip(a, b point, frame box) (point, point, bool) {
	if !a.finite() || !b.finite() {
		return a, b, false
	}
	from, to, d := 0.0, 1.0, b.sub(a)
	for _, edge := range [4][2]float64{
		{-d.x, a.x - frame.min.x}, {d.x, frame.max.x - a.x},
		{-d.y, a.y - frame.min.y}, {d.y, frame.max.y - a.y},
	} {
		switch step, room := edge[0], edge[1]; {
		case step == 0 && room < 0:
			return a, b, false
		case step < 0:
			from = max(from, room/step)
		case step > 0:
			to = min(to, room/step)
		}
	}
	if from > to {
		return a, b, false
	}
	start, end := a, b
	if from > 0 {
		start = a.between(b, from)
	}
	if to < 1 {
		end = a.between(b, to)
	}
	return start, end, true
}

// dashed cuts a path into dashes and leaves gaps between them. The two are
// changed a little so that a whole number of them fits a closed path.
func (p path) dashed(dash, gap float64) []path {
	period := dash + gap
	if total := p.length(); p.closed && total > period {
		fitted := total / math.Round(total/period)
		dash, period = dash*fitted/period, fitted
	}
	var parts []path
	along := 0.0
	p.segments(func(a, b point) {
		length := b.sub(a).length()
		for at := 0.0; at < length; {
			phase := math.Mod(along+at, period)
			on, rest := phase < dash, dash-phase
			if !on {
				rest = period - phase
			}
			rest = max(rest, 1e-6*period) // past a boundary that rounding hides
			end := min(at+rest, length)
			if on {
				parts = extended(parts, a.between(b, at/length), a.between(b, end/length))
			}
			at = end
		}
		along += length
	})
	return parts
}

// extended continues the last part when a is where it ended.
func extended(parts []path, a, b point) []path {
	const same = 1e-6 // px
	if n := len(parts); n > 0 && last(parts[n-1].points).sub(a).length() < same {
		parts[n-1].points = append(parts[n-1].points, b)
		return parts
	}
	return append(parts, path{points: []point{a, b}})
}
