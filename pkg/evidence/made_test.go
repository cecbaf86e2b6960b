package evidence

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"math"
	"os"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/target"
)

// made is the time that the tests' sheets carry.
var made = time.Date(2026, 9, 2, 11, 30, 0, 0, time.FixedZone("", 2*3600))

const rule = "inside when the probability of lying within the limit is at least 0.95, outside when at most 0.05, otherwise borderline (JCGM 106, two-dimensional normal)"

// mark is a measured burn; state is as the limit of 2 mm would have it.
func mark(file string, right, up, radius float64) *report.Measurement {
	d := math.Hypot(right, up)
	state, p := "inside", 0.9999
	switch {
	case math.Abs(d-2) < 2*radius:
		state, p = "borderline", 0.61
	case d > 2:
		state, p = "outside", 0.0001
	}
	return &report.Measurement{
		Photo: report.Photo{File: file, SHA256: fmt.Sprintf("%064x", len(file)*7919), Taken: "2026-09-02T09:14:11+02:00"},
		Mark:  "burn", Target: "plain-4", Status: report.Measured,
		Offset:      &report.Offset{RightMM: right, UpMM: up, DistanceMM: d, Clock: target.Clock(right, up), Rings: d / 2},
		Uncertainty: &report.Uncertainty{RadiusMM: radius, Coverage: 0.95},
		Size:        &report.Size{MajorMM: 3.8, MinorMM: 3.4, AxisDeg: 12, Shape: "round"},
		Verdict:     &report.Verdict{LimitMM: 2, State: state, Probability: p, Rule: rule},
	}
}

// round is a report of the given burns at the five stations; nil is missing.
func round(created, reference string, burns ...*report.Measurement) *report.Report {
	names := []string{"rear-left", "front-left", "middle", "rear-right", "front-right"}
	r := &report.Report{
		Schema: report.SchemaReport, Created: created, Tool: report.Tool{Name: "burngauge", Version: "1.0.0", OpenCV: "4.6.0"},
		Job:    report.Job{Reference: reference, Machine: "bed 900 x 600, no. 17", Technician: "Jadwiga Müller-Wałęsa", Site: "Halle 3 – Łódź", Notes: "Mirror 3 cleaned.\nTube 4 months old."},
		Target: target.Default(), LimitMM: 2, Rule: rule, Expected: names,
		Verdict:   report.SetVerdict{State: "outside", WorstStation: "front-right", Text: "front-right is farthest out, 2.62 mm from the centre."},
		Integrity: &report.Integrity{Algorithm: "sha256/RFC 8785", Digest: fmt.Sprintf("%064x", 123456789)},
	}
	for i, b := range burns {
		s := report.Station{Station: names[i], Burn: b}
		if b != nil {
			s.Photos = []string{b.Photo.File}
		}
		r.Stations = append(r.Stations, s)
	}
	return r
}

// cutOff is a photo without a number.
func cutOff(file string) *report.Measurement {
	return &report.Measurement{Photo: report.Photo{File: file}, Mark: "burn", Target: "plain-4", Status: report.Refused,
		Refusal: &report.Refusal{Code: "cut-off", Text: "the target is cut off at the left: step back until all of it is in the picture"}}
}

// example is a round with everything in it that a sheet can show.
func example() Sheet {
	before := round("2026-09-01T08:02:00+02:00", "J-2026-104/1", mark("a.jpg", -2.9, 1.4, 0.03), mark("b.jpg", -1.1, 0.2, 0.03), cutOff("c.jpg"), mark("d.jpg", 1.2, 3.1, 0.04), mark("e.jpg", 2.8, -3.3, 0.05))
	now := round("2026-09-02T09:20:00+02:00", "J-2026-104/2", mark("rear-left.jpg", -0.44, 0.86, 0.03), mark("front-left.jpg", 0.2, -0.31, 0.031), cutOff("middle.jpg"), mark("rear-right.jpg", 1.1, 1.58, 0.22), mark("front-right.jpg", 1.029, -2.413, 0.019))
	now.Stations[3].Burn.Warnings = []report.Warning{{Code: "one-ring", Text: "only one ring was seen: hold the phone squarely, or take two photos from opposite sides"}}
	now.Stations[0].Burn.Size = &report.Size{MajorMM: 4.6, MinorMM: 2.6, AxisDeg: 40, Shape: "oval"}
	dot := mark("rear-left.jpg", 0.31, 0.22, 0.06)
	dot.Mark, dot.Size = "pointer", &report.Size{MajorMM: 1.9, MinorMM: 1.8}
	now.Stations[0].Pointer, now.Stations[0].BeamFromPointer = dot, &report.Parting{RightMM: -0.75, UpMM: 0.64, RadiusMM: 0.067}
	now.Stations[1].Others = []report.Measurement{*cutOff("front-left (2).jpg"), *mark("front-left-and-a-very-long-name-that-a-phone-made-up-20260902_091411_HDR_0000001.jpg", 0.21, -0.3, 0.05)}
	now.Unassigned = []report.Unassigned{{Photo: report.Photo{File: "IMG_0412.jpg", Taken: "2026-09-02T09:01:00"}, Reason: "its name has no station: give --assign STATION=IMG_0412.jpg"}}
	return Sheet{Report: now, Before: before, Units: report.Millimetres, Made: made, Program: "burngauge 1.0.0"}
}

// withPictures adds an overlay for each station that has a photo.
func withPictures(t *testing.T, s Sheet) Sheet {
	t.Helper()
	data, err := os.ReadFile("../../fixtures/pictures/clean.overlay.jpg")
	require.NoError(t, err)
	for _, st := range s.Report.Stations {
		if st.Burn != nil {
			s.Pictures = append(s.Pictures, Picture{Data: data, Station: st.Station, File: st.Burn.Photo.File, Mark: "burn"})
		}
	}
	return s
}

// single is one station alone, for measuring the drawing.
func single(right, up float64, size report.Size) Sheet {
	m := mark("middle.jpg", right, up, 0.02)
	m.Size = &size
	r := round("2026-09-02T09:20:00+02:00", "one", nil, nil, m)
	r.Expected, r.Stations = []string{"middle"}, r.Stations[2:]
	return Sheet{Report: r, Made: made}
}

// crowd is a report of many stations with long names and long notes.
func crowd(n int) Sheet {
	r := round("2026-09-02T09:20:00+02:00", "long")
	r.Expected = nil
	for i := range n {
		m := mark(fmt.Sprintf("a-very-long-name-without-a-single-blank-that-some-phone-made-up-%04d.jpg", i), 0.1*float64(i%7)-0.3, 0.2*float64(i%5), 0.03)
		m.Warnings = []report.Warning{{Code: "shrunk", Text: "the photo looks shrunk or stripped by a messenger: use the original file"}}
		name := fmt.Sprintf("row-%d-and-a-long-name-for-a-place", i)
		r.Expected = append(r.Expected, name)
		r.Stations = append(r.Stations, report.Station{Station: name, Photos: []string{m.Photo.File}, Burn: m})
	}
	for i := range 60 {
		r.Job.Notes += fmt.Sprintf("\nLine %d of the notes, long enough to be broken into two lines on paper, as some technicians do write a great deal when they are alone.", i)
	}
	return Sheet{Report: r, Made: made}
}

// smallJPEG is a valid picture.
func smallJPEG(t *testing.T) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 40, 50)), nil))
	return b.Bytes()
}

// save writes a file by a function.
func save(t *testing.T, path string, write func(*os.File) error) {
	t.Helper()
	f, err := os.Create(path)
	require.NoError(t, err)
	defer f.Close()
	require.NoError(t, write(f))
}
