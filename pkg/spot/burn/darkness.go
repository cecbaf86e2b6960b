package burn

import (
	"math"
	"slices"

	"burngauge.dev/burngauge/pkg/decision"
	"burngauge.dev/burngauge/pkg/spot/cells"
	"burngauge.dev/burngauge/pkg/spot/flat"
	"burngauge.dev/burngauge/pkg/stat"
)

// darkness is the mark on a fine field: 0 on tape, 1 where charred.
type darkness struct {
	*flat.Field
	set     *Settings
	print   flat.Print
	log     *decision.Log // with the blob as its subject
	value   []float64
	trust   []float64 // 0..1: how far the light on a printed line gives the darkness there
	charred cells.Set // darker than CoreAbove
	core    cells.Set // the same, holes filled: ash and hole belong to the mark
	support cells.Set // the core with its soft edge
	scatter float64   // of the darkness on the tape round the mark
	hidden  []hiddenCell
	dark    float64   // light below which a cell is as dark as the mark
	away    []float64 // cells from the core, once asked for
}

// hiddenCell is a cell on a line as dark as the mark. Its darkness is not seen;
// it lies between that of the line's two sides.
type hiddenCell struct {
	k         int
	low, high float64
}

// darkness flattens the surroundings of blob i and turns light into darkness:
//
//	D = (B - L) / (B - C),
//
// L the light that is seen, B that which tape and print would have without the
// mark, C that of char. nil when there is nothing to normalise by.
func (v *view) darkness(coarse *flat.Field, b blob, i int) *darkness {
	set := v.set
	half := math.Sqrt(b.area/math.Pi)*set.SurroundRadii + set.HaloMM + set.MarginMM
	step := max(set.StepPX*float64(v.fit.Raster().Factor)/v.fit.PxPerMM(), 2*half/float64(set.FineCells))
	log := v.about(b, i)
	d := &darkness{
		Field: flat.Flatten(v.fit, flat.Square{Right: b.x, Up: b.y, Half: half, Step: step}, v.flat),
		set:   set, print: v.print.Recording(log), log: log,
	}
	inside := d.Resampled(coarse, cells.Of(coarse.N, b.cells))
	unknown := inside.Grown(set.HaloMM / step)
	tape := cells.Fill(d.print.Bridged(d.Field), unknown)
	printed, unlearnt := d.print.Dimmed(d.Field, tape, unknown)
	if !d.normalise(tape, printed, inside) {
		return nil
	}
	for k, in := range unlearnt.In {
		if in {
			d.trust[k] = 0
		}
	}
	d.mendLines()
	d.findCore(inside)
	if d.log.Below("burn.LeastCoreCells", float64(d.core.Count()), float64(set.LeastCoreCells), "blob left out: too small for its form") {
		return nil
	}
	cells.FillBasins(d.value, d.core)
	d.findSupport()
	return d
}

// fromCore is each cell's distance from the core, in cells. The core must be
// found before.
func (d *darkness) fromCore() []float64 {
	if d.away == nil {
		d.away = d.core.Distance()
	}
	return d.away
}

// normalise sets darkness and trust from what the light would be without the
// mark: that of plain tape, and the same with the printed lines on it. False
// when the blob is no darker than tape.
func (d *darkness) normalise(plain, printed []float64, inside cells.Set) bool {
	var light, tape []float64
	for k, in := range inside.In {
		if in && !math.IsNaN(d.Light[k]) {
			light = append(light, d.Light[k])
			tape = append(tape, printed[k])
		}
	}
	if len(light) == 0 {
		return false
	}
	char := stat.Quantile(light, d.set.CharQuantile)
	step := stat.Median(tape) - char
	if !d.log.Above("burn.LeastStep", step/char, d.set.LeastStep, "char is distinguished from tape") {
		return false
	}
	d.dark = char + d.set.AsDark*step
	through := d.showsThrough(plain, printed, inside)
	least := d.set.LeastDivisor * step
	d.value, d.trust = make([]float64, len(d.Light)), make([]float64, len(d.Light))
	for k, l := range d.Light {
		d.trust[k] = ramp((printed[k]-char)/max(plain[k]-char, least), d.set.TrustFrom, d.set.TrustTo)
		// Char on a light line is as much lighter as the line shows through it.
		full := char * (1 + through*max(0, printed[k]/plain[k]-1))
		v := (printed[k] - l) / max(printed[k]-full, least)
		if !math.IsNaN(v) {
			d.value[k] = max(-1, min(1, v))
		}
	}
	return true
}

// showsThrough is how much of a light line is seen through the mark: 0 under
// char, 1 where a pale scorch dims line and tape alike. 0 where no line crosses.
// With G the line's light over the tape's, and R the mark's light on the line
// over that beside it, it is the median of (R - 1) / (G - 1).
func (d *darkness) showsThrough(plain, printed []float64, inside cells.Set) float64 {
	var besideLines []float64
	for k, in := range inside.In {
		if in && printed[k] == plain[k] && !math.IsNaN(d.Light[k]) {
			besideLines = append(besideLines, d.Light[k])
		}
	}
	mark := stat.Median(besideLines)
	lighter := d.log.Tally("burn.LighterLine", decision.Above, d.set.LighterLine, "the cell lies on a light line")
	defer lighter.Record()
	var seen []float64
	for k, in := range inside.In {
		if !in || math.IsNaN(d.Light[k]) {
			continue
		}
		if gain := printed[k] / plain[k]; lighter.Above(gain, d.set.LighterLine) {
			seen = append(seen, (d.Light[k]/mark-1)/(gain-1))
		}
	}
	fewest := float64(min(len(besideLines), len(seen)))
	if d.log.Below("burn.EnoughCells", fewest, float64(d.set.EnoughCells), "no light line is taken to cross the mark") {
		return 0
	}
	return max(0, min(1, stat.Median(seen)))
}

// ramp rises from 0 at a to 1 at b.
func ramp(v, a, b float64) float64 { return max(0, min(1, (v-a)/(b-a))) }

// mendLines bridges the darkness over lines that are themselves so dark that a
// burn hardly shows on them: from the two sides of the line, as far as the
// line's own light cannot be trusted.
func (d *darkness) mendLines() {
	before := slices.Clone(d.value)
	rows := make([][]hiddenCell, d.N)
	cells.InRows(d.N, func(j int) {
		for i := range d.N {
			k := j*d.N + i
			if !(d.trust[k] < 1) {
				continue
			}
			x, y := d.Place(i, j)
			if s, ok := d.print.SpanAt(d.Field, before, x, y); ok {
				mixed := func(v float64) float64 { return d.trust[k]*before[k] + (1-d.trust[k])*v }
				d.value[k] = mixed(s.Value)
				rows[j] = append(rows[j], hiddenCell{k, mixed(s.Low), mixed(s.High)})
			}
		}
	})
	d.hidden = slices.Concat(rows...)
}
