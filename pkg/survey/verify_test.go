package survey

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/coverage"
	"burngauge.dev/burngauge/pkg/report"
)

// witnessed is a report as it stands in a file, and the photos it was made of.
func witnessed(t *testing.T) (*report.Report, []Shot) {
	t.Helper()
	var shots []Shot
	for i, name := range Default() {
		shot := measured(name+".jpg", "", 0.5+0.4*float64(i), 0.02)
		shot.Marks = append(shot.Marks, mark("pointer", shot.File, "", 0.3, 0.03))
		shots = append(shots, shot)
	}
	shots = append(shots, measured("middle 2.jpg", "", 1.3, 0.05), measured("IMG_1.jpg", "", 3, 0.02))
	r, _ := assemble(t, setup(t), shots...)
	return reread(t, r), shots
}

// reread writes the report, which makes its digest anew, and reads it again.
func reread(t *testing.T, r *report.Report) *report.Report {
	t.Helper()
	data, err := r.Encode()
	require.NoError(t, err)
	out, err := report.Read(bytes.NewReader(data))
	require.NoError(t, err)
	return out
}

func evidence(shots []Shot) Evidence { return Evidence{Shots: shots, SameTool: true, Rule: "a rule"} }

func TestAReportThatSaysWhatItsPhotosSayIsVerified(t *testing.T) {
	r, shots := witnessed(t)
	differences, notes := Verify(r, evidence(shots))
	assert.Empty(t, differences)
	assert.Empty(t, notes)
	e := evidence(shots)
	e.SameTool = false
	differences, _ = Verify(r, e)
	assert.Empty(t, differences, "by another version too")
}

func TestAReportOfOneOfSeveralRoundsIsVerified(t *testing.T) {
	s := setup(t)
	for _, s.Round = range []Round{Latest, All, 1, 2} {
		r, _ := assemble(t, s, threeRounds()...)
		differences, _ := Verify(reread(t, r), evidence(threeRounds()))
		assert.Empty(t, differences, "round %v", s.Round)
	}
}

