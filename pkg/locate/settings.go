package locate

import (
	"math"

	"burngauge.dev/burngauge/pkg/ellipse"
)

// Settings of the search for the target. Shares have no unit. Each field says
// what it separates and what happens above and below. Where a value was measured, the
// command that measures it again stands with it; the others were chosen.
type Settings struct {
	Ellipse ellipse.Settings

	// LeastShortSidePx: a smaller picture has no room for a target, 48 px for one
	// that fills half of it are 3 px from ring to ring.
	LeastShortSidePx float64

	// The polar picture about an ellipse (polar.go): radii in units of the ellipse's
	// own circle, from Innermost to Outermost in steps of LogStep of their logarithm.
	PolarAngles          int
	LogStep              float64
	Innermost, Outermost float64
	// A line is compared with what lies from SideFrom to SideTo of its half widths
	// beside it, on either side.
	SideFrom, SideTo float64
	// NarrowestHalfPx: a line is never seen narrower than twice this on the small
	// picture.
	NarrowestHalfPx float64
	// TypicalTimes the mean contrast, plus LeastTypical code values, is the contrast
	// that counts as a whole line; a stronger one counts no more.
	TypicalTimes, LeastTypical float64

	// Frames (frame.go).

	// The scale at which the rings are looked for runs from ScaleFrom of the
	// innermost ring's radius to ScaleTo of the outermost's for the ellipse's circle.
	ScaleFrom, ScaleTo float64
	// LeastAgreement: a frame whose lines agree less is left out. About circles that
	// are no target the score stays below in all but a few. Lower: more frames to look
	// at; higher: faint rings have none. Chosen.
	LeastAgreement float64
	// Batch is how many ellipses are looked at before asking whether one frame is
	// already plainly right.
	Batch int
	// SquareAxes: an ellipse with a larger axis ratio, 10 degrees of tilt, has two
	// poses so alike that one serves both.
	SquareAxes float64
	// RimWorth is the score of a frame for which the ellipse is the round edge, at a
	// whole arc: tape may hide every line.
	RimWorth float64
	// BarWorth is what an index bar adds to a frame's score: the bar is on the target
	// alone, rings may be on many things.
	BarWorth float64
	// SameFrame: two frames that put the outer ring within this share of its radius
	// say the same.
	SameFrame float64
	// MostDistinct frames of a batch are looked at on the small picture, MostFrames
	// of them at full size, and MostInClutter while none of the first has the target.
	// More cost time; fewer lose the target among holes and coins.
	MostDistinct, MostFrames, MostInClutter int

	// Looks (look.go).

	// FirstWorth is what a frame's score on the small picture counts, up to
	// FirstMost, beside what is seen at full size.
	FirstWorth, FirstMost float64
	// FullContrast of an index bar counts BarWorth, less in proportion.
	FullContrast float64
	// ClearlyBetter: a later look replaces an earlier one when it ranks this much
	// higher.
	ClearlyBetter float64
	// Plainly is the score at which no other frame needs a look. Of 107 looks off
	// the target the best so far had at most 1.23 and 95 in 100 at most 1.03; of 222 on
	// it the median had 1.22 (scripts/margins -seed 9501 -count 120). Lower: clutter with
	// two rings and a chance bar ends the search; higher: it costs time.
	Plainly float64

	// Judging (judge.go).

	// MostSkipped rings that are not seen between two that are: a mark may hide the
	// inner rings and tape a part of each, but neither hides just one.
	MostSkipped float64
	// LeastRings that must be seen for the rings alone to be the target: two fix the
	// plane, and their ratio is the spec's. One circle is on many things.
	LeastRings int
	// LeastLines is the mean over the rings of the part seen: two of four, the others
	// hidden. Lower: a washer's two circles are a target; higher: tape over half of
	// the rings is refused.
	LeastLines float64
	// LeastLinesIndexed is the same where an index bar is clear and a mark may cover
	// the inner one of two rings.
	LeastLinesIndexed float64
	// LeastRim is the part of the round edge that must be seen where no ring is. Lower:
	// an arc of a coin or a lid is the edge; higher: tape over half of it is refused.
	LeastRim float64
	// LeastSize is the outer ring's diameter over the photo's short side. It separates
	// targets in the picture's midst, 0.12 to 0.6, from those seen from across the room,
	// and from screws and holes. Lower: lines have too few px; higher: photos are
	// refused that could be measured.
	LeastSize float64
	// Steepest tilt, radians, both of the lens's axis and of the line of sight. It separates
	// photos taken by hand, up to 50 degrees, from those taken along the plate. Higher:
	// the tape's height moves the mark by more than its thickness; lower: photos are
	// refused that could be measured.
	Steepest float64
	// MostCut is the share of the outer ring outside the photo: less may be a corner of
	// the tape. Higher: the index mark or the mark itself may be outside; lower: a ring
	// that only touches the photo's edge is refused.
	MostCut float64
	// MostGlare is the share of the target's face that is burnt out in all colours. It
	// separates photos with a lamp's or the flash's reflection over rings and mark from those
	// with a bright spot or white paper in full light. Higher: lines and a part of the
	// mark are hidden without a word; lower: a shining screw on the target refuses it.
	MostGlare float64

	// LeastBarTilts is in how many of the possible tilts the index bar must fit the
	// rings. With two circles or more there is one tilt; one circle leaves two.
	LeastBarTilts float64

	// Doubts about the finished fit (judge.go, strange.go).

	// RatioConfidence: the rings' departures from the spec, squared and in standard
	// uncertainties, lie below this quantile of chi-squared with one degree of
	// freedom for each ring. One right target of a thousand is refused.
	RatioConfidence float64
	// MostDeparture is the sum of squares of all departures from what is known of
	// print and camera: of 87 right fits the median has 0.5, 95 in 100 at most 2.0
	// and the largest 5.6 (scripts/margins -seed 9501 -count 120). Photos cut or
	// straightened by hand lie above where they would be measured wrongly. Higher: such
	// photos get a number; lower: a phone with an unusual lens is refused.
	MostDeparture float64
	// Two lines are of one target when the middle and the width of the second are
	// those of the first within these shares of its radius and width. Perspective
	// moves the middle of a ring at 30 degrees by 0.03.
	SameMiddle, SameWidth float64
	// The same for a line and the fitted ring, whose centre a wrong tilt moves and
	// whose width is the spec's.
	NearMiddle, NearWidth float64
	// NearRadius: a line within this share of the ring's radius is that ring.
	NearRadius float64
	// StrangeApart: a line that lies within so many of its own widths of a ring of
	// the spec is that ring.
	StrangeApart float64
	// MostStrange lines about the one ring seen that the spec does not have.
	MostStrange float64
}

