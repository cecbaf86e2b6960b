package main

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/photoset"
	"burngauge.dev/burngauge/pkg/report"
)

// rounding allows for float64 in sums of a few numbers.
const rounding = 1e-12

// said is an outcome: expectation, true offset, stated offset, stated radius.
func said(expect string, truth photoset.Mark, right, up, radius float64) outcome {
	return outcome{
		photo: photoset.Photo{File: "p.jpg", Spec: "plain-4", Category: "clean", Expect: expect, Mark: "burn", Burn: &truth},
		mark:  "burn",
		said: report.Measurement{
			Status:      "measured",
			Offset:      &report.Offset{RightMM: right, UpMM: up},
			Uncertainty: &report.Uncertainty{RadiusMM: radius},
		},
	}
}

func refused(expect string) outcome {
	o := said(expect, photoset.Mark{}, 0, 0, 0)
	o.said = report.Measurement{Status: "refused", Refusal: &report.Refusal{Code: "glare"}}
	return o
}

// A 3-4-5 triangle: stated (1.3, 2.4) of true (1, 2) is 0.5 mm off.
func TestErrorIsTheDistanceLessTheDefinitionSpreadButNeverBelowZero(t *testing.T) {
	o := said(photoset.Measure, photoset.Mark{RightMM: 1, UpMM: 2, DefinitionSpreadMM: 0.2}, 1.3, 2.4, 0.5)
	assert.InDelta(t, 0.5, o.trueError(), rounding)
	assert.InDelta(t, 0.3, o.scoredError(), rounding)
	o.photo.Burn.DefinitionSpreadMM = 0.6
	assert.Zero(t, o.scoredError())
}

func TestCoverageDoesNotSubtractTheSpread(t *testing.T) {
	o := said(photoset.Measure, photoset.Mark{DefinitionSpreadMM: 1}, 0.3, 0.4, 0.49)
	assert.False(t, o.covered())
	o.said.Uncertainty.RadiusMM = 0.51
	assert.True(t, o.covered())
}

func TestOnlyAPlainWrongSideIsWrong(t *testing.T) {
	for _, c := range []struct {
		distance float64
		state    string
		wrong    bool
	}{
		{1.9, "inside", false}, {2.1, "inside", true},
		{2.1, "outside", false}, {1.9, "outside", true},
		{1.9, "borderline", false}, {2.1, "borderline", false},
	} {
		o := said(photoset.Measure, photoset.Mark{RightMM: c.distance}, c.distance, 0, 0.1)
		o.said.Verdict = &report.Verdict{LimitMM: 2, State: c.state}
		assert.Equal(t, c.wrong, o.wrongSide(), "%+v", c)
	}
}

func states(rows []row) map[string]string {
	out := map[string]string{}
	for _, r := range rows {
		out[r.what] = r.state
	}
	return out
}

func repeat(o outcome, n int) []outcome {
	all := make([]outcome, n)
	for i := range all {
		all[i] = o
		all[i].photo.File = string(rune('a'+i%26)) + string(rune('a'+i/26)) + ".jpg"
	}
	return all
}

func TestRowsFailJustBeyondTheirBounds(t *testing.T) {
	const measuredWhat = "measurable photos that are measured"
	const coveredWhat = "true error within the stated radius"
	good := said(photoset.Measure, photoset.Mark{}, 0.01, 0, 0.02)
	beyond := said(photoset.Measure, photoset.Mark{}, 0.03, 0, 0.02)

	all := repeat(good, 20)
	assert.False(t, failed(overall(all)))

	all[0].said = refused(photoset.Measure).said
	assert.Equal(t, "pass", measuredRow(all).state, "19 of 20 is 95 %")
	all[1].said = refused(photoset.Measure).said
	assert.Equal(t, "FAIL", states(overall(all))[measuredWhat], "18 of 20")

	all = append(repeat(good, 92), repeat(beyond, 8)...)
	assert.Equal(t, "pass", coverageRow(all).state, "92 of 100")
	all = append(repeat(good, 91), repeat(beyond, 9)...)
	assert.Equal(t, "FAIL", states(overall(all))[coveredWhat], "91 of 100")
	assert.Equal(t, "FAIL", coverageRow(repeat(good, 100)).state, "100 of 100 is too cautious")
	assert.Equal(t, "pass", coverageRow(repeat(good, 50)).state, "50 of 50 says nothing")

	assert.Equal(t, "FAIL", errorRow(append(repeat(good, 99), said(photoset.Measure, photoset.Mark{}, 0.31, 0, 1))).state, "worst")
	assert.Equal(t, "FAIL", errorRow(repeat(said(photoset.Measure, photoset.Mark{}, 0.031, 0, 1), 3)).state, "median")
	assert.Equal(t, "FAIL", errorRow(append(repeat(good, 90), repeat(said(photoset.Measure, photoset.Mark{}, 0.11, 0, 1), 10)...)).state, "95th")
}