// Each edit is one that somebody might make, and is found where it was made; the digest
// is always made again. The middle's burn lies 1.3 mm out, that of the front right 2.1 mm, outside.
func TestEveryEditIsFoundThoughTheDigestIsMadeAgain(t *testing.T) {
	right := func(r *report.Report) *report.Station { return &r.Stations[4] }
	edits := map[string]struct {
		do   func(r *report.Report)
		says string
	}{
		"an offset":             {func(r *report.Report) { right(r).Burn.Offset.RightMM = 1.9 }, "front-right, burn in front-right.jpg: distance_mm is 2.1, but the offset gives 1.9"},
		"a hair of an offset":   {func(r *report.Report) { right(r).Burn.Offset.UpMM = 0.0005 }, "offset.up_mm is 0.0005 in the report, 0 by the photo"},
		"offset and distance":   {func(r *report.Report) { o := right(r).Burn.Offset; o.RightMM, o.DistanceMM = 1.9, 1.9 }, "the state is \"outside\", but offset, uncertainty and limit give \"inside\""},
		"a verdict":             {func(r *report.Report) { right(r).Burn.Verdict.State = "inside" }, "front-right.jpg: the state is \"inside\", but"},
		"all of a verdict":      {func(r *report.Report) { v := right(r).Burn.Verdict; v.State, v.Probability = "inside", 1; r.Judge() }, "verdict.state: it is \"inside\" in the report, the photos give \"outside\""},
		"the set's state":       {func(r *report.Report) { r.Verdict.State = "inside" }, "verdict.state: it is \"inside\""},
		"the set's text":        {func(r *report.Report) { r.Verdict.Text = "All stations are inside." }, "verdict.text: it is"},
		"the worst station":     {func(r *report.Report) { r.Verdict.WorstStation = "middle" }, "verdict.worst_station: it is \"middle\""},
		"the limit":             {func(r *report.Report) { r.LimitMM = 3 }, "judged against a limit of 2 mm, the report against 3"},
		"the marks' limits":     {everyLimit, "judged against a limit of 3 mm, the report against 2"},
		"the target's rings":    {func(r *report.Report) { r.Stations[0].Burn.Target = "wide-3" }, "target is \"wide-3\" in the report, \"plain-4\" by the photo"},
		"an uncertainty":        {func(r *report.Report) { right(r).Burn.Uncertainty.RadiusMM = 0.01 }, "radius_mm is 0.01, but the covariance gives 0.02"},
		"a station's name":      {func(r *report.Report) { r.Stations[4].Station = "front-centre"; r.Judge() }, "front-centre: front-right.jpg is of front-right by its name"},
		"two stations' names":   {func(r *report.Report) { s := r.Stations; s[0].Station, s[1].Station = s[1].Station, s[0].Station }, "front-left: rear-left.jpg is of rear-left by its name"},
		"a station left out":    {func(r *report.Report) { r.Stations = r.Stations[:4]; r.Judge() }, "front-right.jpg: the photo is in the folder but not in the report"},
		"a station not wanted":  {func(r *report.Report) { r.Stations, r.Expected = r.Stations[:4], r.Expected[:4]; r.Judge() }, "front-right.jpg: the photo is in the folder but not in the report"},
		"the worse photo":       {takeTheWorse, "middle: the report takes middle 2.jpg, the better photo is middle.jpg"},
		"a photo left out":      {func(r *report.Report) { s := &r.Stations[2]; s.Photos, s.Others = s.Photos[:1], nil }, "middle, burn in middle.jpg: the station's photos do not name it"},
		"a photo's time":        {func(r *report.Report) { right(r).Burn.Photo.Taken = "2026-09-03T10:00:00+02:00" }, "photo.taken is \"2026-09-03T10:00:00+02:00\" in the report"},
		"a photo's hash":        {func(r *report.Report) { right(r).Burn.Photo.SHA256 = strings.Repeat("0", 64) }, "front-right.jpg: the file is not the one that was measured"},
		"a parting":             {func(r *report.Report) { right(r).BeamFromPointer.RightMM = 0 }, "beam_from_pointer.right_mm is 0 in the report, 1.8 by the photo"},
		"a parting taken out":   {func(r *report.Report) { right(r).BeamFromPointer = nil }, "beam_from_pointer is null in the report"},
		"a pointer taken out":   {func(r *report.Report) { s := right(r); s.Pointer, s.BeamFromPointer = nil, nil }, "front-right: the report takes nothing, the better photo is front-right.jpg"},
		"a warning":             {func(r *report.Report) { right(r).Burn.Warnings = []report.Warning{{Code: "small", Text: "x"}} }, "warnings is a list of 1 in the report, one of 0 by the photo"},
		"a refusal for a burn":  {refuseTheBurn, "status is \"refused\" in the report, \"measured\" by the photo"},
		"a stray photo's time":  {func(r *report.Report) { r.Unassigned[0].Photo.Taken = "2026-09-03T10:00:00+02:00" }, "IMG_1.jpg: photo.taken is"},
		"a stray photo removed": {func(r *report.Report) { r.Unassigned = nil }, "IMG_1.jpg: the photo is in the folder but not in the report"},
		"a photo made stray":    {makeStray, "stations: the report has"},
		"the rule":              {func(r *report.Report) { r.Rule = "whatever suits" }, "rule: it is not this program's"},
	}
	for name, edit := range edits {
		r, shots := witnessed(t)
		edit.do(r)
		r = reread(t, r)
		require.True(t, r.DigestOK())
		e := evidence(shots)
		for _, shot := range shots { // as the command finds them
			if !slices.Contains(Named(r), shot.File) {
				e.More = append(e.More, shot.File)
			}
		}
		differences, _ := Verify(r, e)
		var said []string
		for _, d := range differences {
			said = append(said, d.String())
		}
		assert.Contains(t, strings.Join(said, "\n"), edit.says, name)
	}
}

// everyLimit makes the front right inside a wider limit, in every mark's verdict.
func everyLimit(r *report.Report) {
	for i := range r.Stations {
		for _, m := range []*report.Measurement{r.Stations[i].Burn, r.Stations[i].Pointer} {
			m.Verdict = &report.Verdict{LimitMM: 3, State: "inside", Probability: 1}
		}
	}
	r.Judge()
}

