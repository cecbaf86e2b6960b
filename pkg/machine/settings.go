package machine

// Settings are what decides whether a profile is one of a machine. None was measured:
// they keep mistakes out (inches, micrometres, a slipped decimal point, a mirror that
// looks the wrong way), not unusual machines.
type Settings struct {
	// MostMirrors and MostStations bound the lists: the work of a plan grows with both.
	MostMirrors, MostStations int
	// MostName is how long a name may be, bytes or letters: it must fit a table.
	MostName int
	// MostMM bounds every place, MostClearMM a mirror's usable diameter, MostPitchMM a
	// screw's pitch, MostTurns its travel: a profile in inches or micrometres is outside
	// one of them.
	MostMM, MostClearMM, MostPitchMM, MostTurns float64
	// MostGain bounds a learnt gain, and its inverse too: larger, and the screw's place or
	// letter is wrong rather than its thread.
	MostGain float64
	// LeastLength is the length below which a direction points nowhere.
	LeastLength float64
	// LeastUp is the sine of the smallest angle between normal and up at which up still
	// says which way up is. Below, a digit of the normal would turn right and left.
	LeastUp float64
	// LeastSpread is the least height of a mount's three screws over their triangle's
	// longest side. Below, an error of a hair in their places would become any tilt.
	LeastSpread float64
	// EdgeOn is the cosine below which a beam counts as running along a plane.
	EdgeOn float64
	// OffCentreMM is how far the nominal beam may pass the target's centre, and
	// OffTargetMM from where it counts as missing it.
	OffCentreMM, OffTargetMM float64
	// DeadMM is the movement for a turn, at every station, below which a screw counts as
	// doing nothing.
	DeadMM float64
}

// DefaultSettings are those that Parse, Check and Trace work with.
func DefaultSettings() Settings {
	return Settings{
		MostMirrors: 16, MostStations: 64, // chosen: three and five are usual
		MostName:    60,    // chosen
		MostMM:      20000, // chosen: a bed of 20 m
		MostClearMM: 1000,  // chosen
		MostPitchMM: 10,    // chosen: a hundred times a fine thread
		MostTurns:   100,   // chosen
		// Chosen: common threads, 0.25 to 0.7 mm, lie within a factor of 3 of each other.
		MostGain:    5,
		LeastLength: 1e-9, // chosen: rounding
		LeastUp:     1e-3, // chosen: a twentieth of a degree
		LeastSpread: 0.05, // chosen: 2 mm on a mount of 40
		EdgeOn:      0.01, // chosen: no mount is meant at half a degree
		OffCentreMM: 1,    // chosen: a profile is drawn aligned; 1 mm is a slip of the pen
		OffTargetMM: 10,   // common practice, no source: the radius of a head's bore of 20 mm
		DeadMM:      0.05, // chosen: about what a reading is uncertain by
	}
}

// decide are the settings in use; nothing changes them.
var decide = DefaultSettings()
