package survey

import (
	"crypto/sha256"
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/coverage"
	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/target"
)

// measured is a burn at this distance to the right, with this radius, taken at
// this time of a day.
func measured(file, clock string, right, radius float64) Shot {
	m := mark("burn", file, clock, right, radius)
	return Shot{File: file, Marks: []report.Measurement{m}}
}

func mark(name, file, clock string, right, radius float64) report.Measurement {
	variance := radius * radius / 5.991 // chi squared, two degrees of freedom, 0.95
	p := coverage.Within([2]float64{right, 0}, coverage.Isotropic(radius/2.4477), 2)
	return report.Measurement{
		Photo: report.Photo{File: file, SHA256: fmt.Sprintf("%x", sha256.Sum256([]byte(file))), Taken: taken(clock)}, Mark: name, Target: "plain-4", Status: report.Measured,
		Offset:      &report.Offset{RightMM: right, DistanceMM: right, Clock: "3:00", Rings: right / 2},
		Uncertainty: &report.Uncertainty{CovarianceMM2: [2][2]float64{{variance, 0}, {0, variance}}, RadiusMM: radius, Coverage: 0.95},
		Verdict:     &report.Verdict{LimitMM: 2, State: coverage.State(p), Probability: p},
	}
}

func taken(clock string) string {
	if clock == "" {
		return ""
	}
	return "2026-09-02T" + clock + ":00+02:00"
}

func refusedShot(file, clock string) Shot {
	return Shot{File: file, Marks: []report.Measurement{{
		Photo: report.Photo{File: file, Taken: taken(clock)}, Mark: "burn", Status: report.Refused,
		Refusal: &report.Refusal{Code: "blurred", Text: "the photo is blurred: hold still"},
	}}}
}

func setup(t *testing.T) Setup {
	return Setup{Stations: stations(t), Report: report.Report{
		Created: "2026-09-02T10:00:00+02:00", Target: target.Default(), LimitMM: 2, Rule: "a rule",
	}}
}

func assemble(t *testing.T, s Setup, shots ...Shot) (*report.Report, []string) {
	t.Helper()
	r, remarks, err := s.Assemble(shots)
	require.NoError(t, err)
	return r, remarks
}

// pass is one pass over the bed, a photo a minute.
func pass(prefix string, hour int, right float64) (shots []Shot) {
	for i, name := range Default() {
		shots = append(shots, measured(prefix+name+".jpg", fmt.Sprintf("%02d:%02d", hour, i), right, 0.02))
	}
	return shots
}

func TestAWholeRoundIsJudged(t *testing.T) {
	r, remarks := assemble(t, setup(t), pass("", 9, 0.5)...)
	assert.Empty(t, remarks)
	assert.Equal(t, "inside", r.Verdict.State)
	assert.Equal(t, Default(), r.Expected)
	var names []string
	for _, s := range r.Stations {
		names = append(names, s.Station)
		assert.Equal(t, []string{s.Station + ".jpg"}, s.Photos)
	}
	assert.Equal(t, Default(), names)
	_, err := r.Encode()
	assert.NoError(t, err, "it fits the schema")
}

func TestTheBetterPhotoIsTheOneThatIsKnownBetterNotTheOneThatLooksBetter(t *testing.T) {
	out := measured("rear-left 2.jpg", "09:01", 3, 0.02) // outside, and surer
	in := measured("rear-left.jpg", "09:00", 0.1, 0.03)
	r, remarks := assemble(t, setup(t), in, out)
	require.Len(t, r.Stations, 1)
	s := r.Stations[0]
	assert.Equal(t, "rear-left 2.jpg", s.Burn.Photo.File)
	assert.Equal(t, []string{"rear-left.jpg", "rear-left 2.jpg"}, s.Photos)
	require.Len(t, s.Others, 1)
	assert.Equal(t, "rear-left.jpg", s.Others[0].Photo.File)
	assert.Equal(t, []string{`rear-left: 2 photos, took "rear-left 2.jpg" (± 0.02 mm) over "rear-left.jpg" (± 0.03 mm)`}, remarks)
}

func TestAMeasuredPhotoGoesBeforeARefusedOne(t *testing.T) {
	r, remarks := assemble(t, setup(t), refusedShot("middle.jpg", ""), measured("middle (2).jpg", "", 0.1, 1))
	assert.Equal(t, "middle (2).jpg", r.Stations[0].Burn.Photo.File)
	assert.Equal(t, report.Refused, r.Stations[0].Others[0].Status)
	require.Len(t, remarks, 1)
	assert.Contains(t, remarks[0], `over "middle.jpg" (refused: blurred)`)
}

func TestOfOnlyARefusedPhotoTheRefusalIsKept(t *testing.T) {
	r, _ := assemble(t, setup(t), refusedShot("middle.jpg", ""))
	require.NotNil(t, r.Stations[0].Burn)
	assert.Equal(t, "blurred", r.Stations[0].Burn.Refusal.Code)
	assert.Equal(t, report.Incomplete, r.Verdict.State)
}

