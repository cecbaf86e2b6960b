package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/photoset"
	"burngauge.dev/burngauge/pkg/report"
)

// rounding allows for float64 in sums of a few numbers.
const rounding = 1e-12

// decided is an invented decision "value > limit".
func decided(name string, value, limit float64, then string) report.Decision {
	d := report.Decision{Name: name, Value: &value, Test: ">", Limit: limit, Then: then, Of: 1}
	if value > limit {
		d.Holding, d.Outcome = 1, then
	}
	return d
}

// casesIn are invented cases of one limit of 10, one for each value.
func casesIn(k kind, values ...float64) (out []limitCase) {
	for _, v := range values {
		out = append(out, limitCase{decided("search.Most", v, 10, "left out"), k, fmt.Sprintf("set/%g.jpg", v)})
	}
	return out
}

// From 0 to 100 in steps of 1, the quantiles are the percentages themselves.
func TestEachKindHasItsQuantiles(t *testing.T) {
	var values []float64
	for i := range 101 {
		values = append(values, float64((i*37)%101)) // all of them, in another order
	}
	list := summarize(append(casesIn(onTarget, values...), casesIn(offTarget, 12, 14, 300)...))
	require.Len(t, list, 1)
	l := list[0]
	require.Len(t, l.sides, 2)
	assert.Equal(t, []float64{0, 5, 50, 95, 100}, l.sides[0].spread())
	assert.Equal(t, 101, l.sides[0].cases)
	assert.Equal(t, 90, l.sides[0].holding, "11 to 100 lie above the limit")
	assert.Zero(t, l.sides[0].nearest, "one lies on the limit")
	assert.Equal(t, "set/10.jpg", l.sides[0].nearestIn)
	assert.InDelta(t, 0.2, l.sides[1].nearest, rounding, "12 is 20 % above 10")
	assert.Equal(t, "set/12.jpg", l.sides[1].nearestIn)
	assert.True(t, l.few(), "3 of the other kind")
}

// Mann and Whitney's U counted by hand: of 1, 2, 3 against 2, 4 the pairs in which the
// second lies below the first are (3, 2) and half of (2, 2), 1.5 of 6.
func TestTheOverlapIsTheShareOfPairsInTheRarerOrder(t *testing.T) {
	assert.InDelta(t, 0.25, mixed([]float64{1, 2, 3}, []float64{4, 2}), rounding)
	assert.InDelta(t, 0.25, mixed([]float64{4, 2}, []float64{1, 2, 3}), rounding, "whichever comes first")
	assert.Zero(t, mixed([]float64{5, 6}, []float64{1, 2}), "apart")
	assert.Equal(t, 0.5, mixed([]float64{1, 1}, []float64{1}), "alike")
	assert.True(t, math.IsNaN(mixed(nil, []float64{1})))
}

func TestALimitRestingOnFewerThanThirtyOfAKindIsMarked(t *testing.T) {
	many := make([]float64, fewCases)
	enough := append(casesIn(onTarget, many...), casesIn(offTarget, many...)...)
	assert.False(t, summarize(enough)[0].few())
	assert.True(t, summarize(enough[1:])[0].few(), "29 of one kind")
	assert.True(t, summarize(enough[:fewCases])[0].few(), "one kind alone")
	nothing := enough[0]
	nothing.Value = nil
	enough[0] = nothing
	assert.True(t, summarize(enough)[0].few(), "one of 30 had nothing to measure")
}

// Values under a limit that follows the photo are compared as parts of it.
func TestALimitThatVariesIsShownInPartsOfItself(t *testing.T) {
	cases := []limitCase{{decided("search.Most", 5, 10, "x"), onTarget, "a"}, {decided("search.Most", 30, 20, "x"), onTarget, "b"}}
	l := summarize(cases)[0]
	assert.Equal(t, relativeUnit, l.unit)
	assert.Equal(t, []float64{0.5, 1.5}, l.sides[0].values)
	assert.Contains(t, l.heading(), "a limit that varies")
}

// invented is a photo of a target of 100 px radius about (500, 400), 10 px to the mm,
// with a burn of 4 mm at 3 mm right and 4 mm up.
func invented(expect, refusal string) photoset.Photo {
	return photoset.Photo{File: "a.jpg", Spec: "plain-4.yaml", Target: "plain-4", Expect: expect, Refusal: refusal, Mark: "burn",
		Fraction: 0.2, Centre: [2]float64{500, 400}, Scale: 10, Burn: &photoset.Mark{RightMM: 3, UpMM: 4, MajorMM: 4}}
}

func measured(rollDeg float64) report.Measurement {
	return report.Measurement{Mark: "burn", Photo: report.Photo{File: "a.jpg", Width: 2000, Height: 1000}, View: &report.View{RollDeg: rollDeg}}
}

func at(d report.Decision, x, y float64) report.Decision {
	d.AtPX = &[2]float64{x, y}
	return d
}

