package report_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/target"
)

// The burn at each station, as a planner wants it: its place and how sure it
// is. A station without one says why.
func ExampleReadFile() {
	r, err := report.ReadFile("testdata/report.json")
	if err != nil {
		fmt.Println(err) // one line with the next step; exit code 2
		return
	}
	for _, s := range r.Stations {
		switch burn := s.Burn; {
		case burn == nil:
			fmt.Printf("%s: no photo\n", s.Station)
		case burn.Status != report.Measured:
			fmt.Printf("%s: %s\n", s.Station, burn.Refusal.Text)
		default:
			o, u := burn.Offset, burn.Uncertainty
			fmt.Printf("%s: right %s mm, up %s mm, %s\n", s.Station,
				report.Format(o.RightMM, u.RadiusMM), report.Format(o.UpMM, u.RadiusMM), burn.Verdict.State)
		}
	}
	fmt.Println(r.Verdict.State)
	fmt.Println("as it was written:", r.DigestOK())
	// Output:
	// rear-left: right -0.438 ± 0.031 mm, up 0.875 ± 0.031 mm, inside
	// middle: the target is cut off at the left: step back
	// front-right: right 1.312 ± 0.031 mm, up 2.250 ± 0.031 mm, outside
	// incomplete
	// as it was written: true
}

// A report from another program, whose measurements came from elsewhere.
func ExampleReport_WriteFile() {
	burn := &report.Measurement{
		Photo: report.Photo{File: "middle.jpg"}, Mark: "burn", Target: target.DefaultName, Status: report.Measured,
		Offset:      &report.Offset{RightMM: 0.3, UpMM: 0.4, DistanceMM: 0.5, Clock: target.Clock(0.3, 0.4), Rings: target.Default().Rings(0.5)},
		Uncertainty: &report.Uncertainty{CovarianceMM2: [2][2]float64{{4e-4, 0}, {0, 4e-4}}, RadiusMM: 0.049, Coverage: 0.95},
		Verdict:     &report.Verdict{LimitMM: 2, State: "inside", Probability: 1, Rule: "inside from 95 %"},
	}
	r := &report.Report{
		Created: "2026-09-02T09:30:00+02:00",
		Tool:    report.Tool{Name: "my-service-system"},
		Target:  target.Default(), LimitMM: 2, Rule: "inside from 95 %",
		Expected: []string{"middle"},
		Stations: []report.Station{{Station: "middle", Photos: []string{"middle.jpg"}, Burn: burn}},
	}
	fmt.Println(r.Judge().Text)
	dir, err := os.MkdirTemp("", "report")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(dir)
	if err := r.WriteFile(filepath.Join(dir, "report.json")); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(r.Schema, r.Integrity.Algorithm, len(r.Integrity.Digest))
	// Output:
	// The one station is inside the limit of 2 mm.
	// burngauge.report/1 sha256/RFC 8785 64
}

// What is not a report gives one line that says what to do.
func ExampleRead() {
	_, err := report.Read(strings.NewReader(`{"schema": "burngauge.report/2"}`))
	fmt.Println(err)
	// Output:
	// report: the schema is "burngauge.report/2" and this program reads "burngauge.report/1": use the program that wrote it, or survey the photos again
}

// The verdict in words for people who work in inches.
func ExampleReport_VerdictText() {
	r, err := report.ReadFile("testdata/report.json")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(r.VerdictText(report.Inches))
	// Output:
	// 2 of 4 stations are not measured: front-left and middle. 1 of 2 measured stations is inside the limit of 0.0787 in; front-right is outside: 0.1026 in at 1:00.
}

// Where the red dot and the beam part ways.
func ExamplePart() {
	at := func(right, up float64) *report.Measurement {
		return &report.Measurement{Status: report.Measured,
			Offset:      &report.Offset{RightMM: right, UpMM: up},
			Uncertainty: &report.Uncertainty{CovarianceMM2: [2][2]float64{{1e-4, 0}, {0, 1e-4}}}}
	}
	p := report.Part(at(-0.5, 0.75), at(0.25, 0.5))
	fmt.Printf("the beam lies %s mm right and %s mm up of the pointer\n",
		report.Format(p.RightMM, p.RadiusMM), report.Format(p.UpMM, p.RadiusMM))
	// Output:
	// the beam lies -0.750 ± 0.035 mm right and 0.250 ± 0.035 mm up of the pointer
}
