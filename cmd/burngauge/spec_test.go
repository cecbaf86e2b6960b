package main

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/target"
)

func TestAShownSpecReadsBackAsTheSameTarget(t *testing.T) {
	awkward := target.Default()
	awkward.Name = "shop-2"
	awkward.RingsMM = []float64{3.05, 7.5, 11.125}
	awkward.Checked = `rule: "steel", #3, 2026-03`
	specs := []target.Spec{awkward}
	for _, name := range target.Names() {
		spec, ok := target.Builtin(name)
		require.True(t, ok)
		specs = append(specs, spec)
	}
	for _, spec := range specs {
		var text bytes.Buffer
		require.NoError(t, writeSpec(&text, spec))
		got, err := target.Parse("shown.yaml", text.Bytes())
		require.NoError(t, err, text.String())
		assert.Equal(t, spec, got)
	}
}
