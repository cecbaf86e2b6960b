package burn

import (
	"cmp"
	"math"
	"slices"

	"burngauge.dev/burngauge/pkg/decision"
	"burngauge.dev/burngauge/pkg/spot/cells"
	"burngauge.dev/burngauge/pkg/spot/flat"
	"burngauge.dev/burngauge/pkg/stat"
)

// blob is a part of the target that is darker than all that lies round it.
type blob struct {
	cells    []int   // on the coarse field, in rising order, holes filled
	contrast float64 // 1 - light just inside its edge over light just outside
	area     float64 // mm²
	compact  float64 // the largest circle within it over its area
	x, y     float64 // its middle, mm
}

// blobs lists the dark blobs on the target, the most marked first, and the
// coarse field on which they lie.
func (v *view) blobs() (*flat.Field, []blob) {
	extent := v.fit.Spec.OuterRadius() + v.fit.Spec.Index.ToMM
	field := flat.Flatten(v.fit, flat.Square{Half: extent, Step: 2 * extent / float64(v.set.CoarseCells)}, v.flat)
	light := v.print.Bridged(field)
	for k := range light {
		if x, y := field.Centre(k); math.Hypot(x, y) > extent {
			light[k] = math.NaN()
		}
	}
	s := newSearch(field, light, v.set)
	tests := newBlobTests(v.log, v.set)
	found := make([][]blob, v.set.Levels)
	cells.InRows(v.set.Levels, func(t int) {
		found[t] = s.onItsOwn().below(s.level(t), tests)
	})
	var families []blob
	for _, level := range found {
		families = merge(families, level, tests)
	}
	tests.record()
	slices.SortStableFunc(families, func(a, b blob) int { return cmp.Compare(b.weight(v.set), a.weight(v.set)) })
	return field, families
}

// weight orders blobs: how marked the edge is, how compact the form, and, less,
// how large.
func (b blob) weight(set *Settings) float64 {
	return b.contrast * b.compact * math.Pow(b.area, set.SizeExponent)
}

// search is the coarse field being searched.
type search struct {
	*flat.Field
	set             *Settings
	light           []float64 // bridged, NaN where nothing is looked at
	border          []bool    // cells beside what is not looked at
	lowest, highest float64   // light
	near            [][2]int  // cells within EdgeMM of one
	stamp           []int     // the last blob that visited a cell
	stamped         int
}

func newSearch(field *flat.Field, light []float64, set *Settings) *search {
	s := &search{Field: field, set: set, light: light, lowest: math.Inf(1), stamp: make([]int, len(light))}
	outside := cells.New(field.N)
	for k, v := range light {
		if outside.In[k] = math.IsNaN(v); !outside.In[k] {
			s.lowest, s.highest = min(s.lowest, v), max(s.highest, v)
		}
	}
	s.lowest = max(s.lowest, set.DarkestLight)
	s.border = outside.Grown(set.BorderCells).In
	reach := set.EdgeMM / field.Step
	for dy := -int(reach); dy <= int(reach); dy++ {
		for dx := -int(reach); dx <= int(reach); dx++ {
			if float64(dx*dx+dy*dy) <= reach*reach {
				s.near = append(s.near, [2]int{dx, dy})
			}
		}
	}
	return s
}

// level is threshold t of light, in the middle of its step: lowest (highest /
// lowest)^((t + 1/2) / Levels).
func (s *search) level(t int) float64 {
	return s.lowest * math.Pow(s.highest/s.lowest, (float64(t)+0.5)/float64(s.set.Levels))
}

// onItsOwn is a search that may go on side by side with this one.
func (s *search) onItsOwn() *search {
	own := *s
	own.stamp, own.stamped = make([]int, len(s.stamp)), 0
	return &own
}

// below are the parts darker than a level that stand alone: wider than a pen
// stroke, not reaching the end of what is looked at.
func (s *search) below(level float64, tests *blobTests) []blob {
	dark := cells.New(s.N)
	for k, v := range s.light {
		dark.In[k] = v < level // false for NaN
	}
	dark = dark.Filled().Opened(s.set.StrokeMM / s.Step)
	depth := dark.Complement().Distance()
	var out []blob
	for _, part := range dark.Parts() {
		b := blob{cells: part, area: float64(len(part)) * s.Step * s.Step}
		if !s.standsAlone(b, tests) {
			continue
		}
		r := cells.InscribedIn(depth, part) * s.Step
		b.compact = math.Pi * r * r / b.area
		if tests.inscribed.Below(r, s.set.LeastInscribedMM) || tests.compact.Below(b.compact, s.set.LeastCompact) {
			continue
		}
		s.describe(dark, &b)
		out = append(out, b)
	}
	return out
}

