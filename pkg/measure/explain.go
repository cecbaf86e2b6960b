package measure

import (
	"math"

	"burngauge.dev/burngauge/pkg/decision"
	"burngauge.dev/burngauge/pkg/report"
)

// decisions lists what a log holds as it is reported; nil for a nil log.
func decisions(log *decision.Log) []report.Decision {
	var out []report.Decision
	for _, d := range log.Decisions() {
		r := report.Decision{
			Name: d.Name, About: d.About, Value: finite(d.Value), Test: string(d.Test), Limit: d.Limit,
			Then: d.Then, Of: d.Of, Holding: d.Holding,
		}
		if d.At != nil {
			r.AtPX = &[2]float64{d.At.X, d.At.Y}
		}
		if d.Holding > 0 {
			r.Outcome = d.Then
		}
		out = append(out, r)
	}
	return out
}

// finite is the number, or nil for NaN and the infinities, which JSON has not.
func finite(v float64) *float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return &v
}
