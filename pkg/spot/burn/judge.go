package burn

import (
	"math"

	"burngauge.dev/burngauge/pkg/spot/cells"
)

// judge decides whether what is dark is a mark.
type judge struct {
	d       *darkness
	compact float64 // area of the largest circle in the core over the core's: 1 for a disc
	charMM  float64 // radius of the largest circle of char, mm
	words   verdictWords
}

// verdictWords are what follows for the log, which differs between the first mark
// and a second one.
type verdictWords struct{ mark, open string }

var (
	firstWords = verdictWords{"the blob is a mark", "refused: no-mark"}
	rivalWords = verdictWords{"refused: two-marks, unless it is open", "no second mark: it is open"}
)

func newJudge(d *darkness, words verdictWords) judge {
	r := d.core.Inscribed() * d.Step
	return judge{
		d:       d,
		compact: math.Pi * r * r / (float64(d.core.Count()) * d.Step * d.Step),
		charMM:  d.charred.Inscribed() * d.Step,
		words:   words,
	}
}

// isMark distinguishes a mark from writing: a mark is charred where it is
// widest, or a disc whose middle is ash or burnt through; writing is strokes,
// which may close a loop.
func (j judge) isMark() bool { return j.isDisc() || j.isCharred() }

// isRival says so of a second mark, which must be compact beside.
func (j judge) isRival() bool {
	return j.isDisc() ||
		j.d.log.Above("burn.RivalCompact", j.compact, j.d.set.RivalCompact, "compact as a second mark") && j.isCharred()
}

// isDisc says whether the mark is a disc with a rim of char.
func (j judge) isDisc() bool {
	log, set := j.d.log, j.d.set
	return log.Above("burn.DiscCompact", j.compact, set.DiscCompact, "as compact as a disc") &&
		log.Above("burn.LeastCharRimMM", j.charMM, set.LeastCharRimMM, j.words.mark)
}

// isCharred says whether the mark is charred where it is widest.
func (j judge) isCharred() bool {
	return j.d.log.Above("burn.LeastCharredMM", j.charMM, j.d.set.LeastCharredMM, j.words.mark)
}

// isOpen says whether the mark is not dark against all that lies round it. A
// piece of a dark plate that a tape's edge and a light line cut out is no mark,
// and of a burn that reaches over the tape's edge onto such a plate the half is
// not seen. A light line may hide the plate that lies beyond it: it is looked for
// past the line too.
func (j judge) isOpen() bool {
	d, lines := j.d, j.onLines()
	if d.log.Above("burn.MostOpenNear", j.openShare(d.fromCore(), lines, d.set.Near), d.set.MostOpenNear, j.words.open) ||
		d.log.Above("burn.MostOpenBeyond", j.openShare(d.fromCore(), lines, d.set.Beyond), d.set.MostOpenBeyond, j.words.open) {
		return true
	}
	past := j.withLines(lines).Distance()
	return d.log.Above("burn.MostOpenNear", j.openShare(past, lines, d.set.Near), d.set.MostOpenNear, j.words.open+" past the printed lines")
}

// onLines are the cells on printed lines.
func (j judge) onLines() cells.Set {
	lines := cells.New(j.d.N)
	for k := range lines.In {
		x, y := j.d.Centre(k)
		_, _, lines.In[k] = j.d.print.LineAt(x, y)
	}
	return lines
}

// withLines is the core with the lines across their width where it borders them.
func (j judge) withLines(lines cells.Set) cells.Set {
	across := j.d.set.LineReach * j.d.print.RingHalfMM()
	out := cells.New(j.d.N)
	for k, r := range j.d.fromCore() {
		out.In[k] = j.d.core.In[k] || lines.In[k] && r*j.d.Step < across
	}
	return out
}

// openShare is the part of the mark's surroundings, as far from it (in cells) as
// an annulus says and not on a line, that is as dark as the mark.
func (j judge) openShare(away []float64, lines cells.Set, within Annulus) float64 {
	open, n := 0, 0
	for k, r := range away {
		if !within.holds(r*j.d.Step) || lines.In[k] || math.IsNaN(j.d.Light[k]) {
			continue
		}
		n++
		if j.d.Light[k] < j.d.dark {
			open++
		}
	}
	return float64(open) / float64(max(n, 1))
}
