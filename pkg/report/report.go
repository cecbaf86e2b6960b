package report

import "burngauge.dev/burngauge/pkg/target"

// SchemaReport names the format of a survey's report. The number rises when a
// reader of the old format would misread the new one; new keys alone do not
// raise it.
const SchemaReport = "burngauge.report/1"

// Report is one round of test fires: a set of stations, measured.
type Report struct {
	Schema     string       `json:"schema"`
	Created    string       `json:"created"` // RFC 3339 with offset
	Tool       Tool         `json:"tool"`
	Job        Job          `json:"job"`
	Target     target.Spec  `json:"target"`
	LimitMM    float64      `json:"limit_mm"` // the circle that offsets are compared with
	Rule       string       `json:"rule"`     // the decision rule, in words
	Expected   []string     `json:"expected"` // stations that make the set complete, in order
	Stations   []Station    `json:"stations"` // in the order of Expected, further ones after them by name
	Unassigned []Unassigned `json:"unassigned"`
	Verdict    SetVerdict   `json:"verdict"`
	Integrity  *Integrity   `json:"integrity,omitempty"` // nil until the report is written

	kept *object // the document it was read from, whose unknown keys are written again
}

// Tool is what measured.
type Tool struct {
	Name    string `json:"name"`
	Version string `json:"version"`
	OpenCV  string `json:"opencv"`
}

// Job is what the sheet is filed under. Every field may be empty.
type Job struct {
	Reference  string `json:"reference" yaml:"reference"`
	Machine    string `json:"machine" yaml:"machine"`
	Technician string `json:"technician" yaml:"technician"`
	Site       string `json:"site" yaml:"site"`
	Notes      string `json:"notes" yaml:"notes"`
}

// Station is one place of the head. Burn and Pointer come from the best of its
// photos; the measurements of the others are kept in Others.
type Station struct {
	Station         string        `json:"station"`
	Photos          []string      `json:"photos"` // file names, the one taken first
	Burn            *Measurement  `json:"burn"`   // nil when no photo was measured for it or it was not asked for
	Pointer         *Measurement  `json:"pointer"`
	BeamFromPointer *Parting      `json:"beam_from_pointer"` // nil unless both were measured
	Others          []Measurement `json:"others"`            // of the same station, not taken
}

// Parting is where the beam lies as seen from the pointer.
type Parting struct {
	RightMM  float64 `json:"right_mm"`
	UpMM     float64 `json:"up_mm"`
	RadiusMM float64 `json:"radius_mm"` // circle that holds the true parting with probability 0.95
}

// Unassigned is a photo that belongs to no station, and why.
type Unassigned struct {
	Photo  Photo  `json:"photo"`
	Reason string `json:"reason"`
}

// Incomplete is the state of a set in which a station is missing. Its other states
// are those of a single verdict: inside, outside, borderline.
const Incomplete = "incomplete"

// SetVerdict is over every expected station: inside when all are, outside when
// one is, otherwise borderline; incomplete while one is missing.
type SetVerdict struct {
	State        string `json:"state"`
	WorstStation string `json:"worst_station"` // farthest from the centre; "" when none was measured
	Text         string `json:"text"`
}

// Integrity is a check value over everything else in the report. Whoever can
// edit the file can make it anew: it shows accidents, it is no signature.
type Integrity struct {
	Algorithm string `json:"algorithm"` // "sha256/RFC 8785"
	Digest    string `json:"digest"`    // hexadecimal
}
