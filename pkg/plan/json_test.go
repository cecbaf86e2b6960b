package plan

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// written is a plan as a file.
func written(t testing.TB, p *Plan) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, p.Encode(&b))
	return b.String()
}

func onePlan() *Plan {
	return &Plan{Schema: SchemaPlan, Machine: "bed", Report: "ab", Status: StatusTurn, FireNext: []string{}, Cautions: []string{"<care>"},
		Turns:     []Turn{{Mirror: "1", Screw: "A", Turns: -0.125, Direction: "anticlockwise"}},
		Predicted: []Predicted{{Station: "middle", RightMM: 0.1, UpMM: 0.2, RadiusMM: 0.3, State: "inside"}},
		Findings:  []Finding{{Code: "x", Text: "y", Evidence: "z"}}}
}

func TestAPlanReadsBackAsItWasWritten(t *testing.T) {
	p, err := Decode(strings.NewReader(written(t, onePlan())))
	require.NoError(t, err)
	assert.Equal(t, onePlan(), p)
}

func TestEmptyListsAreListsAndNotNull(t *testing.T) {
	text := written(t, &Plan{Schema: SchemaPlan, Status: StatusNothing})
	assert.NotContains(t, text, "null")
	assert.Contains(t, text, `"turns": []`)
}

func TestWhatIsNoPlanIsRefused(t *testing.T) {
	good := written(t, onePlan())
	for text, want := range map[string]string{
		"":                                 "not the JSON",
		"[]":                               "not the JSON",
		"{}":                               `the schema is ""`,
		`{"schema": "burngauge.report/1"}`: "give a file from mirrorplan plan -o",
		strings.Replace(good, "plan/1", "plan/2", 1):            `"mirrorplan.plan/2"`,
		strings.Replace(good, `"turn"`, `"spin"`, 1):            `the status is "spin"`,
		strings.Replace(good, `"screw": "A"`, `"screw": ""`, 1): "turns[0]: it names no mirror and screw",
		strings.Replace(good, "-0.125", "0.125", 1):             "turns[0]: 0.125 turns are not anticlockwise",
		strings.Replace(good, "-0.125", "-1e9", 1):              "beyond any screw",
		`{"schema":"` + strings.Repeat("x", maxBytes) + `"}`:    "over 4 MB",
	} {
		_, err := Decode(strings.NewReader(text))
		require.Error(t, err)
		assert.Contains(t, err.Error(), want)
		assert.NotContains(t, err.Error(), "\n")
	}
}

// What is read is written and read again as the same plan.
func FuzzDecode(f *testing.F) {
	f.Add(written(f, onePlan()))
	f.Add(`{"schema":"mirrorplan.plan/1","status":"fire-more","fire_next":["middle"],"turns":null}`)
	f.Add(`{"schema":"mirrorplan.plan/1.2","status":"turn","turns":[{"mirror":"1","screw":"A","turns":1e-9}]}`)
	f.Fuzz(func(t *testing.T, text string) {
		p, err := Decode(strings.NewReader(text))
		if err != nil {
			return
		}
		again, err := Decode(strings.NewReader(written(t, p)))
		require.NoError(t, err)
		assert.Equal(t, written(t, p), written(t, again))
	})
}
