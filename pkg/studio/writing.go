package studio

import (
	"math"
)

// Writing is a line of text drawn with strokes: a label by hand or in print.
type Writing struct {
	Text      string  // digits, capital letters, - / and blanks; others are left blank
	Right, Up float64 // lower left corner of the first letter, mm
	Deg       float64 // direction of the line
	SizeMM    float64 // height of the letters
	PenMM     float64 // width of the strokes
	Colour    RGB
	Wobble    float64 // 0 printed .. 1 shaky hand, in grid units of a letter (a sixth of its height)
	Slant     float64 // shift to the right per unit of height
	Seed      uint32
}

// Letters sit on a grid 4 wide and 6 high; the next one begins advance further right.
const (
	letterHeight = 6
	advance      = 5.8
)

// strokes holds each letter as polylines of two-digit grid points (x, y from the lower left).
var strokes = [128][]string{
	'0': {"103041453616050110"}, '1': {"152620", "1030"}, '2': {"05163645440040"},
	'3': {"0516364544334241301001", "1333"}, '4': {"30360242"}, '5': {"460603334241301001"},
	'6': {"4536160501103041423303"}, '7': {"064610"},
	'8': {"13334241301001021304051636454433"}, '9': {"011030414536160504134344"},
	'A': {"002640", "1232"}, 'B': {"00063645443303", "3342413000"}, 'C': {"4536160501103041"},
	'D': {"00062644422000"}, 'E': {"46060040", "0333"}, 'F': {"460600", "0333"},
	'G': {"453616050110304143", "4323"}, 'H': {"0006", "4046", "0343"}, 'I': {"2026"},
	'K': {"0006", "460340"}, 'L': {"060040"}, 'M': {"0006234640"}, 'N': {"00064046"},
	'O': {"103041453616050110"}, 'P': {"00063645443303"}, 'R': {"00063645443303", "2340"},
	'S': {"453616050413334241301001"}, 'T': {"2026", "0646"}, 'U': {"060110304146"},
	'V': {"062046"}, 'W': {"0610243046"}, 'X': {"0046", "0640"}, 'Y': {"062346", "2320"},
	'Z': {"06460040"}, '-': {"1333"}, '/': {"0046"},
}

// glyph is a letter's strokes as segments x1, y1, x2, y2 on the grid.
type glyph [][4]float64

var glyphs = makeGlyphs()

// makeGlyphs reads the strokes once.
func makeGlyphs() (set [128]glyph) {
	for letter, lines := range strokes {
		for _, line := range lines {
			for i := 0; i+3 < len(line); i += 2 {
				set[letter] = append(set[letter], [4]float64{
					float64(line[i] - '0'), float64(line[i+1] - '0'),
					float64(line[i+2] - '0'), float64(line[i+3] - '0')})
			}
		}
	}
	return set
}

// distance from a place to the strokes, in grid units; large when there are none.
func (g glyph) distance(x, y float64) float64 {
	best := math.Inf(1)
	for i := range g {
		best = min(best, segmentDistance2(x, y, &g[i]))
	}
	return math.Sqrt(best)
}

// segmentDistance2 is the squared distance from a place p to the segment a..b: the nearest
// point is a + t (b - a) with t = (p - a)·(b - a) / |b - a|², held within 0..1.
func segmentDistance2(x, y float64, s *[4]float64) float64 {
	dx, dy := s[2]-s[0], s[3]-s[1]
	t := ((x-s[0])*dx + (y-s[1])*dy) / (dx*dx + dy*dy)
	t = min(max(t, 0), 1)
	ex, ey := x-s[0]-t*dx, y-s[1]-t*dy
	return ex*ex + ey*ey
}

// A pen's line (chosen by eye): its edge is soft from penFrom to penTo of its half width,
// and inkDepth of what is below it is hidden. A shaky hand wanders over wobbleLong grid
// units; a letter's strokes begin up to lead units before its place.
const (
	penFrom, penTo = 0.85, 1.15
	inkDepth       = 0.85
	wobbleLong     = 3
	lead           = 0.9
)

// covers is the share of ink 0..1 at a place.
func (w *Writing) covers(right, up float64) float64 {
	c, s := cosSin(w.Deg)
	x, y := turned(right-w.Right, up-w.Up, c, s)
	unit := w.SizeMM / letterHeight
	x, y = x/unit, y/unit
	pen := w.PenMM / unit / 2
	if y < -pen-1 || y > letterHeight+pen+1 || x < -pen-2 || x > float64(len(w.Text))*advance+2 {
		return 0
	}
	x -= w.Slant * y
	if w.Wobble > 0 {
		x += w.Wobble * noise(x/wobbleLong, y/wobbleLong, w.Seed)
		y += w.Wobble * noise(x/wobbleLong, y/wobbleLong, w.Seed+1)
	}
	best := math.Inf(1)
	at := int(math.Floor((x + lead) / advance))
	for i := max(at-1, 0); i <= min(at, len(w.Text)-1); i++ {
		if letter := w.Text[i]; letter < 128 {
			best = min(best, glyphs[letter].distance(x-float64(i)*advance, y))
		}
	}
	return 1 - step(penFrom*pen, penTo*pen, best)
}

// over lays the writing on a surface.
func (w *Writing) over(surface RGB, right, up float64) RGB {
	if k := w.covers(right, up); k > 0 {
		return surface.Toward(w.Colour, inkDepth*k)
	}
	return surface
}

// nearShares are the circles that Near looks along, as shares of the distance, and
// nearPlaces how many places on each: no two are farther apart than a third of it.
var nearShares = [...]float64{0, 0.33, 0.66, 1}

const nearPlaces = 24

// Near reports whether any stroke comes within a distance in mm of a place.
func (w *Writing) Near(right, up, distance float64) bool {
	for i := range nearPlaces {
		s, c := math.Sincos(2 * math.Pi * float64(i) / nearPlaces)
		for _, k := range nearShares {
			if w.covers(right+k*distance*c, up+k*distance*s) > 0 {
				return true
			}
		}
	}
	return false
}
