package plan

import "slices"

// Explained is a word that stands in a plan's JSON, and what it means.
type Explained struct {
	Word string
	Text string // plain sentences, one line
}

// Status values of a plan.
const (
	StatusTurn    = "turn"
	StatusNothing = "nothing-to-do"
	StatusFire    = "fire-more"
	StatusBeyond  = "beyond-the-screws"
)

// Statuses are all that a plan may have, with what they mean. The caller owns the list.
func Statuses() []Explained {
	return []Explained{
		{StatusTurn, "turn the screws listed, then fire again"},
		{StatusNothing, "every station is inside: leave the screws alone"},
		{StatusFire, "the readings do not settle the screws: fire at the stations in fire_next, the one that says most first"},
		{StatusBeyond, "no turn of the mirrors' screws brings every station inside (exit code 5): the findings say what must be moved"},
	}
}

// Codes of findings.
const (
	CodeFourthCorner     = "fourth-corner"
	CodeCurvedRail       = "curved-rail"
	CodeConstantOffset   = "constant-offset"
	CodeClipped          = "clipped"
	CodePointerParted    = "pointer-parted"
	CodeTravelUsedUp     = "travel-used-up"
	CodeScrewGain        = "screw-gain"
	CodeRoundContradicts = "round-contradicts"
	CodeStationUnknown   = "station-unknown"
	CodeBeyond           = "beyond-the-screws"
)

// FindingCodes are all that a finding may have, with what they mean. The caller owns
// the list.
func FindingCodes() []Explained {
	return []Explained{
		{CodeFourthCorner, "three corners lead to a place for the spot at the fourth, and it is not there: the error grows with x times y. The gantry is twisted or not square to the bed; that is cured at the gantry."},
		{CodeCurvedRail, "the middle does not lie between the corners: a rail is bowed, or the head rocks on its way."},
		{CodeConstantOffset, "the same offset everywhere, which tilting mirrors does not cure well: the tube, a mirror's mount or the head has to be moved. The finding says which way and how far. Move one of them before any screw is turned."},
		{CodeClipped, "a mark's straight side says that a mirror's edge or an aperture cuts into the beam; its middle is pulled, and counts for less."},
		{CodePointerParted, "the red dot has left the beam: trust the burns."},
		{CodeTravelUsedUp, "a screw comes to the end of its travel."},
		{CodeScrewGain, "past rounds show a screw that moves the spots more or less than the profile says: a worn or another thread, or a wrong length. The plan takes it into account; mirrorplan learn keeps it."},
		{CodeRoundContradicts, "what came of a past round does not fit its plan with any likely gain of its screws: another screw was turned, the turns were not done or done twice, or something is loose. Nothing is learnt from it."},
		{CodeStationUnknown, "the report has a station that the profile does not know."},
		{CodeBeyond, "no turns bring every station within the limit (exit code 5)."},
	}
}

// isStatus says whether a plan may have the status.
func isStatus(word string) bool {
	return slices.ContainsFunc(Statuses(), func(e Explained) bool { return e.Word == word })
}
