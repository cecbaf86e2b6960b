package pointer

import "burngauge.dev/burngauge/pkg/spot"

// Settings are the numbers that decide what is the pointer's dot, where its
// middle is and how well that is known. Light is linear, 0..1 of the camera's
// scale.
//
// Where a comment counts dots, they are those of simulated photos of
// scripts/fixtures; the seeds of those samples were not kept. Measure again:
// scripts/margins -seed N -count N prints for each decision, under the name
// "pointer." and the field, the quantiles of both kinds of photo. Where nothing
// is said, the value was chosen on such photos without a record of them.
type Settings struct {
	// Finding places.

	// CoarseCells is the width of the field that is searched, cells: 0.13 to
	// 0.25 mm a cell on the built-in targets.
	CoarseCells int
	// MostPlaces that are looked at closely: the reddest, and as many of the
	// brightest. More find reflections; fewer miss a dot beside a white shine.
	MostPlaces int
	// NearMM and FarMM are half the widths of the squares whose mean light is
	// compared, mm: a dot's, and its surroundings'.
	NearMM, FarMM float64
	// SoftLight is added to the surroundings' light before a place is compared
	// with it: on black, a little light is not yet much.
	SoftLight float64
	// LeastBump is the light of a place over that of its surroundings, relative to
	// it. It separates dots from the tape's texture.
	LeastBump float64
	// ApartMM is how far apart the middles of two dots are at least, mm. Nearer
	// than that, or than ApartWidths half widths, they are one found twice.
	ApartMM, ApartWidths float64

	// What is looked at about a dot.

	// FirstReachMM is where the dot's light is taken to end at first, mm; a
	// middle farther than that from where it was looked for is another's.
	FirstReachMM float64
	// ReachWidths is where it is taken to end then, in half widths, and
	// LeastReachMM and MostReachMM bound that, mm. Above: the ground's errors
	// count. Below: a dot's own glow is taken for the ground.
	ReachWidths, LeastReachMM, MostReachMM float64
	// CollarMM of tape is seen beyond, mm.
	CollarMM float64
	// FieldCells is the width of a dot's own field, cells, at most.
	FieldCells int
	// GrainMM is the length over which speckle and texture stay alike, mm: cells
	// smaller than that count for less than one.
	GrainMM float64
	// BurntDark separates tape from a burn or black plastic, which reflect too little
	// of the dot to show it: light over the tape's.
	BurntDark float64
	// TapeQuantile of the light round the dot stands for the tape's: above the
	// median, since lines and burns darken and nothing lightens.
	TapeQuantile float64
	// StrokeMM is half of what a line is wide at most, mm: narrower dark places
	// are no burn.
	StrokeMM float64
	// OverlapMM is kept from a burn, mm: its soft edge.
	OverlapMM float64
	// LeastLight is the light below which ratios say nothing.
	LeastLight float64
	// PlainPaint is by how much a cell's ground may differ from the plain tape's,
	// as a share of it, and still count as plain tape.
	PlainPaint float64
	// MostPaint is a lighter line's ground over the tape's at most, and MostBeyond
	// that of the ground beyond a seam: what is lighter is not known well.
	MostPaint, MostBeyond float64
	// BurntOut is where the camera's scale is taken to end: above it phones' tone
	// curves flatten and JPEG's colours are coarse.
	BurntOut float64

	// The seam between two grounds, mostly a tape's edge.

	// SeamCells is about how many cells are looked at for a seam. More cost time.
	SeamCells int
	// LeastCells of them are needed to look for one.
	LeastCells int
	// LeastSide is the share of them on the lesser side.
	LeastSide float64
	// LeastStep is the step between the two grounds, of the lighter one, in the
	// colour that shows it best. It separates seams from uneven light.
	LeastStep float64
	// StepScatters is that step over the ground's scatter beside the seam.
	StepScatters float64
	// EvenStep is the step at one end of the seam over that at the other. It separates
	// seams from the edges of burns and writing.
	EvenStep float64
	// SteepStep is the step close to the seam over that of the whole sides: a
	// light that falls off has less.
	SteepStep float64
	// MostMisfits is the share of the cells beside the seam that look like the
	// other side: a round burn or a torn end has more.
	MostMisfits float64
	// NearSeamMM is what counts as beside the seam, mm.
	NearSeamMM float64
	// SeamShadowMM to either side belong to neither ground, mm: a tape's edge
	// throws a shadow about as wide as tape is thick.
	SeamShadowMM float64
	// LeastOther is the light of the darker ground over that of the lighter: char
	// has less.
	LeastOther float64

	// The fit of a dot.

	// BinMM is the width of a falloff's bins, mm: a quarter of the narrowest
	// dot's half width.
	BinMM float64
	// LeastBinCells of a bin; one with fewer is left out of the falloff.
	LeastBinCells int
	// GroundU is how well the light without the dot is known, relative to it. It
	// keeps the wide faint glow, where tape's texture is as strong, from
	// outweighing the steep sides; 0.05 to 0.3 do.
	GroundU float64
	// OblongU is the standard deviation of e1 and e2 of dots: they are round within
	// a factor of e. It holds the ellipse where the light does not.
	OblongU float64
	// MostOblong bounds √(e1² + e2²) while the fit steps: axes of 1 to 3.
	MostOblong float64
	// StepMM is how far a step moves the middle at most, mm, and e1 and e2 (in
	// their own unit).
	StepMM float64
	// MostSteps of a fit, and what a step changes at most when it has settled: the
	// middle, mm, and e1 and e2. A fit that has not settled by then is taken as it
	// is; its uncertainty shows it.
	MostSteps                int
	SettledMM, SettledOblong float64
	// UsualLoss is the share of the dot's light that a wholly black place would
	// not return, before any cell says so: tape spreads about 0.4 of it within.
	UsualLoss float64
	// LossScatters is how far a dot's light must stand out, in scatters, for a
	// cell on a line to say how much the line returns.
	LossScatters float64
	// PaintedWeight is the weight of a cell on a line against one beside it: the
	// line's light is modelled.
	PaintedWeight float64
	// Sectors about the middle that must agree on it.
	Sectors int

	// Whether it is a dot.

	// MostLong is √(e1² + e2²) of the ellipse, axes of 1 to 2. What is longer is a
	// tape's edge.
	MostLong float64
	// NarrowestMM and WidestMM are the half width of a dot, mm. Simulated dots of
	// 0.3 mm sigma have 0.5, red being burnt out, and wide ones reach 2.5 with
	// their glow.
	NarrowestMM, WidestMM float64
	// LeastDots is how many of the places must be a dot: with none, nothing is
	// measured.
	LeastDots float64
	// LeastGlow is the red light that it adds in its middle.
	LeastGlow float64
	// LeastRed is that light over the green or blue, where red is not burnt out.
	// It separates dots (1.5 to 13) from white shine and creases (1).
	LeastRed float64
	// RedShare is the share of a dot's height from which on a place counts for
	// that: farther out the ground's errors are as strong.
	RedShare float64
	// LeastOtherShare: green and blue are taken as at least this share of the red,
	// so that a dot without any is no infinite ratio.
	LeastOtherShare float64
	// LeastExplained is the share of the light over the ground that a dot
	// describes, within ExplainedWidths half widths, in the colour that shows it
	// best. It separates dots from paper and writing.
	LeastExplained, ExplainedWidths float64
	// Sharpness is the standard uncertainty of a dot's middle over its half width,
	// at most; measured dots have 0.002 to 0.03.
	Sharpness float64
	// WorstU is that uncertainty at most, mm per axis: a middle that is known worse
	// is not one.
	WorstU float64
	// MostUneven is the change of the tape's light under and about the dot, as a
	// share of the dot's: with more, simulated middles are up to 0.6 mm off.
	MostUneven float64
	// UnevenWidths is how far about the middle that is looked at, in half widths,
	// and UnevenTail the share of the cells on either end that is left out.
	UnevenWidths, UnevenTail float64
	// RivalGlow is another dot's light against the first's, from which there are
	// two. A reflection has less.
	RivalGlow float64
	// Circular separates round from oval: minor over major size.
	Circular float64

	// How well the middle is known.

	// Narrower is the reach of the second look, of the first's: what it makes of
	// the middle shows how much that depends on how one looks.
	Narrower float64
	// Starts round the middle, StartWidths half widths off, from which it is
	// looked for again.
	Starts      int
	StartWidths float64
	// SeamU is by how much the light of the dot's two halves may differ where a
	// seam runs through its middle; three simulated dots on one have 0.07 to 0.27.
	SeamU float64
	// SpeckleU is what is left, mm per axis, between measured and true middles
	// beyond what their own parts show: laser light is grainy, and lines and
	// tape's texture are not known exactly.
	SpeckleU float64
}