func TestEitherCountsOnlyWhenMeasuredAndRefuseNever(t *testing.T) {
	assert.Equal(t, "-", measuredRow([]outcome{refused(photoset.Either)}).state)
	assert.Equal(t, "-", coverageRow([]outcome{refused(photoset.Either)}).state)
	missed := said(photoset.Either, photoset.Mark{}, 1, 0, 0.1)
	assert.Equal(t, "FAIL", coverageRow([]outcome{missed, missed}).state, "0 of 2: one time in 400")

	bold := said(photoset.Refuse, photoset.Mark{}, 1, 0, 0.1)
	assert.Equal(t, "FAIL", refusalRow([]outcome{bold}).state)
	assert.Equal(t, "-", coverageRow([]outcome{bold}).state)
	assert.Equal(t, "pass", refusalRow([]outcome{refused(photoset.Refuse)}).state)
}

// Three refusals of which the truth names the cause of two, and one of those is named.
func TestTheCauseOfARefusalIsCountedWhereItIsKnownAndNeverFails(t *testing.T) {
	all := repeat(refused(photoset.Refuse), 3)
	assert.Equal(t, "none known here", causeRow(all).got)
	all[0].photo.Refusal = "glare"
	all[1].photo.Refusal = "cut-off"
	assert.Equal(t, "1 of 2, 50.0 %", causeRow(all).got)
	assert.Equal(t, "-", causeRow(all).state)
	bold := said(photoset.Refuse, photoset.Mark{}, 1, 0, 0.1)
	bold.photo.Refusal = "glare"
	assert.Equal(t, "none known here", causeRow([]outcome{bold}).got, "what was measured is another row's business")
}

func TestOneCircleIsJudgedApart(t *testing.T) {
	o := said(photoset.Measure, photoset.Mark{}, 0.25, 0, 0.5)
	o.photo.Category = "rim only"
	assert.Equal(t, "-", errorRow([]outcome{o}).state)
	assert.Equal(t, "pass", oneCircleRow([]outcome{o}).state)
	o.said.Offset.RightMM = 0.31
	assert.Equal(t, "FAIL", oneCircleRow([]outcome{o}).state)
}

func TestTheAnswersMustBeToTheQuestions(t *testing.T) {
	b := photoset.Batch{Spec: "plain-4", Mark: "both", Photos: []photoset.Photo{{File: "a.jpg", Mark: "both"}}}
	burn := report.Measurement{Mark: "burn", Photo: report.Photo{File: "a.jpg"}}
	pointer := report.Measurement{Mark: "pointer", Photo: report.Photo{File: "a.jpg"}}
	got, err := pair(b, []report.Measurement{burn, pointer})
	require.NoError(t, err)
	assert.Len(t, got, 2)
	_, err = pair(b, []report.Measurement{burn})
	assert.ErrorContains(t, err, "nothing of the pointer in a.jpg")
	_, err = pair(b, []report.Measurement{burn, pointer, {Mark: "burn", Photo: report.Photo{File: "b.jpg"}}})
	assert.ErrorContains(t, err, "3 measurements, 2 were asked for")
}
