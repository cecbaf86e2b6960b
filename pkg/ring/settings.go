package ring

// Settings hold every number that decides something in a fit. DefaultSettings has
// the values. They are grouped by the step that they belong to; the fields' names
// are those under which decisions are recorded, "ring.LeastSeen".
//
// Lengths are in mm on the target, in px of the photo, or, where a field says
// "raster px", in px of the cut-out that edges are traced on, which is the photo
// reduced by a whole factor. Shares have no unit.
//
// Where a value comes from, its field or its default says. "Chosen" is a value that
// nobody has measured against others. "In simulated photos" names what was found when
// the limit was set; the seeds of those photos were not kept. What the two kinds of
// photo come to can be measured again, for every limit that is recorded, with
//
//	scripts/margins -seed N -count N
//
// which prints for each decision's name the quantiles of both kinds.
type Settings struct {
	CutSettings
	RefineSettings
	TraceSettings
	LineSettings
	SolveSettings
	KnownSettings
	SeenSettings
	SearchSettings
	BarSettings
	TiltSettings
	StrangeSettings
}

// DefaultSettings are those that burngauge measures with.
func DefaultSettings() Settings {
	return Settings{
		CutSettings:     defaultCut(),
		RefineSettings:  defaultRefine(),
		TraceSettings:   defaultTrace(),
		LineSettings:    defaultLine(),
		SolveSettings:   defaultSolve(),
		KnownSettings:   defaultKnown(),
		SeenSettings:    defaultSeen(),
		SearchSettings:  defaultSearch(),
		BarSettings:     defaultBar(),
		TiltSettings:    defaultTilt(),
		StrangeSettings: defaultStrange(),
	}
}

// CutSettings say which part of a photo is looked at, and at which size.
type CutSettings struct {
	// CutMargin times what the target reaches to, CutMarginMM added, is kept. Smaller,
	// a first idea of the plane that is a little off cuts edges away; larger costs time.
	CutMargin, CutMarginMM float64
	// LeastLinePx is how wide a line stays when the photo is reduced, raster px.
	// Narrower, blur and line are one; wider, noise is larger and all takes longer.
	LeastLinePx float64
	// MostReduction is the largest factor.
	MostReduction int
}

func defaultCut() CutSettings {
	return CutSettings{
		CutMargin: 1.1, CutMarginMM: 1, // chosen: a first idea lies within some per cent of the radius
		LeastLinePx:   6, // chosen: three for each flank
		MostReduction: 4, // chosen: a larger one saves nothing that counts
	}
}

// RefineSettings are those of tracing and fitting in turn.
type RefineSettings struct {
	// Passes is how often edges are traced; all but the last are sparse.
	Passes int
	// The first pass looks within FirstReachGap of the smallest gap between rings, and
	// within FirstReachRadius of the outer ring's radius. Farther, the neighbouring ring
	// is taken for this one; less far, a first idea that is off by more finds no edges.
	FirstReachGap, FirstReachRadius float64
	// Narrowing is the next pass's reach over this one's, and LeastReachGap (of the gap)
	// and LeastReachPx (raster px) are the least. A shorter reach leaves out more of
	// what is beside a line, and loses lines that the model does not bring near enough.
	Narrowing, LeastReachGap, LeastReachPx float64
	// RimReach is the reach for the rim over that for the rings: no other circle is near.
	RimReach float64
	// Rounds of weights (problem.solve) in the last pass, SparseRounds in the others,
	// FinalRounds when what is not seen has been left out. More change nothing that
	// the next step does not.
	Rounds, SparseRounds, FinalRounds int
	// LeastTraces is the number of edges below which there is no target: a plane has 8
	// unknowns, and fewer leave no residuals to judge it by. A target's fit has hundreds.
	LeastTraces float64
	// LeastFirstTraces is the same in each pass, before anything is left out.
	LeastFirstTraces float64
	// MostTiltDeg bounds the angle between the line of sight and the way the target
	// faces; LeastRadiusPx and MostRadiusPx (photo px) bound the outer ring. Beyond, a
	// fit ran away and is given up: what can be measured ends far before
	// (locate.Settings).
	MostTiltDeg, LeastRadiusPx, MostRadiusPx float64
}

func defaultRefine() RefineSettings {
	return RefineSettings{
		Passes:        3,                            // chosen: two to find the way, one to measure
		FirstReachGap: 0.42, FirstReachRadius: 0.11, // chosen: just short of half of a gap, where the next ring is as near
		Narrowing: 0.6, LeastReachGap: 0.1, LeastReachPx: 3, // chosen: a step of two raster px is still found
		RimReach: 1.5,                                // chosen
		Rounds:   3, SparseRounds: 2, FinalRounds: 2, // chosen
		LeastTraces:      20,  // twice the 10 parameters of pose and camera
		LeastFirstTraces: 10,  // half of that: chosen
		MostTiltDeg:      80,  // chosen
		LeastRadiusPx:    5,   // chosen: no line of it could be seen
		MostRadiusPx:     1e5, // chosen: no photo is so large
	}
}

