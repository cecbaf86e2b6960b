package history

import (
	"fmt"
	"math"
	"time"

	"burngauge.dev/burngauge/pkg/report"
)

// mark is a measured burn.
func mark(file string, right, up, radius float64) *report.Measurement {
	return &report.Measurement{
		Photo: report.Photo{File: file, Taken: "2026-09-02T09:14:11+02:00"},
		Mark:  "burn", Status: report.Measured,
		Offset:      &report.Offset{RightMM: right, UpMM: up, DistanceMM: math.Hypot(right, up)},
		Uncertainty: &report.Uncertainty{RadiusMM: radius, Coverage: 0.95},
	}
}

// cutOff is a photo without a number.
func cutOff(file string) *report.Measurement {
	return &report.Measurement{Photo: report.Photo{File: file}, Mark: "burn", Status: report.Refused,
		Refusal: &report.Refusal{Code: "cut-off", Text: "the target is cut off at the left: step back until all of it is in the picture"}}
}

// round is a report of the given burns at the five stations, with a limit of 2 mm.
func round(created, reference string, burns ...*report.Measurement) *report.Report {
	names := []string{"rear-left", "front-left", "middle", "rear-right", "front-right"}
	r := &report.Report{
		Schema: report.SchemaReport, Created: created, LimitMM: 2, Expected: names,
		Job:     report.Job{Reference: reference, Machine: "bed 900 x 600, no. 17"},
		Verdict: report.SetVerdict{State: "outside"},
	}
	for i, b := range burns {
		r.Stations = append(r.Stations, report.Station{Station: names[i], Burn: b})
	}
	return r
}

// rounds are reports of one machine, a few weeks apart, the newest first.
func rounds(n int) []*report.Report {
	var out []*report.Report
	day := time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)
	for i := range n {
		x := float64(i)
		burns := []*report.Measurement{mark("a", -0.3-0.25*x, 0.2+0.1*x, 0.05+0.02*x), mark("b", 0.2, -0.1-0.05*x, 0.03), mark("c", 0.1*x, 0.1, 0.04), mark("d", 0.3, 0.2+0.42*x, 0.2), mark("e", 0.5-0.1*x, -0.3*x, 0.03)}
		if i == 2 {
			burns[2] = cutOff("c")
		}
		when := day.AddDate(0, 0, 19*i).Format(time.RFC3339)
		for _, b := range burns {
			b.Photo.Taken = when
		}
		r := round(when, fmt.Sprintf("J-%d", i+1), burns...)
		out = append([]*report.Report{r}, out...)
	}
	return out
}
