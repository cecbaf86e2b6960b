package plan

import (
	"math"

	"burngauge.dev/burngauge/pkg/plan/search"
)

// Settings hold every number that decides what a plan says. DefaultSettings has the
// values.
//
// Where a line says "measured with" the command prints, for simulated machines, how
// many come home in 1, 2 and 3 rounds and how many predictions come true: give
// another value with -set and the table shows what it does. "Chosen" is a value that
// nobody has measured against others; -set can try those too. "Common practice, no
// source" is what the trade says and no publication was found for.
type Settings struct {
	Prior   PriorSettings
	Reading ReadingSettings
	Round   RoundSettings
	Turn    TurnSettings
	Mirror  MirrorSettings
	Fire    FireSettings
	Hand    HandSettings
	Offset  OffsetSettings
	Finding FindingSettings
	Search  search.Settings
}

// DefaultSettings are those that mirrorplan plans with.
func DefaultSettings() Settings {
	return Settings{
		Prior:   defaultPrior(),
		Reading: defaultReading(),
		Round:   defaultRound(),
		Turn:    defaultTurn(),
		Mirror:  defaultMirror(),
		Fire:    defaultFire(),
		Hand:    defaultHand(),
		Offset:  defaultOffset(),
		Finding: defaultFinding(),
		Search:  search.DefaultSettings(),
	}
}

// PriorSettings are what is known of a machine before any reading, as standard
// uncertainties. Too small, and a machine that departs more is read as noise and its
// predictions come out beyond their radius; too large, and more stations must be fired
// at before a plan can be made.
type PriorSettings struct {
	// FieldMM is that of each term of the spots' plane over the bed: nothing is known.
	FieldMM float64
	// TwistMM is that of the coefficient of x times y, a quarter of the fourth corner's
	// error. It is widened to what the readings show.
	TwistMM float64
	// StationMM is that of what no plane and no twist explains at one station. It is
	// widened to what the readings show.
	StationMM float64
	// Gain is that of each screw's gain over the profile's, where nothing was learnt.
	// Smaller, first rounds' radii are narrower and hold fewer of the spots; larger, first
	// turns are more timid.
	Gain float64
	// Length is that of each leg's length over the profile's.
	Length float64
	// PlayTurns is that of the play which a screw's first turn takes up.
	PlayTurns float64
	// Passes is how often the product of gain and length is made linear again.
	Passes int
}

// GainU is the standard uncertainty of a screw's gain over the profile's before
// anything was learnt of it: a thread of the next finer size, or a plate that is held
// elsewhere than the profile says.
const GainU = 0.3

func defaultPrior() PriorSettings {
	return PriorSettings{
		FieldMM:   20,   // chosen: more than the target's radius, so that it says nothing
		TwistMM:   0.08, // chosen: a gantry's twist is some tenths of a mm at the fourth corner
		StationMM: 0.05, // chosen: rails that wave by less than a sheet of paper
		// Measured with: go run ./scripts/closedloop -from 0 -to 99 -set Prior.Gain=0.15
		// Of the hard machines' predictions 92 % come true instead of 96, and 56 of 100 are
		// home after one round instead of 69. With 0.26 there is little difference (97 %, 64);
		// with 0.5 only 48 of the easy machines are within 0.6 mm instead of 60.
		Gain:      GainU,
		Length:    0.04, // common practice, no source: a rule laid along a machine with covers
		PlayTurns: 0.02, // common practice, no source: weak springs lose some hundredths of a turn
		// Gains move by tenths and lengths by hundredths, so after the second pass what is
		// left of their product is thousandths of a turn's effect.
		Passes: 2,
	}
}

// ReadingSettings are what a reading is uncertain by beyond what its report says.
type ReadingSettings struct {
	// RepeatMM is how well the head comes back to a station, each axis.
	RepeatMM float64
	// ClippedMM is what a clipped mark's middle gets on each axis. Smaller, a mirror is
	// turned towards the edge that cuts; larger, clipped stations stop to count.
	ClippedMM float64
	// LeastMM is the least standard uncertainty taken for an axis: a report of another
	// program may say 0, which no equation can be weighted by.
	LeastMM float64
	// MostCorrelation bounds that of the two axes, for the same reason.
	MostCorrelation float64
	// MostMM bounds a reading: one beyond, or as uncertain, is refused.
	MostMM float64
	// StepShare is how far a hand's turn may be off, evenly either way, over the finest
	// turn that it can set.
	StepShare float64
}

