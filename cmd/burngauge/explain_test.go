package main

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/terminal"
)

// refusedBy is a photo that one invented decision refused.
func refusedBy(name string) measured {
	value := 0.21
	return measured{marks: []report.Measurement{{
		Photo: report.Photo{File: "a.jpg", SHA256: strings.Repeat("0", 64)}, Mark: "burn", Target: "plain-4", Status: report.Refused,
		Refusal: &report.Refusal{Code: "glare", Text: "it shines: turn the lamp"},
		Decisions: []report.Decision{{Name: name, Value: &value, Test: ">", Limit: 0.18, Then: "refused: glare",
			Outcome: "refused: glare", Of: 1, Holding: 1}},
	}}}
}

// written is what measure writes of one photo.
func written(t *testing.T, o *measureOptions, m measured) string {
	t.Helper()
	var out, talk bytes.Buffer
	streams := terminal.NewStreams(strings.NewReader(""), &out, &talk)
	o.streams, o.units = streams, string(report.Millimetres)
	tally := &measureTally{o: o, tally: tally{streams: streams, progress: streams.Progress("photos", 1)}, labels: []string{"a.jpg"}}
	require.NoError(t, tally.take(0, m))
	require.NoError(t, tally.writeDocument())
	return out.String()
}

func TestTheExplanationStandsBelowTheTable(t *testing.T) {
	out := written(t, &measureOptions{explain: true}, refusedBy("locate.MostGlare"))
	table, explanation, found := strings.Cut(out, "\n\na.jpg  burn  refused: glare\n  decided: locate.MostGlare 0.21 > 0.18: refused: glare; what it means: pkg/locate/settings.go\n")
	require.True(t, found, out)
	assert.Contains(t, table, "turn the lamp")
	assert.Contains(t, explanation, "=> locate.MostGlare  0.21 > 0.18  yes: refused: glare\n")
	assert.NotContains(t, written(t, &measureOptions{}, refusedBy("locate.MostGlare")), "decided:")
}

func TestInJSONTheDecisionsStandInTheirMeasurement(t *testing.T) {
	for _, o := range []*measureOptions{{explain: true, json: true}, {explain: true, ndjson: true}} {
		out := written(t, o, refusedBy("locate.MostGlare"))
		assert.Equal(t, 1, strings.Count(out, `"locate.MostGlare"`), out)
		assert.NotContains(t, out, "decided:")
	}
}
