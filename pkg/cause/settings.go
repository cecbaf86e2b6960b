package cause

// Settings of what distinguishes one cause from another. Each needs more to show
// than the general "no target is found"; none decides whether a photo is measured.
// Shares have no unit. Where a value was measured, the command that measures it
// again stands with it; the others were chosen.
type Settings struct {
	// MostBlurPx is the sigma of the blur of the sharpest steps, px of the small
	// picture. It separates photos in soft focus from those too blurred for lines, of
	// which two had 2.9 and 3.7 (scripts/margins -seed 9501 -count 120, few). Higher:
	// what is blurred is called no target; lower: a soft photo of something else is
	// called blurred.
	MostBlurPx float64
	// How blur is measured (blur.go): in windows of Window px of the small picture,
	// on steps of at least LeastStep code values, at the SharpShare quantile of all,
	// of which there must be FewSteps at least. A step wider than WidestStep px
	// (sigma) is fading light: four sigma, 95 % of a step, fill the window.
	Window, FewSteps                  int
	LeastStep, SharpShare, WidestStep float64

	// LeastEllipseArc is the share of an ellipse that is seen where one ellipse says
	// why there is no target.
	LeastEllipseArc float64
	// A flat ellipse with a major semi-axis over TiltedSize of the photo's short side,
	// of which TiltedArc is seen, and an axis ratio under TiltedFlatness is a target
	// seen from the side.
	TiltedSize, TiltedArc, TiltedFlatness float64
	// SmallLines of a look with a clear index bar is a target too small to be
	// measured, where it is smaller than locate's LeastSize.
	SmallLines float64
	// UnclearLines of a look larger than UnclearSize of the short side are rings that
	// are not clear enough.
	UnclearLines, UnclearSize float64

	// Another built-in target is named when its best look, among OtherFrames, scores
	// OtherScore and shows OtherRings rings: two rings and a clear bar.
	OtherScore  float64
	OtherFrames int
	OtherRings  int

	// Sets of lines about one middle (cutoff.go, cause.go).

	// LeastConcentric lines are another target's; two are a washer's too.
	LeastConcentric int
	// OtherMisfits of them are no rings of the spec.
	OtherMisfits int
	// LargestThing is the diameter over the short side that a target should have at
	// least; what lies about beside it is smaller.
	LargestThing float64
	// OtherFlatness: in rings seen more from the side perspective changes the ratios.
	OtherFlatness float64

	// Shine (shine.go): an ellipse over ShineSize of the short side (major semi-axis)
	// whose inside is burnt out by more than locate's MostGlare; a pixel is burnt out
	// from BurntOut code values on in all colours. It is looked at in ShineAngles
	// directions, at ShineRadii of the way out: a fifth of the inside each.
	ShineSize   float64
	ShineAngles int
	ShineRadii  []float64
	BurntOut    byte
}

// DefaultSettings are those that all programs use.
func DefaultSettings() Settings {
	return Settings{
		MostBlurPx: 2.4, Window: 24, FewSteps: 8, LeastStep: 25, SharpShare: 0.1, WidestStep: 6,
		LeastEllipseArc: 0.35, TiltedSize: 0.1, TiltedArc: 0.6, TiltedFlatness: 0.5,
		SmallLines: 0.15, UnclearLines: 0.3, UnclearSize: 0.1,
		OtherScore: 1.2, OtherFrames: 2, OtherRings: 2,
		LeastConcentric: 3, OtherMisfits: 2, LargestThing: 0.25, OtherFlatness: 0.5,
		ShineSize: 0.06, ShineAngles: 24, ShineRadii: []float64{0.1, 0.3, 0.5, 0.7, 0.85}, BurntOut: 250,
	}
}
