package history

import (
	"fmt"
	"image/color"
	"math"
	"strconv"
	"strings"
	"sync"
	"time"

	"golang.org/x/image/font/opentype"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/plotter"
	plottext "gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"burngauge.dev/burngauge/pkg/drawing"
	"burngauge.dev/burngauge/pkg/report/phrase"
	"burngauge.dev/burngauge/pkg/typeface"
)

// Sizes of the chart's text.
const (
	chartTitle = vg.Length(13)
	chartName  = vg.Length(11)
	chartWords = vg.Length(9)
)

// chartFont is the one that the PDFs embed, for the chart's own handler: the
// plot library's settings for the whole process stay as they are.
var chartFont = sync.OnceValue(func() plottext.Handler {
	face, err := opentype.Parse(typeface.Regular().Data())
	if err != nil {
		panic(fmt.Sprintf("history: built-in font: %v", err)) // compiled in: a programmer's error
	}
	return plottext.Plain{Fonts: font.NewCache(font.Collection{{Font: font.Font{Typeface: "Go"}, Face: face}})}
})

// chartText is the style of a text of that size.
func chartText(size vg.Length) draw.TextStyle {
	return draw.TextStyle{Color: rgba(ink), Font: font.Font{Typeface: "Go", Size: size}, Handler: chartFont()}
}

func rgba(c drawing.Colour) color.RGBA { return color.RGBA{c.R, c.G, c.B, 255} }

// series is how one line of a tile looks. Each has a mark and a dash of its
// own.
type series struct {
	words string
	line  draw.LineStyle
	mark  draw.GlyphStyle
}

var (
	distanceSeries = series{"distance from the centre, with its uncertainty",
		draw.LineStyle{Color: rgba(ink), Width: 1.4}, draw.GlyphStyle{Color: rgba(ink), Radius: 3, Shape: draw.CircleGlyph{}}}
	rightSeries = series{"to the right (left is below 0)",
		draw.LineStyle{Color: rgba(rightInk), Width: 0.8, Dashes: []vg.Length{5, 3}}, draw.GlyphStyle{Color: rgba(rightInk), Radius: 2.6, Shape: draw.SquareGlyph{}}}
	upSeries = series{"up (down is below 0)",
		draw.LineStyle{Color: rgba(upInk), Width: 0.8, Dashes: []vg.Length{1.5, 2}}, draw.GlyphStyle{Color: rgba(upInk), Radius: 3, Shape: draw.TriangleGlyph{}}}
	limitSeries = series{"limit of the distance", draw.LineStyle{Color: rgba(limitInk), Width: 1.2, Dashes: []vg.Length{9, 3, 2, 3}}, draw.GlyphStyle{}}
)

// tile draws one station.
func (d *drift) tile(t track) (*plot.Plot, error) {
	p := plot.New()
	p.TextHandler = chartFont()
	p.Title.Text, p.Title.TextStyle = typeface.Regular().Drawable(phrase.Or(t.station, "unnamed"))+", "+d.units.Name(), chartText(chartName)
	p.Title.TextStyle.XAlign, p.Title.TextStyle.YAlign = draw.XCenter, draw.YTop
	p.Title.Padding = 4
	d.axes(p)
	zero := plotter.NewFunction(func(float64) float64 { return 0 })
	zero.LineStyle = draw.LineStyle{Color: rgba(pale), Width: 0.8}
	p.Add(zero)
	if err := d.addLimits(p); err != nil {
		return nil, err
	}
	for _, s := range []struct {
		series
		points plotter.XYs
	}{{rightSeries, t.right}, {upSeries, t.up}, {distanceSeries, t.distance}} {
		if err := s.add(p, s.points); err != nil {
			return nil, err
		}
	}
	bars, err := plotter.NewYErrorBars(struct {
		plotter.XYs
		plotter.YErrors
	}{t.distance, t.radius})
	if err != nil {
		return nil, err
	}
	bars.LineStyle = draw.LineStyle{Color: rgba(ink), Width: 1}
	p.Add(bars)
	p.X.Min, p.X.Max = d.span()
	p.Y.Min, p.Y.Max = -d.reach, d.reach
	return p, nil
}

// add puts the line and its marks into a tile.
func (s series) add(p *plot.Plot, points plotter.XYs) error {
	line, marks, err := plotter.NewLinePoints(points)
	if err != nil {
		return err
	}
	line.LineStyle, marks.GlyphStyle = s.line, s.mark
	p.Add(line, marks)
	return nil
}

