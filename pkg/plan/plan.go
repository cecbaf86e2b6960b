package plan

// SchemaPlan names the format of a plan. The number rises when a reader of the
// old format would misread the new one; new keys alone do not raise it.
const SchemaPlan = "mirrorplan.plan/1"

// Plan is what to do next at the machine. Its keys are explained by Keys.
type Plan struct {
	Schema    string      `json:"schema"`
	Machine   string      `json:"machine"` // the profile's name
	Report    string      `json:"report"`  // the report's digest, "" where it has none
	Status    string      `json:"status"`  // one of Statuses
	FireNext  []string    `json:"fire_next"`
	Turns     []Turn      `json:"turns"`     // in the order to do them
	Predicted []Predicted `json:"predicted"` // after all turns
	Findings  []Finding   `json:"findings"`
	Cautions  []string    `json:"cautions"`
}

// Turn is one screw to turn.
type Turn struct {
	Mirror    string  `json:"mirror"`
	Screw     string  `json:"screw"`
	Turns     float64 `json:"turns"`     // clockwise positive, seen from the screw's head
	Direction string  `json:"direction"` // Clockwise or Anticlockwise
}

// Predicted is where the spot should sit at one station after the turns, as one faces
// the target.
type Predicted struct {
	Station  string  `json:"station"`
	RightMM  float64 `json:"right_mm"`
	UpMM     float64 `json:"up_mm"`
	RadiusMM float64 `json:"radius_mm"` // circle that holds the spot with probability coverage.Sure
	State    string  `json:"state"`     // inside, outside or borderline
}

// Finding is what no mirror screw can cure, or what the readings contradict.
type Finding struct {
	Code     string `json:"code"` // one of FindingCodes
	Text     string `json:"text"`
	Evidence string `json:"evidence"`
}

// Keys are the keys of a plan's JSON with what they hold; one of a list's entries
// stands as "turns.mirror". The caller owns the list.
func Keys() []Explained {
	return []Explained{
		{"schema", SchemaPlan},
		{"machine", "the name of the machine's profile"},
		{"report", "the digest of the report that the plan was made from"},
		{"status", "what to do: see mirrorplan help statuses"},
		{"fire_next", "stations to fire at, the one that says most first; [] when none is needed"},
		{"turns", "the screws to turn, in the order to do it; [] when none"},
		{"turns.mirror", "the mirror's name in the profile"},
		{"turns.screw", "A, B or C"},
		{"turns.turns", "whole turns, clockwise positive, seen from the screw's head"},
		{"turns.direction", "clockwise or anticlockwise, the same as the sign of turns"},
		{"predicted", "where each spot should lie after all the turns"},
		{"predicted.station", "the station's name"},
		{"predicted.right_mm", "mm right of the target's centre, as you face it; left is negative"},
		{"predicted.up_mm", "mm above it; below is negative"},
		{"predicted.radius_mm", "mm: the circle about that place that holds the spot in 95 of 100 cases"},
		{"predicted.state", "inside, outside or borderline, by the limit"},
		{"findings", "what no screw can cure, and what else the readings show; [] when nothing"},
		{"findings.code", "see mirrorplan help findings"},
		{"findings.text", "what it is and what to do, for people"},
		{"findings.evidence", "the numbers that it rests on, for people"},
		{"cautions", "what to mind before firing or turning a screw, for people"},
	}
}
