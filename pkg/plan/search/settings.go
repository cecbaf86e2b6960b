package search

// Settings decide what a plan costs and how long better turns are looked for.
// DefaultSettings has the values and where they come from.
type Settings struct {
	// ScrewShare is what one more screw must gain at the worst station to be worth a
	// hand on it, as a share of the limit. Above, fewer screws are turned and spots stay
	// farther out; at 0 screws are turned for hundredths of a mm.
	ScrewShare float64
	// OthersShare is how much the mean distance of all stations counts beside the worst
	// station's. At 0 the stations that are not the worst are left where they happen to
	// fall; at 1 the worst one is given up for the rest.
	OthersShare float64
	// RidgeMM2 keeps turns that do the same from growing against each other: what the
	// square of a whole turn costs in a weighted least squares solution, mm². Below,
	// two screws that nearly do the same run to the ends of their travel; above, large
	// turns stop short.
	RidgeMM2 float64
	// ForbiddenMM is what a mm beyond a mirror's edge, or a turn beyond a screw's
	// travel, costs. It must be dearer than any distance that a plan could save by it.
	ForbiddenMM float64
	// MinimaxPasses is how often the stations are weighed again. Each pass costs one
	// solution; the best pass is kept, so that more passes never make it worse.
	MinimaxPasses int
	// Rounded is how many sets of each number of screws are brought to whole steps. It
	// costs time in proportion.
	Rounded int
	// ReachSteps is how many finest turns a screw is moved by at once, either way, when
	// whole combinations are tried: time grows with (2 ReachSteps)^together.
	ReachSteps int
	// PairsFrom and SinglesFrom are the numbers of screws from which only two, and only
	// one, are changed at once instead of three: so many combinations would take longer
	// than a person waits.
	PairsFrom, SinglesFrom int
	// StepTolerance is how far beside a whole step a bound still counts as on it, in
	// steps, and CostToleranceMM the least gain that counts: both only keep rounding
	// errors out.
	StepTolerance, CostToleranceMM float64
}

// DefaultSettings are those that plans are made with.
//
// The values were chosen, not measured, unless the line says otherwise. To measure
// one again, plan simulated machines with another: for example
//
//	go run ./scripts/closedloop -from 0 -to 99 -set Search.ScrewShare=0.05
func DefaultSettings() Settings {
	return Settings{
		ScrewShare:  0.02, // 0.04 mm of 2 mm: about what one reading is uncertain by
		OthersShare: 0.1,
		RidgeMM2:    1e-3, // a whole turn costs as much as 0.03 mm at the worst station
		ForbiddenMM: 1e3,  // a metre: no spot lies so far out

		MinimaxPasses: 16,
		Rounded:       2,
		ReachSteps:    2,
		// 12 screws are four mirrors. Of 12, three at once are 220·4³ combinations, of 24
		// two at once 276·4². Beyond four mirrors a plan took seconds.
		PairsFrom:   13,
		SinglesFrom: 25,

		StepTolerance:   1e-9, // doubles hold 16 digits; a turn is some hundreds of steps
		CostToleranceMM: 1e-9,
	}
}

// together is how many screws are changed at once.
func (s Settings) together(screws int) int {
	switch {
	case screws >= s.SinglesFrom:
		return 1
	case screws >= s.PairsFrom:
		return 2
	}
	return 3
}
