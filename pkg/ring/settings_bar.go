package ring

// SearchSettings are those of the look all round for the index bar (bar_search.go).
// Widths and lengths are shares of the bar's own.
type SearchSettings struct {
	// LeastIndex is the contrast, a share of the light beside it, from which on a bar
	// may be there. Lower, texture counts as a bar; higher, bars under tape are lost:
	// lines under tape are specified from 15 %.
	LeastIndex float64
	// LeastIndexLead is the contrast over the best elsewhere from which on there is only
	// one bar. Lower, a shadow or a second bar is taken for the index; higher, a bar is
	// not believed beside a pen stroke. A lead of 1000 stands for nothing elsewhere.
	LeastIndexLead float64
	// RivalApart is how far, in widths of the bar at its outer end, another direction
	// lies at least to be elsewhere.
	RivalApart float64
	// The peak of the contrasts is followed to half its height, by one PeakPart-th of a
	// turn to either side at most.
	PeakPart int
	// The bar is cut in BarBands along its length, BarMargin left out at each end.
	BarBands  int
	BarMargin float64
	// The light beside a band is read from BesideFrom to BesideTo of the width from the
	// bar's middle, that on it in three strips, StripApart from each other and
	// StripHalf to either side: a pen stroke is narrower than the bar.
	BesideFrom, BesideTo, StripApart, StripHalf float64
	// At the inner end the bar is read from CoreFrom to CoreTo of its length, CoreHalf
	// of its width to either side, and the gap from GapTo to GapFrom before it.
	CoreHalf, CoreFrom, CoreTo, GapTo, GapFrom float64
	// WeakQuantile of all contrasts is that of the direction: the weakest but one of
	// six, since tape may cross the bar within a band.
	WeakQuantile float64
	// LeastLight, of 1, is added to the light that a contrast is divided by: in black a
	// contrast is noise.
	LeastLight float64
}

func defaultSearch() SearchSettings {
	return SearchSettings{
		LeastIndex:     0.05,               // chosen: a third of what lines under tape are specified with
		LeastIndexLead: 1.35,               // chosen
		RivalApart:     1.2,                // chosen: two bars side by side touch at 1
		PeakPart:       8,                  // chosen: no bar is as wide as an eighth of a turn
		BarBands:       5, BarMargin: 0.06, // chosen: ends are rounded by blur
		BesideFrom: 0.66, BesideTo: 1.1, StripApart: 0.27, StripHalf: 0.12, // chosen: clear of the bar's sides by blur's width
		CoreHalf: 0.3, CoreFrom: 0.1, CoreTo: 0.4, GapTo: 0.08, GapFrom: 0.24, // chosen, as above
		WeakQuantile: 0.25,
		LeastLight:   1e-3, // chosen: a quarter of an 8-bit step in mid tones
	}
}

// BarSettings are those of fitting the index bar's sides (bar_fit.go).
type BarSettings struct {
	// The bar's sides are traced within these shares of its width, one after the other.
	// About one circle the bar may still lie well off, since it is what fixes the
	// perspective: OneCircleReaches begin with half of the width.
	BarReaches, OneCircleReaches []float64
	// BarRounds of weights after each.
	BarRounds int
	// MostMisfit is that of a fit that rests on one circle and the bar. Right ones have
	// 0.3 to 1.5 in simulated photos, those that took the bar for something else 3 and
	// more.
	MostMisfit float64
	// BarStays: with the fit made, the bar must still stand out where it should be by
	// this part of what it did when it was found; its sides may have been taken for
	// others on the way. Again for one circle alone.
	BarStays float64
	// In a misfit, a bar side's edges count in units of SideScatterPx (raster px),
	// no edge counts more than MostMisfitTerm, and departures from what is known count
	// StrainInMisfit of their squares.
	SideScatterPx, MostMisfitTerm, StrainInMisfit float64
	// A side fits when its edges scatter by less than MostSideSpreadMM beyond
	// SideSpreadPx (photo px). More, and what was traced is no straight side.
	MostSideSpreadMM, SideSpreadPx float64
	// LeastBarSides of four must fit: tape or a finger hides one.
	LeastBarSides int
	// MostBarStrain is how far the bar's five departures may strain what is known of the
	// print (sum of squares in standard uncertainties): beyond, it is another target's
	// bar, or no bar. One right bar of a thousand is beyond.
	MostBarStrain float64
	// MostRimBarStrain is the same about a bare rim, where the bar is all that shows the
	// tilt: one right bar of twenty is beyond.
	MostRimBarStrain float64
}