// DefaultSettings are those that all programs use.
func DefaultSettings() Settings {
	return Settings{
		Ellipse:          ellipse.DefaultSettings(),
		LeastShortSidePx: 48,
		PolarAngles:      60, LogStep: 0.0125, Innermost: 0.16, Outermost: 4.2,
		SideFrom: 1.6, SideTo: 3.2, NarrowestHalfPx: 0.6, TypicalTimes: 2, LeastTypical: 0.3,
		ScaleFrom: 0.5, ScaleTo: 2.6, LeastAgreement: 0.12, Batch: 8, SquareAxes: 0.985,
		RimWorth: 0.5, BarWorth: 0.5, SameFrame: 0.05, MostDistinct: 12, MostFrames: 6, MostInClutter: 30,
		FirstWorth: 0.1, FirstMost: 1.5, FullContrast: 0.12, ClearlyBetter: 0.03, Plainly: 1.25,
		MostSkipped: 0, LeastRings: 2, LeastLines: 0.42, LeastLinesIndexed: 0.3, LeastRim: 0.5,
		LeastSize: 0.10, Steepest: 57 * math.Pi / 180, MostCut: 0.06, MostGlare: 0.18, LeastBarTilts: 1,
		RatioConfidence: 0.999, MostDeparture: 18,
		SameMiddle: 0.06, SameWidth: 0.3, NearMiddle: 0.15, NearWidth: 0.6, NearRadius: 0.12, StrangeApart: 1.2, MostStrange: 0,
	}
}
