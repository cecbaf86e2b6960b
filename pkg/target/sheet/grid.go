package sheet

import (
	"fmt"
	"math"

	"burngauge.dev/burngauge/pkg/drawing"
	"burngauge.dev/burngauge/pkg/target"
)

// A cell holds one target and, below it, the lines to write on; mm.
const (
	cutMargin  = 1.5  // paper left around the bar when the rim is not known
	writeWide  = 36.0 // a station's name by hand
	writeTall  = 6.5  // one written line
	writeAbove = 1.0  // from the cut to the first written line's space
	cellGap    = 5.0  // least space between cells
	gapLimit   = 14.0 // rows are not pulled further apart than this
)

// Strokes around the target, mm.
const (
	crossShare = 0.8 // the cross is drawn this thin against the rings' line
	rimWidth   = 0.25
	cutWidth   = 0.15
	cutDash    = 1.2 // and the gap after it
	cutGap     = 0.8
)

// grid is where the cells lie.
type grid struct {
	left, top  float64 // of the first cell
	wide, tall float64 // of a cell
	stepX      float64 // from one cell's left edge to the next one's
	stepY      float64
	cols, rows int
	cut        float64 // radius of the cut
}

// cutDiameter is where the paper is cut, mm: at the rim when it is known, else
// at the next whole millimetre beyond the bar.
func cutDiameter(spec target.Spec) float64 {
	if spec.RimMM > 0 {
		return spec.RimMM
	}
	reach := math.Hypot(spec.OuterRadius()+spec.Index.ToMM, spec.Index.WidthMM/2)
	return math.Ceil(2 * (reach + cutMargin))
}

// newGrid spreads as many cells as fit evenly over the page. Of cells of width w and
// least gap c, n fit into a space s when n w + (n - 1) c <= s: n is the whole part of
// (s + c) / (w + c).
func newGrid(spec target.Spec, page drawing.Size) grid {
	cut := cutDiameter(spec)
	g := grid{left: margin, top: gridTop, cut: cut / 2}
	g.wide, g.tall = math.Max(cut, writeWide), cut+writeAbove+2*writeTall
	spaceX := page.Wide - 2*margin
	spaceY := page.Tall - margin - footerTall - cellGap - gridTop
	g.cols = int((spaceX + cellGap) / (g.wide + cellGap))
	g.rows = int((spaceY + cellGap) / (g.tall + cellGap))
	if g.fits() == 0 {
		return g
	}
	g.stepX = spaceX / float64(g.cols)
	g.left += (g.stepX - g.wide) / 2
	g.stepY = g.tall + gapBetween(spaceY-float64(g.rows)*g.tall, g.rows)
	return g
}

// gapBetween shares spare millimetres between rows.
func gapBetween(spare float64, rows int) float64 {
	if rows < 2 {
		return 0
	}
	return math.Min(spare/float64(rows-1), gapLimit)
}

// fits is the number of cells on the page.
func (g grid) fits() int { return max(g.cols, 0) * max(g.rows, 0) }

// count resolves how many targets are drawn.
func (g grid) count(asked int) (int, error) {
	fits := g.fits()
	switch {
	case fits == 0:
		return 0, &OptionError{fmt.Sprintf("a target of %g mm does not fit on the page: choose a smaller one", 2*g.cut)}
	case asked < 0:
		return 0, &OptionError{fmt.Sprintf("%d targets: ask for 1 to %d, or 0 for as many as fit", asked, fits)}
	case asked > fits:
		return 0, &OptionError{fmt.Sprintf("%d targets do not fit on one page: ask for at most %d and print it more often", asked, fits)}
	case asked == 0:
		return fits, nil
	}
	return asked, nil
}

// draw is the cell with number i, counted along the rows from the top left.
func (g grid) draw(spec target.Spec, i int) []drawing.Shape {
	left := g.left + float64(i%g.cols)*g.stepX
	top := g.top + float64(i/g.cols)*g.stepY
	x := left + g.wide/2
	shapes := drawTarget(spec, x, top+g.cut)
	inset := (g.wide - writeWide) / 2
	first := top + 2*g.cut + writeAbove + writeTall
	shapes = append(shapes, writeLine("Station", left+inset, first)...)
	return append(shapes, writeLine("Date", left+inset, first+writeTall)...)
}

// drawTarget draws rings, cross, bar and cut around the centre (x, y). A ring's
// diameter is to the middle of its line, as the spec states it.
func drawTarget(spec target.Spec, x, y float64) []drawing.Shape {
	var shapes []drawing.Shape
	for _, d := range spec.RingsMM {
		shapes = append(shapes, drawing.Circle(x, y, d/2, drawing.Stroked(drawing.Black, spec.LineMM)))
	}
	if arm := spec.CrossMM; arm > 0 {
		style := drawing.Stroked(drawing.Black, spec.LineMM*crossShare)
		shapes = append(shapes,
			drawing.Line(style, drawing.At(x-arm, y), drawing.At(x+arm, y)),
			drawing.Line(style, drawing.At(x, y-arm), drawing.At(x, y+arm)))
	}
	bar, outer := spec.Index, y-spec.OuterRadius()
	shapes = append(shapes, drawing.Box(drawing.At(x-bar.WidthMM/2, outer-bar.ToMM), drawing.At(x+bar.WidthMM/2, outer-bar.FromMM), drawing.Filled(drawing.Black)))
	return append(shapes, cutLine(spec, x, y))
}

// cutLine is where the scissors go: the target's rim when it is known, else a
// light broken line that nobody takes for a ring.
func cutLine(spec target.Spec, x, y float64) drawing.Shape {
	if spec.RimMM > 0 {
		return drawing.Circle(x, y, spec.RimMM/2, drawing.Stroked(middle, rimWidth))
	}
	return drawing.Circle(x, y, cutDiameter(spec)/2, drawing.Stroked(light, cutWidth, cutDash, cutGap))
}

// writeLine is a label and the line to write on; y is the base line.
func writeLine(label string, x, y float64) []drawing.Shape {
	font := drawing.Font{Size: smallText, Ink: middle}
	words := drawing.Text{Font: font, X: x, Y: y, Words: label}
	start := x + font.Width("Station") + 1.5 // both lines start alike
	return []drawing.Shape{words, drawing.Line(drawing.Stroked(middle, 0.15), drawing.At(start, y+0.4), drawing.At(x+writeWide, y+0.4))}
}
