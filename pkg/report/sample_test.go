package report

import (
	"math"
	"strings"
	"testing"

	"burngauge.dev/burngauge/pkg/coverage"
	"burngauge.dev/burngauge/pkg/target"
	"github.com/stretchr/testify/require"
)

// hashOf is a made-up hash, one for each name.
func hashOf(name string) string {
	const digits = "0123456789abcdef"
	var b strings.Builder
	for i := range 64 {
		b.WriteByte(digits[(int(name[i%len(name)])+i)%16])
	}
	return b.String()
}

// mark is a measured mark at a place, with the standard uncertainty u.
func mark(file, kind string, right, up, u float64) *Measurement {
	m := example()
	m.Photo.File, m.Photo.SHA256, m.Mark, m.Warnings = file, hashOf(file), kind, []Warning{}
	spec, distance := target.Default(), math.Hypot(right, up)
	m.Offset = &Offset{RightMM: right, UpMM: up, DistanceMM: distance, Clock: target.Clock(right, up), Rings: spec.Rings(distance)}
	cov := coverage.Isotropic(u)
	m.Uncertainty = &Uncertainty{CovarianceMM2: cov, RadiusMM: coverage.Radius(cov, 0.95), Coverage: 0.95, Budget: []Component{{"ring fit", "A", u}}}
	p := coverage.Within([2]float64{right, up}, cov, 2)
	m.Verdict = &Verdict{LimitMM: 2, State: coverage.State(p), Probability: p, Rule: "inside from 95 %"}
	return &m
}

// sample is a report with one of everything: a second photo that was not taken,
// a pointer, a refusal, a warning, a photo of no station, no photo of one.
func sample() *Report {
	warned := mark("front-right.jpg", "burn", 1.3125, 2.25, 0.0125)
	warned.Warnings = []Warning{{"one-ring", "only one ring was seen: hold the phone squarely"}}
	middle := refused()
	middle.Photo.SHA256, middle.Warnings = hashOf("middle.jpg"), []Warning{}
	r := &Report{
		Schema:  SchemaReport,
		Created: "2026-09-02T09:30:00+02:00",
		Tool:    Tool{"burngauge", "1.2.3", "4.6.0"},
		Job:     Job{"J-17", "bed 3", "A. <Tech>", "hall \"B\"", "two\nlines"},
		Target:  target.Default(),
		LimitMM: 2,
		Rule:    "inside when the probability of lying within the limit is at least 95 %",
		Expected: []string{
			"rear-left", "front-left", "middle", "front-right"},
		Stations: []Station{
			{Station: "rear-left", Photos: []string{"rear-left.jpg", "rear-left (2).jpg"},
				Burn:    mark("rear-left.jpg", "burn", -0.4375, 0.875, 0.0125),
				Pointer: mark("rear-left.jpg", "pointer", 0.5, 0.25, 0.0125),
				Others:  []Measurement{*mark("rear-left (2).jpg", "burn", -0.45, 0.85, 0.05)}},
			{Station: "middle", Photos: []string{"middle.jpg"}, Burn: &middle, Others: []Measurement{}},
			{Station: "front-right", Photos: []string{"front-right.jpg"}, Burn: warned, Others: []Measurement{}},
		},
		Unassigned: []Unassigned{{Photo{File: "cat.jpg", SHA256: hashOf("cat.jpg"), Bytes: 7}, "the name holds no station"}},
	}
	r.Stations[0].BeamFromPointer = Part(r.Stations[0].Burn, r.Stations[0].Pointer)
	r.Judge()
	return r
}

// encoded is the report as a file.
func encoded(t testing.TB, r *Report) []byte {
	data, err := r.Encode()
	require.NoError(t, err)
	return data
}