// DefaultSettings are those that every dot is measured with.
func DefaultSettings() Settings {
	return Settings{
		CoarseCells: 128, MostPlaces: 4, NearMM: 0.35, FarMM: 2.4, SoftLight: 0.1, LeastBump: 0.02,
		ApartMM: 1.2, ApartWidths: 1,

		FirstReachMM: 2.4, ReachWidths: 3.0, LeastReachMM: 1.2, MostReachMM: 3.4, CollarMM: 1.0,
		FieldCells: 100, GrainMM: 0.2, BurntDark: 0.55, TapeQuantile: 0.7, StrokeMM: 0.28, OverlapMM: 0.3,
		LeastLight: 0.03, PlainPaint: 0.06, MostPaint: 2.0, MostBeyond: 8.0, BurntOut: 0.93,

		SeamCells: 900, LeastCells: 100, LeastSide: 0.04, LeastStep: 0.06, StepScatters: 3.0,
		EvenStep: 0.4, SteepStep: 0.6, MostMisfits: 0.08, NearSeamMM: 0.8, SeamShadowMM: 0.15, LeastOther: 0.15,

		BinMM: 0.1, LeastBinCells: 5, GroundU: 0.1, OblongU: 1.0, MostOblong: 1.1,
		StepMM: 0.15, MostSteps: 40, SettledMM: 2e-4, SettledOblong: 2e-3,
		UsualLoss: 0.6, LossScatters: 4, PaintedWeight: 0.3, Sectors: 12,

		MostLong: 0.7, NarrowestMM: 0.4, WidestMM: 3.0, LeastGlow: 0.04, LeastDots: 1,
		LeastRed: 1.35, RedShare: 0.15, LeastOtherShare: 0.02,
		LeastExplained: 0.7, ExplainedWidths: 2, Sharpness: 0.05, WorstU: 0.15,
		MostUneven: 0.12, UnevenWidths: 1.5, UnevenTail: 0.1, RivalGlow: 0.3, Circular: spot.CircularRatio,

		Narrower: 0.7, Starts: 3, StartWidths: 0.25, SeamU: 0.15, SpeckleU: 0.016,
	}
}