func defaultReading() ReadingSettings {
	return ReadingSettings{
		RepeatMM: 0.03, // chosen: a belt's play, about a hair's half
		// Derived: half of a burn of 3 mm cut away moves its middle by 0.6 mm, since a half
		// disc's centroid lies 4r/3π from the whole one's.
		ClippedMM:       0.6,
		LeastMM:         0.001, // chosen: a twentieth of what a photo gives
		MostCorrelation: 0.999, // chosen: any value short of 1 does
		MostMM:          500,   // chosen: no target is so large
		StepShare:       0.25,  // chosen: half of a step is where the next one begins
	}
}

// settingU is the standard uncertainty of a hand's turn over the finest turn: that of a
// value which lies evenly within ±StepShare, a/√3 (JCGM 100:2008, 4.3.7).
func (s ReadingSettings) settingU() float64 { return s.StepShare / math.Sqrt(3) }

// RoundSettings decide when a past round is not learnt from, and what of it is.
type RoundSettings struct {
	// ContradictSure is how unlikely what came of a round must be, as a probability of
	// less, before it counts as contradicting everything. Larger, a wrong screw is
	// learnt from; smaller, honest rounds are thrown away.
	ContradictSure float64
	// A slip (nothing turned, everything twice, everything the other way) is named
	// when the readings with it lie within what SlipSure of all rounds do, and are
	// SlipRatio times likelier than with the plan.
	SlipSure, SlipRatio float64
	// LearntShare is the share of its uncertainty beforehand below which a gain's must
	// fall to count as learnt.
	LearntShare float64
	// LeastGainU is the least uncertainty of a gain that is written into a profile, and
	// GainPlaces how many decimals both have there: more would be noise in a file that
	// people read.
	LeastGainU float64
	GainPlaces int
}

func defaultRound() RoundSettings {
	return RoundSettings{
		ContradictSure: 0.999, // chosen: an honest round in a thousand is suspected
		SlipSure:       0.99,  // chosen: a slip in a hundred is not named
		// Derived: slips are rare, say one round in a hundred. With odds of 1000 one of ten
		// that are named is an error at the most.
		SlipRatio:   1000,
		LearntShare: 0.9, // chosen: a tenth narrower
		LeastGainU:  1e-3,
		GainPlaces:  3,
	}
}

// TurnSettings decide how boldly screws are turned, and how.
type TurnSettings struct {
	// FirstCaution and LaterCaution weigh what is not known of a plan's outcome against
	// the outcome that is expected: 1 makes the mean square distance small, 0 trusts the
	// profile. The first round trusts it almost, so that a machine that is as its
	// profile says needs no other; once there is a past round, and still something to
	// do, it is not.
	FirstCaution, LaterCaution float64
	// PastTurns is how far an anticlockwise turn goes past its end to come back
	// clockwise: what play there is then always lies on the same side.
	PastTurns float64
	// ExcessTolerance is how far beyond travel and mirrors' edges turns may seem to be by
	// rounding alone, turns and mm.
	ExcessTolerance float64
}

func defaultTurn() TurnSettings {
	return TurnSettings{
		// Measured with: go run ./scripts/closedloop -from 0 -to 99 -set Turn.FirstCaution=0.1
		// Of the machines that are as their profile says 44 of 100 are within 0.6 mm after
		// one round instead of 60. With 0 all are, but only 66 of the worn ones are within
		// 2 mm instead of 100, and 25 of the hard ones instead of 69.
		FirstCaution: 0.04,
		// Chosen. On the same seeds -set Turn.LaterCaution=0.3 makes no difference but for the
		// hard machines' predictions: 96.2 % come true instead of 96.5.
		LaterCaution: 1,
		// Chosen: more than any play that a mount may have (some hundredths of a turn).
		PastTurns:       0.125,
		ExcessTolerance: 1e-6,
	}
}

