// Package plan turns a survey's readings into turns of the mirrors' screws: how
// far to turn which, what to expect at every station afterwards, and what no
// screw can cure.
//
// Lengths are in mm, turns of a screw in turns, clockwise seen from its head
// counting as positive. Right and up are the target's.
package plan

// SchemaPlan names the format of a plan. The number rises when a reader of the
// old format would misread the new one; new keys alone do not raise it.
const SchemaPlan = "mirrorplan.plan/1"

// Status values of a plan.
const (
	StatusTurn    = "turn"
	StatusNothing = "nothing-to-do"
	StatusFire    = "fire-more"
	StatusBeyond  = "beyond-the-screws"
)

// Plan is what to do next at the machine.
type Plan struct {
	Schema    string      `json:"schema"`
	Machine   string      `json:"machine"` // the profile's name
	Report    string      `json:"report"`  // the report's digest
	Status    string      `json:"status"`
	FireNext  []string    `json:"fire_next"` // stations, the one that tells most first
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
	Direction string  `json:"direction"` // clockwise | anticlockwise
}

// Predicted is where the spot should sit at one station after the turns.
type Predicted struct {
	Station  string  `json:"station"`
	RightMM  float64 `json:"right_mm"`
	UpMM     float64 `json:"up_mm"`
	RadiusMM float64 `json:"radius_mm"` // circle that holds the spot with probability 0.95
	State    string  `json:"state"`     // inside | outside | borderline
}

// Finding is what no mirror screw can cure, or what the readings contradict.
type Finding struct {
	Code     string `json:"code"`
	Text     string `json:"text"`
	Evidence string `json:"evidence"`
}
