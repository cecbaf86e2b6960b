package report

// Decision is one value held against one limit on the way to a measurement, as
// pkg/decision records it. Its name is the package that decided and the field of
// that package's settings, "burn.MostOpenNear", so that one search finds the line.
type Decision struct {
	Name    string      `json:"name"`
	About   string      `json:"about"`           // what was judged, "blob 2"; "" for the photo as a whole
	AtPX    *[2]float64 `json:"at_px,omitempty"` // where that lies on the upright photo; absent when it has no place
	Value   *float64    `json:"value"`           // null when there was nothing to measure, or it is not finite
	Test    string      `json:"test"`            // > | <: the test is "value test limit"
	Limit   float64     `json:"limit"`
	Then    string      `json:"then"`    // what follows when the test holds, "refused: two-marks"
	Outcome string      `json:"outcome"` // what did follow: then, or "" when the test did not hold
	Of      int         `json:"of"`      // how many things were compared; above 1, value is the one nearest to the limit
	Holding int         `json:"holding"` // of them, those for which the test holds
}