func takeTheWorse(r *report.Report) {
	s := &r.Stations[2]
	better, worse := *s.Burn, s.Others[0]
	s.Burn, s.Others[0] = &worse, better
	s.BeamFromPointer = report.Part(s.Burn, s.Pointer)
	r.Judge()
}

func refuseTheBurn(r *report.Report) {
	b := r.Stations[4].Burn
	b.Status, b.Offset, b.Uncertainty, b.Verdict = report.Refused, nil, nil, nil
	b.Refusal = &report.Refusal{Code: "blurred", Text: "x"}
	r.Stations[4].BeamFromPointer = nil
	r.Judge()
}

func makeStray(r *report.Report) {
	r.Unassigned = append(r.Unassigned, report.Unassigned{Photo: r.Stations[4].Burn.Photo, Reason: "blurred"})
	r.Stations, r.Expected = r.Stations[:4], r.Expected[:4]
	r.Judge()
}

func TestAnEditWithoutANewDigestIsFoundByIt(t *testing.T) {
	r, shots := witnessed(t)
	r.Job.Technician = "somebody else" // no photo shows it
	differences, _ := Verify(r, evidence(shots))
	require.Len(t, differences, 1)
	assert.Equal(t, "integrity", differences[0].Where)
	r, shots = witnessed(t)
	r.Integrity = nil
	differences, _ = Verify(r, evidence(shots))
	require.Len(t, differences, 1)
	assert.Contains(t, differences[0].Text, "no digest")
}

func TestAnotherPhotoUnderTheSameNameIsNamedOnce(t *testing.T) {
	r, shots := witnessed(t)
	shots[4].Marks = slices.Clone(shots[4].Marks)
	for i := range shots[4].Marks {
		shots[4].Marks[i].Photo.SHA256 = strings.Repeat("1", 64)
		shots[4].Marks[i].Offset = &report.Offset{RightMM: 9, DistanceMM: 9}
	}
	differences, _ := Verify(r, evidence(shots))
	require.Len(t, differences, 1)
	assert.Equal(t, "front-right.jpg", differences[0].Where)
	assert.Contains(t, differences[0].Text, strings.Repeat("1", 64))
}

func TestAMissingPhotoDoesNotHideAnEditElsewhere(t *testing.T) {
	r, shots := witnessed(t)
	e := evidence(shots[1:])
	e.Missing = []string{shots[0].File}
	differences, _ := Verify(r, e)
	assert.Empty(t, differences)
	r.Verdict.State = "inside"
	differences, _ = Verify(reread(t, r), e)
	require.Len(t, differences, 1)
	assert.Equal(t, "verdict.state", differences[0].Where)
}

func TestAStationByAssignRestsOnTheReportUnlessItIsGivenAgain(t *testing.T) {
	s := setup(t)
	s.Assigned = map[string]string{"IMG_1.jpg": "middle", "rear-left.jpg": "front-left"}
	shots := []Shot{measured("IMG_1.jpg", "", 1, 0.1), measured("rear-left.jpg", "", 1, 0.1)}
	r, _ := assemble(t, s, shots...)
	r = reread(t, r)
	differences, notes := Verify(r, evidence(shots))
	require.Len(t, differences, 1)
	assert.Contains(t, differences[0].Text, "rear-left.jpg is of rear-left by its name")
	assert.Equal(t, []string{"IMG_1.jpg: that it is of middle rests on the report alone, as its name holds no station"}, notes)

	e := evidence(shots)
	e.Assigned = s.Assigned
	differences, notes = Verify(r, e)
	assert.Empty(t, differences)
	assert.Empty(t, notes)
	e.Assigned = map[string]string{"IMG_1.jpg": "front-right", "rear-left.jpg": "front-left"}
	differences, _ = Verify(r, e)
	assert.NotEmpty(t, differences)
}