// MirrorSettings decide how far the beam may go over a mirror. Too much, and a plan
// turns the beam over a mirror's edge; too little, and screws that could cure an error
// are held back.
type MirrorSettings struct {
	// BeamMM is the radius of the beam that a mirror must hold.
	BeamMM float64
	// StartMM is how far off a mirror's middle the beam may be for what no tilt explains:
	// mounts, rails and the source are that much out of place, and no photo shows it.
	StartMM float64
	// LeastShare is the share of a mirror's usable width that the beam may always go: on
	// a mirror of BeamMM's size nothing could be turned otherwise.
	LeastShare float64
	// LeanRad, ShiftMM and StationMM are what is known beforehand of a machine out of
	// line, as standard uncertainties: how far mirrors lean, how far all spots are
	// shifted by parts out of place, and each by its own.
	LeanRad, ShiftMM, StationMM float64
}

func defaultMirror() MirrorSettings {
	return MirrorSettings{
		BeamMM:     2, // common practice, no source: raw beams are 3 to 7 mm wide
		StartMM:    2, // chosen: about what the simulated machines' parts are out of place by
		LeastShare: 1. / 8,
		LeanRad:    2e-3, // chosen: spots some mm off at the end of ways of a metre
		ShiftMM:    1.5,  // chosen
		StationMM:  0.3,  // chosen
	}
}

// FireSettings decide where to fire next.
type FireSettings struct {
	// FineShare of the limit is how well a spot is worth knowing. Smaller, stations that
	// are known well already are fired at again; larger, near ties go to the first.
	FineShare float64
}

func defaultFire() FireSettings {
	return FireSettings{FineShare: 0.1} // chosen
}

// HandSettings decide at which station the procedure by hand judges a mirror.
type HandSettings struct {
	// SameMM is how much two ways of the beam may differ and still count as equally long.
	SameMM float64
	// LongShare is the share of the longest leg behind the last mirror from which a
	// station counts as at the far end.
	LongShare float64
}

func defaultHand() HandSettings {
	return HandSettings{SameMM: 1e-6, LongShare: 0.9} // chosen
}

// OffsetSettings decide when moving a part is better than turning screws.
type OffsetSettings struct {
	// NeedShare of the limit is how far off screws alone must leave the worst spot: below,
	// turning is the smaller job and does.
	NeedShare float64
	// GainShare of the limit is how large the common offset must be, and how much moving
	// a part must gain over the screws alone.
	GainShare float64
	// MostMM is how far a part may be moved along each axis.
	MostMM float64
	// LeastMM is the least move worth a word.
	LeastMM float64
	// SameMM is how much two moves may differ in what they leave and still count as the
	// same.
	SameMM float64
	// LeastEffect is the least that the spot must follow a mount's move, mm for each mm:
	// a mirror that is moved along its own face does nothing.
	LeastEffect float64
}

func defaultOffset() OffsetSettings {
	return OffsetSettings{
		NeedShare:   0.5,  // chosen
		GainShare:   0.25, // chosen: half a mm of 2 mm is felt
		MostMM:      50,   // chosen: more than any mount's slots
		LeastMM:     0.05, // chosen: what a hand can move a mount by
		SameMM:      1e-6,
		LeastEffect: 0.1,
	}
}

// FindingSettings decide which departures are worth stating. Smaller values name more,
// and more that is chance.
type FindingSettings struct {
	// LeastMM and LeastSure are the size and the number of standard uncertainties from
	// which a departure of the bed's shape is named.
	LeastMM, LeastSure float64
	// PointerShare of the limit is how far from the burn the red dot must surely lie to
	// be named.
	PointerShare float64
	// GainShare is how far a learnt gain must be from the profile's, and GainSure how
	// many standard uncertainties.
	GainShare, GainSure float64
	// StopSteps is how many finest turns before the end of its travel a screw counts as
	// at it.
	StopSteps float64
}

func defaultFinding() FindingSettings {
	return FindingSettings{
		LeastMM:      0.15, // chosen: large enough to be felt beside a limit of 2 mm
		LeastSure:    2.5,  // chosen: 1 in 80 by chance, for a normal variable
		PointerShare: 0.25, // chosen
		GainShare:    0.2,  // chosen: more than a person misplaces a screw by
		GainSure:     2,    // 95 % of a normal variable
		StopSteps:    1.5,  // chosen: the last step, and what rounding does to it
	}
}