// standsAlone says whether a part has a mark's size and is seen as a whole.
func (s *search) standsAlone(b blob, tests *blobTests) bool {
	atBorder := 0
	for _, k := range b.cells {
		if s.border[k] {
			atBorder++
		}
	}
	return !tests.small.Below(b.area, s.set.SmallestMM2) &&
		!tests.large.Above(b.area, s.set.LargestMM2) &&
		!tests.share.Above(float64(len(b.cells))/float64(s.N*s.N), s.set.LargestShare) &&
		!tests.border.Above(float64(atBorder), float64(s.set.MostBorderCells))
}

// describe measures a part's middle, and the contrast across its edge from what
// lies within EdgeMM on either side.
func (s *search) describe(dark cells.Set, b *blob) {
	s.stamped++
	var inside, beyond []float64
	for _, k := range b.cells {
		x, y := s.Centre(k)
		b.x, b.y = b.x+x/float64(len(b.cells)), b.y+y/float64(len(b.cells))
		if !dark.Edge(k) {
			continue
		}
		for _, c := range s.unvisitedNear(k) {
			if dark.In[c] {
				inside = append(inside, s.light[c])
			} else {
				beyond = append(beyond, s.light[c])
			}
		}
	}
	b.contrast = 1 - stat.Median(inside)/stat.Quantile(beyond, s.set.TapeQuantile)
}

// unvisitedNear are the cells near one that are seen and that the present blob
// has not visited.
func (s *search) unvisitedNear(k int) []int {
	var out []int
	for _, d := range s.near {
		i, j := k%s.N+d[0], k/s.N+d[1]
		if i < 0 || j < 0 || i >= s.N || j >= s.N {
			continue
		}
		c := j*s.N + i
		if s.stamp[c] == s.stamped || math.IsNaN(s.light[c]) {
			continue
		}
		s.stamp[c] = s.stamped
		out = append(out, c)
	}
	return out
}

// merge joins the blobs of one more level to the families found so far: of a
// nest of blobs the one whose edge is most marked stands for all. Two marks
// that only a paler level joins stay two.
func merge(families, level []blob, tests *blobTests) []blob {
	for _, b := range level {
		if tests.contrast.Below(b.contrast, tests.set.LeastContrast) || math.IsNaN(b.contrast) {
			continue
		}
		holds := func(a blob) bool { return tests.nest.Above(b.share(a), tests.set.NestShare) }
		strongest := 0.0
		for _, a := range families {
			if holds(a) {
				strongest = max(strongest, a.contrast)
			}
		}
		if strongest >= b.contrast {
			continue
		}
		families = slices.DeleteFunc(families, func(a blob) bool { return b.share(a) > tests.set.NestShare })
		families = append(families, b)
	}
	return families
}

// share is the part of another blob that lies in this one.
func (b blob) share(other blob) float64 {
	both := 0
	for _, k := range other.cells {
		if _, found := slices.BinarySearch(b.cells, k); found {
			both++
		}
	}
	return float64(both) / float64(len(other.cells))
}

// blobTests are the comparisons that all levels make: levels are searched side
// by side, and are recorded together.
type blobTests struct {
	set                                *Settings
	small, large, share, border        *decision.Tally
	inscribed, compact, contrast, nest *decision.Tally
}

func newBlobTests(log *decision.Log, set *Settings) *blobTests {
	const leftOut = "blob left out: "
	return &blobTests{
		set:       set,
		small:     log.Tally("burn.SmallestMM2", decision.Below, set.SmallestMM2, leftOut+"too small"),
		large:     log.Tally("burn.LargestMM2", decision.Above, set.LargestMM2, leftOut+"too large"),
		share:     log.Tally("burn.LargestShare", decision.Above, set.LargestShare, leftOut+"too large for the target"),
		border:    log.Tally("burn.MostBorderCells", decision.Above, float64(set.MostBorderCells), leftOut+"not seen as a whole"),
		inscribed: log.Tally("burn.LeastInscribedMM", decision.Below, set.LeastInscribedMM, leftOut+"too narrow"),
		compact:   log.Tally("burn.LeastCompact", decision.Below, set.LeastCompact, leftOut+"not compact"),
		contrast:  log.Tally("burn.LeastContrast", decision.Below, set.LeastContrast, leftOut+"too pale"),
		nest:      log.Tally("burn.NestShare", decision.Above, set.NestShare, "two blobs are one: that of more contrast stands for both"),
	}
}

func (t *blobTests) record() {
	for _, tally := range []*decision.Tally{t.small, t.large, t.share, t.border, t.inscribed, t.compact, t.contrast, t.nest} {
		tally.Record()
	}
}
