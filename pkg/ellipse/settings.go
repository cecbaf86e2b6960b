package ellipse

// Settings of the search for ellipses and for lines made of them. Lengths are in
// px of the picture at the scale that is searched unless another unit is named;
// shares have no unit. Each field says what it separates and what happens above and
// below. Where a value was measured, the command that measures it again
// stands with it; the others were chosen.
type Settings struct {
	// Edges (edges.go).

	// LeastGradient, code values per px: a weaker step is below what 8 bits hold.
	// Higher: faint lines are lost; lower: the quantisation's own steps are edges.
	LeastGradient float32
	// HighTimes the picture's median gradient is where a chain may start, so that
	// neither dim light nor a rough table decides, within the two bounds that
	// follow. Higher: faint rings start no chain; lower: texture does.
	HighTimes float32
	// LeastHigh and MostHigh bound that, code values per px. A line of 15 %
	// contrast, as narrow as a pixel, rises about 3 code values per px in a well lit
	// photo.
	LeastHigh, MostHigh float32
	// LowShare of the high threshold is where a chain still goes on (the second
	// threshold of J. Canny, PAMI 8 (1986) 679, who gives a ratio of 2 to 3).
	LowShare float32

	// Chains (chains.go).

	// LeastAlike is the cosine between the gradients of neighbouring pixels of a
	// chain, 37 degrees. The end of the smallest and flattest ellipse that is looked
	// for turns by a third of that at the finest scale: with a minor semi-axis of
	// 16 px (LeastRadius of the small picture's short side) its radius there is
	// 5 px. Edges that meet at 60 degrees or less are separated; blunter corners, round
	// which the smoothed edge turns gently, are left to CornerRad.
	LeastAlike float32
	// LeastForward is the cosine between the edge's direction and the step to the
	// next pixel, 66 degrees. The grid's eight steps lie up to 22.5 degrees beside
	// any direction, and where the edge passes from one row to the next, 45 more.
	// Without a bound the walk steps aside, and chains break at blunt corners.
	LeastForward float32
	// ShortestChain: fewer px do not distinguish an ellipse from a line.
	ShortestChain int
	// BendReach is how far before and behind a place its bend is measured. Longer:
	// small rings have corners; shorter: the grid's steps are bends.
	BendReach int
	// CornerRad, radians: a sharper bend is a corner, where the chain is cut. A ring
	// of 8 px radius bends by 0.87 over BendReach.
	CornerRad float64
	// StraightRad, radians: a gentler bend is too straight to say to which side.
	StraightRad float64

	// Ellipses (ellipses.go).

	// Tolerances are how far from the ellipse its edge points are gathered, in turn:
	// wide enough for the first fit to a part, then no wider than edges scatter.
	Tolerances []float64
	// AlongStep between the places on the ellipse at which an edge is looked for, and
	// how many places at least and at most. Closer ones find the same edge pixel.
	AlongStep             float64
	LeastAlong, MostAlong int
	// AcrossStep is the step of the walk across the ellipse that looks for them.
	AcrossStep float64
	// LeastSquare is the cosine between an edge's gradient and the ellipse's normal,
	// 26 degrees: an edge that only crosses the ellipse is not on it.
	LeastSquare float64
	// Flattest axis ratio, 74 degrees of tilt: what is too tilted must be found to be
	// refused by name. Lower: straight edges become flat ellipses.
	Flattest float64
	// LeastArc is the share of the circumference that lies on edges: with less the
	// ellipse is not held by its points.
	LeastArc float64
	// LeastRadius is the smallest minor semi-axis over the picture's short side: a
	// third of the smallest target's outer ring.
	LeastRadius float64
	// SameShare: two ellipses whose middles and semi-axes differ by less than this
	// share of the major semi-axis are one.
	SameShare float64
	// MostCandidates are kept of a scale, and of all, the best supported. More cost
	// time; fewer lose the rings among holes and screws.
	MostCandidates int
	// MiddleOutside is how far, in major semi-axes, the middle of an ellipse that
	// runs out of the picture may lie outside: farther, less is seen than LeastArc.
	MiddleOutside float64
	// SmallestPicture is the short side below which a picture is not halved once
	// more: soft and faint lines show at a coarser scale, but not rings of a few px.
	SmallestPicture int
	// MostScales: the picture and its halvings.
	MostScales int

	// Lines made of two ellipses, one for each flank (lines.go, concentric.go).

	// WholeArc of each flank is seen, where a whole ring is asked for.
	WholeArc float64
	// SameFlatness: two flanks of one line, and two lines of one target, differ by
	// less in their axis ratio.
	SameFlatness float64
	// FlankMiddle: the middles of two flanks lie nearer than this share of the
	// line's width.
	FlankMiddle float64
	// NarrowestLine and WidestLine, over the line's own radius. The boldest inner
	// ring of a target has 0.17; the gap to the next ring is more than WidestLine.
	NarrowestLine, WidestLine float64
	// LineApart: the next line about the same middle is smaller by more than so many
	// widths.
	LineApart float64
	// SmallestLike and LargestLike bound the lines that are compared with one, over
	// its radius.
	SmallestLike, LargestLike float64
	// ConcentricMiddle: lines of one target have one middle within this share of
	// the outermost radius. Perspective moves that of a ring at 30 degrees by 0.03;
	// that of an arc cut in half is known half as well as a whole ellipse's.
	ConcentricMiddle float64
	// ConcentricWidth: their widths differ by less than this share.
	ConcentricWidth float64
	// ConcentricRatio: a line is a ring of the spec when its radius is the ring's
	// within this share.
	ConcentricRatio float64
}

// DefaultSettings are those that all programs use.
func DefaultSettings() Settings {
	return Settings{
		LeastGradient: 0.5, HighTimes: 2.5, LeastHigh: 1.6, MostHigh: 3.5, LowShare: 0.5,
		LeastAlike: 0.8, LeastForward: 0.4, ShortestChain: 18, BendReach: 7, CornerRad: 0.95, StraightRad: 0.12,
		Tolerances: []float64{2.5, 1.8, 1.5}, AlongStep: 1.5, LeastAlong: 24, MostAlong: 600, AcrossStep: 0.5, LeastSquare: 0.9,
		Flattest: 0.28, LeastArc: 0.30, LeastRadius: 0.02, SameShare: 0.03, MostCandidates: 48,
		MiddleOutside: 0.5, SmallestPicture: 150, MostScales: 3,
		WholeArc: 0.6, SameFlatness: 0.06, FlankMiddle: 0.5, NarrowestLine: 0.01, WidestLine: 0.2, LineApart: 1.2,
		SmallestLike: 0.2, LargestLike: 1.25, ConcentricMiddle: 0.1, ConcentricWidth: 0.5, ConcentricRatio: 0.04,
	}
}