// TraceSettings are those of crossing a curve at many places (walk.go, trace.go).
type TraceSettings struct {
	// SamplesPerPx along a walk, of the raster: twice the pixel rate loses nothing.
	SamplesPerPx float64
	// The derivative's Gaussian has the standard deviation BlurShare of the line's
	// width, at least LeastBlurPx (raster px). Narrower, noise moves the extrema; wider,
	// the two flanks of a line move each other.
	BlurShare, LeastBlurPx float64
	// LeastSigmas: a walk of fewer standard deviations has no room for an extremum.
	LeastSigmas float64
	// MostSamples bounds a walk whose pose has gone astray.
	MostSamples int
	// A circle is crossed about once for each raster px, within LeastWalks and
	// MostWalks; in a sparse pass at one place of SparseEvery.
	LeastWalks, MostWalks, SparseEvery int
	// Neighbouring walks are averaged: SmoothShare of the line's width in raster px, at
	// least LeastSmooth. More quiet the noise and flatten a curve: five walks flatten a
	// ring of 20 px radius r by a twentieth of a pixel, the mean of k²/2r for k = -2..2.
	SmoothShare float64
	LeastSmooth int
	// KeptShare of the averaged walks is the distance from one that is used to the next:
	// closer ones would only repeat the same light.
	KeptShare float64
	// The slope of noise and texture about a ring is read from walks that reach
	// NoiseReachLines of the line's width farther than the look itself, at most
	// NoiseReachRadius of the ring's radius: the NoiseQuantile of every NoiseStride-th
	// sample's derivative. A higher quantile would be the line's.
	NoiseReachLines, NoiseReachRadius, NoiseQuantile float64
	NoiseStride                                      int
	// Of a rim's or a bar side's steps those below LeastStep times the StepQuantile of
	// all are left out: texture where the edge is hidden. Higher, a faint part of the
	// edge is lost.
	LeastStep, StepQuantile float64
	// RimMarginMM is how much farther than its reach a walk over the rim goes, so that
	// the derivative is known at the reach's end.
	RimMarginMM float64
	// Of the bar, as a half length about the middle of a side: BarSideShare of the bar's
	// length is walked along, BarEndShare of its width; corners are rounded by blur and
	// are left out. There are LeastBarWalks to MostBarWalks on a side, BarSmooth of them
	// averaged, BarMarginMM longer than their reach.
	BarSideShare, BarEndShare, BarMarginMM float64
	LeastBarWalks, MostBarWalks, BarSmooth int
}

func defaultTrace() TraceSettings {
	return TraceSettings{
		SamplesPerPx: 2,                      // chosen: light between pixels is read bilinearly, and has no more detail
		BlurShare:    0.35, LeastBlurPx: 0.8, // chosen: a flank's own blur is about as wide
		LeastSigmas: 6,                                  // three on either side, where the kernel ends
		MostSamples: 2000,                               // chosen: ten times a usual walk
		LeastWalks:  90, MostWalks: 720, SparseEvery: 3, // every 4 degrees to every half; chosen
		SmoothShare: 0.4, LeastSmooth: 5, // chosen: enough against a phone's noise
		KeptShare:       0.6,                                                          // chosen: neighbours still share two walks of five
		NoiseReachLines: 4, NoiseReachRadius: 0.8, NoiseQuantile: 0.3, NoiseStride: 3, // chosen: the line is then the lesser part
		LeastStep: 0.2, StepQuantile: 0.7, // chosen: most of an edge must be seen for its strength to be known
		RimMarginMM:  0.3,                                       // chosen: a line's width
		BarSideShare: 0.40, BarEndShare: 0.36, BarMarginMM: 0.2, // chosen: a tenth of the length, a seventh of the width left out at each end
		LeastBarWalks: 6, MostBarWalks: 120, BarSmooth: 3, // chosen: a bar's end is a few px wide
	}
}

// LineSettings say which pair of flanks on a walk is a ring's line (line.go).
type LineSettings struct {
	// WalkMargin of the line's width is how much farther than its reach a walk goes: a
	// line at the reach's end has its outer flank there.
	WalkMargin float64
	// Flanks are LeastWidth of the line's nominal width apart at least. Nearer pairs are
	// texture and scratches.
	LeastWidth float64
	// Flanks are at most MostWidth times as far apart as a blurred line looks. Farther
	// pairs are the flanks of two things.
	MostWidth float64
	// SeenBlurPx, raster px, is the width of blur: a line is seen as wide as the root of
	// the sum of its own and the blur's squares.
	SeenBlurPx float64
	// LeastStrength is the weaker flank's slope over that of noise and texture. Lower,
	// noise counts as a line; higher, faint lines under tape are lost.
	LeastStrength float64
	// NearerCounts is what a line at the end of the reach loses against one in its
	// middle: of two lines the nearer one is meant, if nearly as strong.
	NearerCounts float64
	// MostLopsided is the difference of the light on a line's two sides over the line's
	// own contrast. Half of it moves the flanks' middle by about a twentieth of the
	// line's width; higher, edges of shadow, tape and mark pull the ring.
	MostLopsided float64
	// SparseLopsided times as much is taken while the way is still being found.
	SparseLopsided float64
	// LopsidedAt is where the light on the two sides is read, in widths of the line
	// beyond its flanks.
	LopsidedAt float64
}