func TestThePointerIsTakenFromTheBurnsPhotoWhereItCanBe(t *testing.T) {
	both := func(file string, u, pu float64) Shot {
		return Shot{File: file, Marks: []report.Measurement{mark("burn", file, "09:00", 1, u), mark("pointer", file, "09:00", 0.4, pu)}}
	}
	r, _ := assemble(t, setup(t), both("middle.jpg", 0.02, 0.05), both("middle 2.jpg", 0.03, 0.04))
	s := r.Stations[0]
	assert.Equal(t, "middle.jpg", s.Burn.Photo.File)
	assert.Equal(t, "middle.jpg", s.Pointer.Photo.File)
	assert.Len(t, s.Others, 2)
	require.NotNil(t, s.BeamFromPointer)
	assert.InDelta(t, 0.6, s.BeamFromPointer.RightMM, 1e-12)

	alone := both("middle.jpg", 0.02, 0.05)
	alone.Marks[1] = report.Measurement{Photo: alone.Marks[0].Photo, Mark: "pointer", Status: report.Refused, Refusal: &report.Refusal{Code: "no-mark", Text: "x"}}
	r, remarks := assemble(t, setup(t), alone, both("middle 2.jpg", 0.03, 0.04))
	assert.Equal(t, "middle.jpg", r.Stations[0].Burn.Photo.File)
	assert.Equal(t, "middle 2.jpg", r.Stations[0].Pointer.Photo.File)
	assert.Contains(t, remarks[0], `the pointer from "middle 2.jpg"`)
}

func TestPhotosOfNoStationAreListedWithTheReason(t *testing.T) {
	gone := Shot{File: "note.jpg", Marks: []report.Measurement{{Photo: report.Photo{File: "note.jpg"}, Mark: "burn",
		Status: report.Unreadable, Refusal: &report.Refusal{Code: "empty", Text: "the file is empty: copy it again"}}}}
	r, _ := assemble(t, setup(t), measured("IMG_2.jpg", "", 1, 1), measured("IMG_1.jpg", "", 1, 1), gone)
	require.Len(t, r.Unassigned, 3)
	assert.Equal(t, "IMG_1.jpg", r.Unassigned[0].Photo.File)
	assert.Contains(t, r.Unassigned[0].Reason, "--assign STATION=IMG_1.jpg")
	assert.Contains(t, r.Unassigned[2].Reason, "the file is empty")
	assert.Empty(t, r.Stations)
}

func TestAssignGoesBeforeTheName(t *testing.T) {
	s := setup(t)
	s.Assigned = map[string]string{"IMG_1.jpg": "middle", "rear-left.jpg": "front-left"}
	r, _ := assemble(t, s, measured("IMG_1.jpg", "", 1, 1), measured("rear-left.jpg", "", 1, 1))
	require.Len(t, r.Stations, 2)
	assert.Equal(t, []string{"rear-left.jpg"}, r.Stations[0].Photos)
	assert.Equal(t, "front-left", r.Stations[0].Station)
	assert.Equal(t, "middle", r.Stations[1].Station)
}

func TestStationsBeyondTheExpectedComeAfterThemByName(t *testing.T) {
	s := setup(t)
	s.Stations = stations(t, "middle", "front-left")
	r, _ := assemble(t, s, pass("", 9, 1)...)
	var names []string
	for _, st := range r.Stations {
		names = append(names, st.Station)
	}
	assert.Equal(t, []string{"middle", "front-left", "front-right", "rear-left", "rear-right"}, names)
}

func TestTheReportDoesNotDependOnTheOrderOfThePhotos(t *testing.T) {
	shots := append(pass("", 9, 1), measured("rear-left 2.jpg", "09:00", 1, 0.02), measured("IMG.jpg", "", 1, 1), refusedShot("middle 2.jpg", ""))
	want, wantRemarks := assemble(t, setup(t), shots...)
	first, err := want.Encode()
	require.NoError(t, err)
	random := rand.New(rand.NewPCG(1, 2))
	for range 50 {
		random.Shuffle(len(shots), func(i, j int) { shots[i], shots[j] = shots[j], shots[i] })
		got, remarks := assemble(t, setup(t), shots...)
		data, err := got.Encode()
		require.NoError(t, err)
		require.Equal(t, string(first), string(data))
		require.Equal(t, wantRemarks, remarks)
	}
}

// A wrong copy makes two corners of one burn: that is said, and not of a station's
// burn and pointer, which share their photo.
func TestOnePictureForTwoStationsIsSaid(t *testing.T) {
	shots := pass("", 9, 0.5)
	for i := range shots {
		shots[i].Marks = append(shots[i].Marks, mark("pointer", shots[i].File, "", 0.3, 0.03))
	}
	_, remarks := assemble(t, setup(t), shots...)
	assert.Empty(t, remarks)
	for i := range shots[4].Marks {
		shots[4].Marks[i].Photo.SHA256 = shots[2].Marks[0].Photo.SHA256
	}
	r, remarks := assemble(t, setup(t), shots...)
	said := `middle and front-right rest on one picture: "front-right.jpg" is a copy of "middle.jpg"`
	assert.Equal(t, []string{said}, remarks)
	_, notes := Verify(reread(t, r), evidence(shots))
	assert.Equal(t, []string{said}, notes)
}
