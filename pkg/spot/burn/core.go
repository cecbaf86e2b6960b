package burn

import (
	"burngauge.dev/burngauge/pkg/decision"
	"burngauge.dev/burngauge/pkg/spot/cells"
	"burngauge.dev/burngauge/pkg/stat"
)

// findCore is the part darker than CoreAbove that lies in the blob, cracks
// closed and holes filled.
func (d *darkness) findCore(inside cells.Set) {
	dark := cells.New(d.N)
	for k, v := range d.value {
		dark.In[k] = v > d.set.CoreAbove
	}
	solid := dark.Closed(d.set.CrackMM / d.Step).Filled().Opened(d.set.StrokeMM / d.Step)
	var best []int
	most := 0
	for _, part := range solid.Parts() {
		n := 0
		for _, k := range part {
			if inside.In[k] {
				n++
			}
		}
		if n > most {
			best, most = part, n
		}
	}
	d.core, d.charred = cells.Of(d.N, best), cells.New(d.N)
	for k, in := range d.core.In {
		d.charred.In[k] = in && dark.In[k]
	}
}

// findSupport grows the core as far as the median darkness round it stays above
// the tape's, and takes what stands out beyond (strokes, tape edges) down to
// that median.
func (d *darkness) findSupport() {
	rings, tape := d.byDistance()
	zero := stat.Median(tape)
	d.scatter = stat.MAD(tape)
	edge, reach := d.softEdge(rings, zero)
	d.support = cells.New(d.N)
	for k, r := range d.fromCore() {
		if d.core.In[k] {
			d.support.In[k] = true
			continue
		}
		if b := int(r); b <= reach {
			d.support.In[k] = true
			d.value[k] = max(0, min(d.value[k]-zero, d.set.StrandMeans*edge[b]+d.set.StrandScatters*d.scatter))
		} else {
			d.value[k] = 0
		}
	}
}

// byDistance is the darkness about the core in rings one cell wide, out to
// HaloMM, and that of the tape beyond, out to TapeToMM.
func (d *darkness) byDistance() (rings [][]float64, tape []float64) {
	last := int(d.set.HaloMM/d.Step) + 1
	rings = make([][]float64, last+1)
	for k, r := range d.fromCore() {
		if d.core.In[k] {
			continue
		}
		if b := int(r); b <= last {
			rings[b] = append(rings[b], d.value[k])
		} else if r*d.Step < d.set.TapeToMM {
			tape = append(tape, d.value[k])
		}
	}
	return rings, tape
}

// softEdge is the median darkness of each ring over the tape's (zero), and the
// first ring in which it has ended; the last one when it has not.
func (d *darkness) softEdge(rings [][]float64, zero float64) (median []float64, reach int) {
	ends := d.log.Tally("burn.EdgeEnds", decision.Below, d.set.EdgeEnds, "the mark's soft edge ends")
	defer ends.Record()
	reach = len(rings) - 1
	median = make([]float64, len(rings))
	for b, v := range rings {
		median[b] = stat.Median(v) - zero
		if b > 0 && reach == len(rings)-1 && ends.Below(median[b], d.set.EdgeEnds) {
			reach = b
		}
	}
	return median, reach
}