func defaultBar() BarSettings {
	return BarSettings{
		BarReaches:       []float64{0.3, 0.2},                      // chosen
		OneCircleReaches: []float64{0.55, 0.5, 0.4, 0.3, 0.2, 0.2}, // chosen
		BarRounds:        2,
		MostMisfit:       3,
		BarStays:         0.6,                                          // chosen
		SideScatterPx:    0.5, MostMisfitTerm: 9, StrainInMisfit: 0.05, // chosen: 9 is three standard deviations
		MostSideSpreadMM: 0.08, SideSpreadPx: 1, // chosen: about a printer's dot, and blur
		LeastBarSides:    3,
		MostBarStrain:    20.5, // the 0.999 quantile of chi-squared with 5 degrees of freedom, 20.515
		MostRimBarStrain: 11.1, // its 0.95 quantile, 11.070
	}
}

// TiltSettings are those of choosing between a tilt and its mirror image (tilt.go),
// and of freeing the camera (camera.go).
type TiltSettings struct {
	// EnoughTraces, of some thousand, are enough to distinguish two tilts: 20 for each
	// parameter of a target with four rings.
	EnoughTraces int
	// TiltRounds of weights bring a restart to its optimum, FreeRounds the freed fit.
	TiltRounds, FreeRounds int
	// MostCameraStrain is the sum of squares, in standard uncertainties, of a camera's
	// four departures from what is known, above which the camera itself is in doubt and
	// the known ones are tried. By chance alone it would be 4 in the mean, but edges
	// hold a camera loosely, and what holds it is what is known: of 95 fits on
	// the target the median has 0.4, 95 in 100 at most 2.2 and the largest 168
	// (scripts/margins -seed 9501 -count 120). Fits that settled on a tilt's mirror
	// image lie far above as a rule; those below need no other camera, but the other
	// pose, which is tried anyway. Lower costs time alone.
	MostCameraStrain float64
	// LeastTurnDeg: a pose that turns less than this from the present one is the present
	// one, read back from its own ellipse. In right fits of simulated photos that one
	// lies within 1.6 degrees, the mirror image 2.4 to 84 degrees off.
	LeastTurnDeg float64
	// ClearlyLess is the misfit, over that of the fit, below which a restart is taken.
	// Of 99 restarts on the target the median has 4.9 times the misfit of the fit that
	// was there, 5 in 100 less than 0.95, and the least 0.11: a fit that had settled on
	// the mirror image (scripts/margins -seed 9501 -count 120). Ways back to the same
	// tilt differ little from 1: the bound keeps most of them from being solved once
	// more, and those that pass it do no harm.
	ClearlyLess float64
	// HeldStrain is the sum of squares of all departures from what is known, above
	// which edges may have been passed over for lying where the known camera does not
	// put them, and are traced again. Of 95 whole photos the median
	// has 0.8, 95 in 100 at most 3.4 and the largest 8.9
	// (scripts/margins -seed 9501 -count 120); photos cut to a camera's format have
	// more than 7 where the cut matters (pkg/photo's cut_test.go makes such). Lower
	// costs time alone.
	HeldStrain float64
}

func defaultTilt() TiltSettings {
	return TiltSettings{
		EnoughTraces: 300,
		TiltRounds:   3, FreeRounds: 3,
		MostCameraStrain: 2,
		LeastTurnDeg:     2,
		ClearlyLess:      0.98,
		HeldStrain:       7,
	}
}

// StrangeSettings are those of looking for what a right target does not show: a line
// between the rings that the spec does not have (Fit.UnknownLine), and burnt-out
// light (Fit.Shine). Lengths are in widths of the line as it is seen.
type StrangeSettings struct {
	// Radii run from StrangeFrom of the innermost ring's outward by StrangeStep, and
	// keep StrangeAway and StrangeAwayPx (raster px) from the spec's rings: nearer, a
	// blurred ring is seen once more.
	StrangeFrom, StrangeStep, StrangeAway, StrangeAwayPx float64
	// The line's own light is read within StrangeCore of its middle, that beside it
	// from a width to StrangeBeside.
	StrangeCore, StrangeBeside float64
	// StrangeContrast of the light beside it is what a line differs by at least.
	StrangeContrast float64
	// StrangeShare is the net share of a circle on which a line of the rings' kind must
	// be seen to be one. The mark, the cross and the tape never reach it; a ring that
	// the spec does not have shows all round, less what they hide.
	StrangeShare float64
	// Saturated is the linear light, of 1, of a pixel that shows nothing any more.
	Saturated float64
}

func defaultStrange() StrangeSettings {
	return StrangeSettings{
		StrangeFrom: 0.35, StrangeStep: 0.4, StrangeAway: 1.6, StrangeAwayPx: 2, // chosen: within lies the mark
		StrangeCore: 0.2, StrangeBeside: 1.2, // chosen
		StrangeContrast: 0.04, // chosen: a little under LeastIndex
		StrangeShare:    0.55, // chosen: more than half
		Saturated:       0.97, // code values 252 and more of 255 (IEC 61966-2-1: 251 is 0.965, 252 is 0.973)
	}
}