// addLimits draws the limit of each report, on both sides.
func (d *drift) addLimits(p *plot.Plot) error {
	from, to := d.span()
	for _, sign := range []float64{1, -1} {
		points := plotter.XYs{}
		last := len(d.past.reports) - 1
		for i, r := range d.past.reports {
			y := sign * d.units.From(r.LimitMM)
			if i == 0 {
				points = append(points, plotter.XY{X: from, Y: y})
			}
			points = append(points, plotter.XY{X: float64(d.past.times[i].Unix()), Y: y})
			if i == last {
				points = append(points, plotter.XY{X: to, Y: y})
			}
		}
		line, err := plotter.NewLine(points)
		if err != nil {
			return err
		}
		line.LineStyle, line.StepStyle = limitSeries.line, plotter.PostStep
		p.Add(line)
	}
	return nil
}

// axes sets what is common to all tiles.
func (d *drift) axes(p *plot.Plot) {
	for _, a := range []*plot.Axis{&p.X, &p.Y} {
		a.Label.TextStyle = chartText(chartWords)
		a.LineStyle = draw.LineStyle{Color: rgba(muted), Width: 0.6}
		a.Tick.LineStyle = a.LineStyle
		style := chartText(chartWords)
		style.XAlign, style.YAlign = a.Tick.Label.XAlign, a.Tick.Label.YAlign
		a.Tick.Label = style
	}
	p.Y.Tick.Marker = plot.ConstantTicks(lengthTicks(d.reach))
	p.X.Tick.Marker = plot.ConstantTicks(d.dateTicks())
}

// mostLengths is how many ticks stand on either side of 0.
const mostLengths = 4

// lengthTicks are ticks at round steps of 1, 2 or 5, both ways from 0.
func lengthTicks(reach float64) []plot.Tick {
	step := math.Pow10(int(math.Floor(math.Log10(reach / mostLengths))))
	for _, factor := range []float64{1, 2, 5, 10} {
		if reach/(step*factor) <= mostLengths {
			step *= factor
			break
		}
	}
	var ticks []plot.Tick
	for n := -math.Floor(reach / step); n*step <= reach; n++ {
		ticks = append(ticks, plot.Tick{Value: n * step, Label: strconv.FormatFloat(n*step, 'g', 3, 64)})
	}
	return ticks
}

// dateTicks are ticks at the reports' own times, labelled as far as there is room,
// with the time of day when they lie close.
func (d *drift) dateTicks() []plot.Tick {
	from, to := d.span()
	layout, most := "2006-01-02", 4.0
	if to-from < 4*24*time.Hour.Seconds() {
		layout, most = "2006-01-02 15:04", 2.5
	}
	var ticks []plot.Tick
	least, labelled := (to-from)/most, from-(to-from)
	for _, t := range d.past.times {
		tick := plot.Tick{Value: float64(t.Unix())}
		if tick.Value-labelled >= least {
			tick.Label, labelled = t.Format(layout), tick.Value
		}
		ticks = append(ticks, tick)
	}
	return ticks
}

// draw puts title, legend and tiles on a canvas.
func (d *drift) draw(c draw.Canvas) {
	c.SetColor(color.White)
	c.Fill(c.Rectangle.Path())
	d.head(c)
	rows := (len(d.tiles) + columns - 1) / columns
	tiles := draw.Tiles{Cols: columns, Rows: rows, PadTop: headTall, PadLeft: 6, PadRight: 10, PadBottom: 4, PadX: 14, PadY: 10}
	for i, tile := range d.tiles {
		tile.Draw(tiles.At(c, i%columns, i/columns))
	}
}

// head is the title and, in two rows, the legend.
func (d *drift) head(c draw.Canvas) {
	title := "Drift of " + strings.Join(d.past.machines, " and ")
	style := chartText(chartTitle)
	style.XAlign, style.YAlign = draw.XLeft, draw.YTop
	lines := typeface.Regular().Wrap(typeface.Regular().Drawable(title), chartTitle.Points(), (c.Max.X - c.Min.X - 20).Points())
	if len(lines) > 1 {
		lines[0] += " …"
	}
	c.FillText(style, vg.Point{X: c.Min.X + 8, Y: c.Max.Y - 6}, lines[0])
	words := chartText(chartWords)
	words.XAlign, words.YAlign = draw.XLeft, draw.YCenter
	half := (c.Max.X - c.Min.X) / 2
	for i, s := range []series{distanceSeries, limitSeries, rightSeries, upSeries} {
		x, y := c.Min.X+8+half*vg.Length(i%2), c.Max.Y-30-14*vg.Length(i/2)
		const sample = 34
		c.StrokeLine2(s.line, x, y, x+sample, y)
		if s.mark.Shape != nil {
			c.DrawGlyph(s.mark, vg.Point{X: x + sample/2, Y: y})
		}
		c.FillText(words, vg.Point{X: x + sample + 6, Y: y}, s.words)
	}
}