func defaultLine() LineSettings {
	return LineSettings{
		WalkMargin: 1.3,                  // chosen: half of the line, and most of the kernel beyond it
		LeastWidth: 0.45, MostWidth: 1.9, // chosen: half as wide to twice as wide, nearly
		SeenBlurPx:     2.2, // chosen: a phone's blur, and the derivative's own
		LeastStrength:  1.5, // chosen
		NearerCounts:   0.4, // chosen
		MostLopsided:   0.5, // chosen, see the field
		SparseLopsided: 3,   // chosen
		LopsidedAt:     0.5, // chosen: where blur has faded
	}
}

// SolveSettings are those of the least squares (problem.go, weights.go). They decide
// how fast it settles and hardly where.
type SolveSettings struct {
	// Steps is how many are tried at the same weights: they change again before the
	// last digits matter.
	Steps int
	// FirstDamping is where Levenberg's λ begins; it grows by DampingUp when a step
	// does not improve and falls by DampingDown when it does, down to LeastDamping.
	// Beyond MostDamping no step improves: settled as far as numbers allow.
	FirstDamping, DampingUp, DampingDown, LeastDamping, MostDamping float64
	// Settled is the relative fall of the sum of squares below which it is settled.
	Settled float64
	// Ridge on the diagonal of the normal equations keeps parameters that nothing
	// measures in place: it is what a standard uncertainty of 1000, in each parameter's
	// unit, would add.
	Ridge float64
	// LeastSpreadPx: edges are placed no better whatever their scatter says
	// (interpolation and 8-bit steps). Lower, a curve with a few edges that happen to
	// agree outweighs the others.
	LeastSpreadPx float64
	// DerivativeStep is the parameters' step of numerical derivatives, DerivativeStepPx
	// that of the principal point's. Each moves edges by hundredths of a pixel: by far
	// more than rounding does, by far less than what is curved.
	DerivativeStep, DerivativeStepPx float64
	// MostCorrelation bounds the autocorrelation along a curve: at 0.95 forty edges
	// count as one, beyond, a curve would count as nothing.
	MostCorrelation float64
}

func defaultSolve() SolveSettings {
	return SolveSettings{
		Steps:        4,                                                                          // chosen
		FirstDamping: 1e-6, DampingUp: 30, DampingDown: 10, LeastDamping: 1e-9, MostDamping: 1e6, // chosen, as is usual
		Settled:        1e-6,                        // chosen: of a thousand edges, a thousandth of one standard deviation's square
		Ridge:          1e-6,                        // chosen: no parameter comes near a thousand of its unit
		LeastSpreadPx:  0.02,                        // chosen
		DerivativeStep: 1e-5, DerivativeStepPx: 0.1, // the cube root of a double's rounding is 6e-6
		MostCorrelation: 0.95, // chosen
	}
}

// KnownSettings are what is known before the target is looked at, as standard
// uncertainties, beside the camera (pkg/lens) and the print (target.Spec).
type KnownSettings struct {
	// StepBiasPx is how far tone curve and sharpening in a phone may move a step, photo
	// px: it widens what is known of the rim's radius and the bar's size. Smaller, a
	// sharpened photo's rim pulls the scale; larger, the rim says nothing of it.
	StepBiasPx float64
	// LeastPrintUMM is the least standard uncertainty taken for a printed diameter: a
	// spec may say 0, which no equation can be weighted by.
	LeastPrintUMM float64
	// RollDeg is how well a photo's top is the target's top when someone says it is.
	RollDeg float64
}

func defaultKnown() KnownSettings {
	return KnownSettings{
		StepBiasPx:    0.4,  // seen in simulated photos with sharpening
		LeastPrintUMM: 1e-4, // chosen: no print is as good
		RollDeg:       2,    // by eye; common practice, no source
	}
}

// SeenSettings say what counts as seen (evidence.go).
type SeenSettings struct {
	// An edge lies where the fit has it within SeenPx (raster px), or SeenLine of the
	// line's width where that is more. Wider, what lies there by chance is as much as
	// what is seen.
	SeenPx, SeenLine float64
	// MostChance bounds the chance that is taken off the share, which a short reach
	// would bring to 1.
	MostChance float64
	// LeastSeen is the fraction of a curve that must be seen beyond chance for the fit
	// to rest on it. Lower, texture counts as a ring; higher, rings under a mark or tape
	// are lost.
	LeastSeen float64
}

func defaultSeen() SeenSettings {
	return SeenSettings{
		SeenPx: 1.2, SeenLine: 0.15, // chosen: a few times the scatter of sharp edges
		MostChance: 0.8, // chosen
		LeastSeen:  0.15,
	}
}
