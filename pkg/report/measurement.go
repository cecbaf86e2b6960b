package report

// Measurement is one mark in one photo.
type Measurement struct {
	Photo       Photo        `json:"photo"`
	Mark        string       `json:"mark"`   // burn | pointer
	Target      string       `json:"target"` // the spec's name
	Status      string       `json:"status"` // measured | refused | unreadable
	Offset      *Offset      `json:"offset"` // null unless measured
	Uncertainty *Uncertainty `json:"uncertainty"`
	Size        *Size        `json:"size"`
	Verdict     *Verdict     `json:"verdict"`
	View        *View        `json:"view"`
	Warnings    []Warning    `json:"warnings"`
	Refusal     *Refusal     `json:"refusal"`
	Decisions   []Decision   `json:"decisions,omitempty"` // only when they were asked for
}

// Photo names the file that was measured and its bytes.
type Photo struct {
	File   string `json:"file"`
	SHA256 string `json:"sha256"`
	Bytes  int64  `json:"bytes"`
	Width  int    `json:"width"`  // px, upright
	Height int    `json:"height"` // px, upright
	Taken  string `json:"taken"`  // RFC 3339 with offset; without one when the camera wrote none; "" unknown
	Camera string `json:"camera"`
}

// Offset is the mark's first moment of darkness in the target plane.
type Offset struct {
	RightMM    float64 `json:"right_mm"`
	UpMM       float64 `json:"up_mm"`
	DistanceMM float64 `json:"distance_mm"`
	Clock      string  `json:"clock"` // "2:30", to half hours; 12 = up, 3 = right
	Rings      float64 `json:"rings"` // 0 at the centre, 1 on the first ring's circle
}

// Uncertainty is that of the offset.
type Uncertainty struct {
	CovarianceMM2 [2][2]float64 `json:"covariance_mm2"` // right, up
	RadiusMM      float64       `json:"radius_mm"`      // circle that holds the true offset with probability Coverage
	Coverage      float64       `json:"coverage"`
	Budget        []Component   `json:"budget"`
}

// Component is one line of the uncertainty budget: the root mean square over
// the two axes of its standard uncertainty.
type Component struct {
	Source     string  `json:"source"`
	Evaluation string  `json:"evaluation"` // A or B (JCGM 100)
	UMM        float64 `json:"u_mm"`
}

// Size is the mark's, by second moments (4 sigma, ISO 11146-1).
type Size struct {
	MajorMM float64 `json:"major_mm"`
	MinorMM float64 `json:"minor_mm"`
	AxisDeg float64 `json:"axis_deg"` // of the major axis, from right towards up, (-90, 90]
	Shape   string  `json:"shape"`    // round | oval | ragged | clipped | double
}

// Verdict says whether the offset lies within the limit.
type Verdict struct {
	LimitMM     float64 `json:"limit_mm"`
	State       string  `json:"state"`       // inside | outside | borderline
	Probability float64 `json:"probability"` // of lying within the limit
	Rule        string  `json:"rule"`
}

// View is how the camera saw the target.
type View struct {
	TiltDeg   float64    `json:"tilt_deg"`
	RollDeg   float64    `json:"roll_deg"`
	PxPerMM   float64    `json:"px_per_mm"`
	CentrePx  [2]float64 `json:"centre_px"`
	RingsSeen []RingSeen `json:"rings_seen"`
}

// RingSeen is how much of one ring the fit rests on.
type RingSeen struct {
	DiameterMM float64 `json:"diameter_mm"`
	Arc        float64 `json:"arc"` // fraction of the circle
	RMSPx      float64 `json:"rms_px"`
}

// Warning does not stop the work and must be shown wherever the number is.
type Warning struct {
	Code string `json:"code"`
	Text string `json:"text"`
}

// Refusal says why there is no number, and what to do next.
type Refusal struct {
	Code string `json:"code"`
	Text string `json:"text"`
}
