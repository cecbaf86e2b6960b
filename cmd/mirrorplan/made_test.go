package main

import (
	"fmt"
	"math"

	"burngauge.dev/burngauge/pkg/coverage"
	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/target"
)

// burn is a mark at a station, mm.
type burn struct {
	station   string
	right, up float64
}

// readingU is the standard uncertainty of the readings that are made up, mm.
const readingU = 0.02

// limitMM is the radius of the inner ring of the target plain-4.
const limitMM = 2.0

// reportOf is a report of burns as burngauge writes one.
func reportOf(burns []burn) *report.Report {
	r := &report.Report{Schema: report.SchemaReport, Created: "2026-09-02T09:30:00+02:00", Tool: report.Tool{Name: "burngauge", Version: "1"},
		Target: target.Default(), LimitMM: limitMM, Rule: "inside from 95 %",
		Expected: []string{"rear-left", "front-left", "middle", "rear-right", "front-right"}}
	for i, b := range burns {
		r.Stations = append(r.Stations, report.Station{Station: b.station, Photos: []string{b.station + ".jpg"}, Burn: b.measured(i), Others: []report.Measurement{}})
	}
	r.Judge()
	return r
}

// measured is the burn as it is measured.
func (b burn) measured(i int) *report.Measurement {
	spec, distance, cov := target.Default(), math.Hypot(b.right, b.up), coverage.Isotropic(readingU)
	p := coverage.Within([2]float64{b.right, b.up}, cov, limitMM)
	return &report.Measurement{
		Photo: report.Photo{File: b.station + ".jpg", SHA256: fmt.Sprintf("%064x", i+1), Bytes: 1, Width: 4000, Height: 3000},
		Mark:  "burn", Target: spec.Name, Status: report.Measured, Warnings: []report.Warning{},
		Offset:      &report.Offset{RightMM: b.right, UpMM: b.up, DistanceMM: distance, Clock: target.Clock(b.right, b.up), Rings: spec.Rings(distance)},
		Uncertainty: &report.Uncertainty{CovarianceMM2: cov, RadiusMM: coverage.Radius(cov, 0.95), Coverage: 0.95, Budget: []report.Component{{Source: "ring fit", Evaluation: "A", UMM: readingU}}},
		Size:        &report.Size{MajorMM: 3.5, MinorMM: 3.4, Shape: "round"},
		Verdict:     &report.Verdict{LimitMM: limitMM, State: coverage.State(p), Probability: p, Rule: "inside from 95 %"},
		View:        &report.View{PxPerMM: 20, RingsSeen: []report.RingSeen{}},
	}
}