// Another version may move a mark within the stated radius, and no further, and
// what is edited must still fit together.
func TestAnotherVersionIsHeldToTheStatedRadius(t *testing.T) {
	shift := func(by float64) []Difference {
		r, shots := witnessed(t)
		o := r.Stations[0].Burn.Offset
		o.RightMM, o.DistanceMM = o.RightMM+by, o.DistanceMM+by
		s := &r.Stations[0]
		s.BeamFromPointer = report.Part(s.Burn, s.Pointer)
		v := s.Burn.Verdict
		v.Probability = coverage.Within([2]float64{o.RightMM, 0}, s.Burn.Uncertainty.CovarianceMM2, v.LimitMM)
		r.Judge()
		e := evidence(shots)
		e.SameTool = false
		differences, _ := Verify(reread(t, r), e)
		return differences
	}
	assert.Empty(t, shift(0.019))
	assert.Len(t, shift(0.021), 1)
	r, shots := witnessed(t)
	r.Stations[4].Burn.Verdict.State = "inside"
	r.Judge()
	e := evidence(shots)
	e.SameTool = false
	differences, _ := Verify(reread(t, r), e)
	assert.NotEmpty(t, differences)
}

// A radius twenty times as wide would let any offset within the limit pass.
func TestAnotherVersionDoesNotWidenARadiusManyTimes(t *testing.T) {
	for times, differs := range map[float64]int{2: 0, 20: 1} {
		r, shots := witnessed(t)
		s := &r.Stations[0]
		u := s.Burn.Uncertainty
		for i := range 2 {
			for j := range 2 {
				u.CovarianceMM2[i][j] *= times * times
			}
		}
		u.RadiusMM = coverage.Radius(u.CovarianceMM2, u.Coverage)
		s.BeamFromPointer = report.Part(s.Burn, s.Pointer)
		o, v := s.Burn.Offset, s.Burn.Verdict
		v.Probability = coverage.Within([2]float64{o.RightMM, o.UpMM}, u.CovarianceMM2, v.LimitMM)
		r.Judge()
		e := evidence(shots)
		e.SameTool = false
		differences, _ := Verify(reread(t, r), e)
		assert.Len(t, differences, differs, "%v times: %v", times, differences)
	}
}

// Who edits the tool's version away must not get a wide radius for it: neither one
// that the covariance does not give, nor a verdict that the photo turns round.
func TestAnotherVersionIsNoCoverForAnEdit(t *testing.T) {
	for name, edit := range map[string]func(u *report.Uncertainty){
		"a radius without its covariance": func(u *report.Uncertainty) { u.RadiusMM = 5 },
		"a wide radius": func(u *report.Uncertainty) {
			u.CovarianceMM2 = [2][2]float64{{0.6, 0}, {0, 0.6}}
			u.RadiusMM = coverage.Radius(u.CovarianceMM2, u.Coverage)
		},
	} {
		r, shots := witnessed(t)
		m := r.Stations[4].Burn // at 2.1 mm, outside the limit of 2
		m.Offset.RightMM, m.Offset.DistanceMM, m.Verdict.State = 0.25, 0.25, "inside"
		edit(m.Uncertainty)
		require.Equal(t, "inside", coverage.State(coverage.Within([2]float64{0.25, 0}, m.Uncertainty.CovarianceMM2, 2)), name)
		m.Verdict.Probability = coverage.Within([2]float64{0.25, 0}, m.Uncertainty.CovarianceMM2, 2)
		r.Stations[4].BeamFromPointer = report.Part(m, r.Stations[4].Pointer)
		r.Judge()
		e := evidence(shots)
		e.SameTool = false
		differences, _ := Verify(reread(t, r), e)
		assert.NotEmpty(t, differences, name)
	}
}

func TestDifferencesAreNamedByKeyAndNumber(t *testing.T) {
	r, shots := witnessed(t)
	o := r.Stations[4].Burn.Offset
	o.RightMM, o.UpMM = -o.RightMM, 0
	differences, _ := Verify(reread(t, r), evidence(shots))
	require.NotEmpty(t, differences)
	assert.Equal(t, "front-right, burn in front-right.jpg: offset.right_mm is -2.1 in the report, 2.1 by the photo", differences[0].String())
}