func TestALimitThatRefusesPartsPhotosByTheReasonOfTheTruth(t *testing.T) {
	d := at(decided("locate.MostGlare", 1, 2, "refused: glare"), 0, 0)
	assert.Equal(t, toMeasure, kindOf(d, measured(0), invented(photoset.Measure, "")))
	assert.Equal(t, toRefuse, kindOf(d, measured(0), invented(photoset.Refuse, "glare")))
	assert.Equal(t, noKind, kindOf(d, measured(0), invented(photoset.Refuse, "blurred")), "it says nothing of glare")
	assert.Equal(t, noKind, kindOf(d, measured(0), invented(photoset.Either, "")))
	d.Then = "refused: glare, farther off"
	assert.Equal(t, toRefuse, kindOf(d, measured(0), invented(photoset.Refuse, "glare")))
	whole := decided("locate.MostNoise", 1, 2, "left out")
	assert.Equal(t, toRefuse, kindOf(whole, measured(0), invented(photoset.Refuse, "blurred")))
	assert.Equal(t, toMeasure, kindOf(whole, measured(0), invented(photoset.Measure, "")))
}

func TestAPlaceIsHeldAgainstTheTargetsCentre(t *testing.T) {
	d := decided("locate.LeastArc", 1, 2, "left out")
	p := invented(photoset.Measure, "")
	assert.Equal(t, onTarget, kindOf(at(d, 506, 408), measured(0), p), "a tenth of 100 px away")
	assert.Equal(t, offTarget, kindOf(at(d, 506, 409), measured(0), p))
	p.Target = "wide-3"
	assert.Equal(t, offTarget, kindOf(at(d, 500, 400), measured(0), p), "another target is not the one that was asked for")
}

// 3 mm right and 4 mm up are 30 px right and 40 px up in a photo that is upright, and
// 40 px right and 30 px down where the target's top points to the right.
func TestAPlaceIsHeldAgainstTheMarkWhereverTheTargetsTopPoints(t *testing.T) {
	d := decided("burn.MostHalved", 1, 2, "refused")
	for roll, want := range map[float64][2]float64{0: {530, 360}, 90: {540, 430}, 180: {470, 440}, -90: {460, 370}} {
		x, y := want[0], want[1]
		assert.Equal(t, onMark, kindOf(at(d, x+19, y), measured(roll), invented(photoset.Measure, "")), "roll %g", roll)
		assert.Equal(t, offMark, kindOf(at(d, x+21, y), measured(roll), invented(photoset.Measure, "")), "roll %g", roll)
	}
	unseen := measured(0)
	unseen.View = nil
	assert.Equal(t, noKind, kindOf(at(d, 530, 360), unseen, invented(photoset.Measure, "")))
	assert.Equal(t, nearRival, kindOf(at(d, 0, 0), measured(0), invented(photoset.Refuse, "two-marks")), "it may be the second mark")
	bare := invented(photoset.Refuse, "no-mark")
	bare.Burn = nil
	assert.Equal(t, offMark, kindOf(at(d, 530, 360), measured(0), bare))
}

func TestWhatTwoMarksOfAPhotoShareCountsOnce(t *testing.T) {
	burn, pointer := measured(0), measured(0)
	pointer.Mark = "pointer"
	burn.Decisions = []report.Decision{decided("locate.Most", 1, 2, "x"), decided("burn.Most", 1, 2, "x")}
	pointer.Decisions = []report.Decision{decided("locate.Most", 1, 2, "x"), decided("pointer.Most", 1, 2, "x")}
	b := photoset.Batch{Folder: "/tmp/set", Photos: []photoset.Photo{invented(photoset.Measure, "")}}
	var names []string
	for _, c := range casesOf(b, []report.Measurement{burn, pointer}) {
		names = append(names, c.Name)
		assert.Equal(t, "set/a.jpg", c.photo)
	}
	assert.Equal(t, []string{"locate.Most", "burn.Most", "pointer.Most"}, names)
}

func TestTheTableAndTheCSVSayTheSame(t *testing.T) {
	list := summarize(append(casesIn(onTarget, 1, 2, 3), casesIn(offTarget, 11, 21)...))
	var table, file bytes.Buffer
	require.NoError(t, writeTable(&table, list))
	lines := strings.Split(table.String(), "\n")
	assert.Equal(t, "search.Most > 10: left out; overlap 0 %; few", lines[1])
	assert.Equal(t, strings.Fields("on target 3 0 1 1.1 2 2.9 3 3 (70 %) set/3.jpg"), strings.Fields(lines[2]))
	assert.Equal(t, strings.Fields("off target 2 2 11 11.5 16 20.5 21 11 (10 %) set/11.jpg"), strings.Fields(lines[3]))
	require.NoError(t, writeCSV(&file, list))
	rows, err := csv.NewReader(&file).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 3)
	assert.Equal(t, columns, rows[0])
	assert.Equal(t, []string{"search.Most", ">", "10", "", "left out", "false", "off target", "2", "2", "0", "11", "11.5", "16", "20.5", "21", "11", "0.1", "set/11.jpg", "0", "true", "0"}, rows[2])
}

func TestPercentAreReadable(t *testing.T) {
	for v, want := range map[float64]string{0: "0 %", 0.0028: "0.28 %", 0.099: "9.9 %", 0.5: "50 %", 1: "100 %", 234.4: "23440 %"} {
		assert.Equal(t, want, percent(v))
	}
	assert.Equal(t, "-", percent(math.NaN()))
}
