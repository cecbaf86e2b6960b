package history

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strings"
	"time"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"

	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/report/phrase"
)

// Sizes of the chart: one tile for each station.
const (
	columns  = 2
	tileWide = 105 * vg.Millimeter
	tileTall = 62 * vg.Millimeter
	headTall = 20 * vg.Millimeter // for the title and the legend
	chartDPI = 150                // of the PNG: the lines' thinnest is two px
)

// Blanks of a tile, so that no mark lies on its frame.
const (
	room      = 1.05 // of the largest length, above and below
	endsShare = 0.06 // of the time between first and last report, at both ends; an hour at least
)

// WriteSVG draws how each station's burn moved over the reports: its
// distance from the centre with the uncertainty, its two coordinates, and the
// limit. Series differ in mark and dash, so that colour is not needed. An
// *InputError says why there is nothing to draw.
func WriteSVG(w io.Writer, reports []*report.Report, units report.Units) error {
	chart, err := newDrift(reports, units)
	if err != nil {
		return err
	}
	canvas := vgsvg.New(chart.size())
	chart.draw(draw.New(canvas))
	var b bytes.Buffer
	if _, err := canvas.WriteTo(&b); err != nil {
		return fmt.Errorf("making the drift chart: %w", err)
	}
	// Where the Go fonts are not installed, another one without serifs.
	text := strings.ReplaceAll(b.String(), "font-family:Go;", "font-family:Go, Helvetica, Arial, sans-serif;")
	if _, err := io.WriteString(w, text); err != nil {
		return fmt.Errorf("writing the drift chart: %w", err)
	}
	return nil
}

// WritePNG draws the same as a picture of pixels.
func WritePNG(w io.Writer, reports []*report.Report, units report.Units) error {
	chart, err := newDrift(reports, units)
	if err != nil {
		return err
	}
	wide, tall := chart.size()
	canvas := vgimg.NewWith(vgimg.UseWH(wide, tall), vgimg.UseDPI(chartDPI))
	chart.draw(draw.New(canvas))
	if _, err := (vgimg.PngCanvas{Canvas: canvas}).WriteTo(w); err != nil {
		return fmt.Errorf("writing the drift chart: %w", err)
	}
	return nil
}

// drift is the chart: tiles of one scale.
type drift struct {
	past  *past
	units report.Units
	tiles []*plot.Plot
	reach float64 // of the y axis, both ways, in units
}

// newDrift makes a tile for each station that was measured at least once.
func newDrift(reports []*report.Report, units report.Units) (*drift, error) {
	p, err := newPast(reports)
	if err != nil {
		return nil, err
	}
	d := &drift{past: p, units: units}
	var all []track
	for _, name := range p.stations {
		if t := d.track(name); len(t.distance) > 0 {
			all = append(all, t)
			d.reach = math.Max(d.reach, t.farthest())
		}
	}
	if all == nil {
		return nil, &InputError{Text: "no station was measured in any of the reports: there is nothing to draw"}
	}
	for _, r := range p.reports {
		d.reach = math.Max(d.reach, units.From(r.LimitMM))
	}
	d.reach *= room
	for _, t := range all {
		tile, err := d.tile(t)
		if err != nil {
			return nil, fmt.Errorf("drawing the drift of %s: %w", t.station, err)
		}
		d.tiles = append(d.tiles, tile)
	}
	return d, nil
}

// track is one station's way through the reports, in units over seconds.
type track struct {
	station             string
	distance, right, up plotter.XYs
	radius              plotter.YErrors
}

// track gathers the station's numbers. What is no finite number is left out.
func (d *drift) track(station string) track {
	t := track{station: station}
	for i, r := range d.past.reports {
		m := d.past.burn(r, station)
		if m == nil || m.Offset == nil || m.Status != report.Measured {
			continue
		}
		at := float64(d.past.times[i].Unix())
		far, right, up, u := d.units.From(m.Offset.DistanceMM), d.units.From(m.Offset.RightMM), d.units.From(m.Offset.UpMM), d.units.From(phrase.Radius(m))
		if sum := far + right + up + u; math.IsNaN(sum) || math.IsInf(sum, 0) {
			continue
		}
		t.distance = append(t.distance, plotter.XY{X: at, Y: far})
		t.right = append(t.right, plotter.XY{X: at, Y: right})
		t.up = append(t.up, plotter.XY{X: at, Y: up})
		t.radius = append(t.radius, struct{ Low, High float64 }{u, u})
	}
	return t
}

// farthest is the largest distance with its uncertainty.
func (t track) farthest() float64 {
	most := 0.0
	for i, at := range t.distance {
		most = math.Max(most, at.Y+t.radius[i].High)
	}
	return most
}

// span is the time axis: all reports, with room at both ends.
func (d *drift) span() (from, to float64) {
	from, to = float64(d.past.times[0].Unix()), float64(d.past.times[len(d.past.times)-1].Unix())
	spare := math.Max(endsShare*(to-from), (time.Hour).Seconds())
	return from - spare, to + spare
}

// size is the whole chart's.
func (d *drift) size() (wide, tall vg.Length) {
	rows := (len(d.tiles) + columns - 1) / columns
	return tileWide * columns, headTall + tileTall*vg.Length(rows)
}
