package report

import (
	"bytes"
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// former is a report as earlier versions wrote it: the sample's, its target without
// tape_u_mm and with a tape of the height, digested anew by the rule of RFC 8785.
func former(t *testing.T, tapeMM float64) []byte {
	t.Helper()
	var doc map[string]any
	require.NoError(t, json.Unmarshal(encoded(t, sample()), &doc))
	spec := doc["target"].(map[string]any)
	delete(spec, "tape_u_mm")
	spec["tape_mm"] = tapeMM
	delete(doc, "integrity")
	plain, err := json.Marshal(doc)
	require.NoError(t, err)
	tree, err := parseTree(plain)
	require.NoError(t, err)
	text, err := canonical(tree.(*object))
	require.NoError(t, err)
	doc["integrity"] = map[string]any{"algorithm": DigestAlgorithm, "digest": digestOf(text)}
	out, err := json.Marshal(doc)
	require.NoError(t, err)
	return out
}

// A quarter of the tape's height was its uncertainty before specs stated one.
func TestAReportFromBeforeTapeHadAnUncertaintyIsReadAsItWasMeant(t *testing.T) {
	for tape, u := range map[float64]float64{0: 0, 0.2: 0.05} {
		r := readText(t, former(t, tape))
		assert.Equal(t, u, r.Target.TapeUMM)
		assert.True(t, r.DigestOK(), "tape %g", tape)
		again, err := r.Encode()
		require.NoError(t, err)
		assert.False(t, bytes.Contains(again, []byte(`"tape_u_mm"`)), "a report that was only read is written as it was")

		r.Target.TapeUMM = 0.01
		assert.False(t, r.DigestOK(), "what was changed shows")
		again, err = r.Encode()
		require.NoError(t, err)
		assert.Equal(t, 0.01, readText(t, again).Target.TapeUMM)
	}
}

func TestTheTapesHeightInWords(t *testing.T) {
	spec := sample().Target
	assert.Equal(t, "0.12 mm \u00b1 0.04 mm", Millimetres.Tape(spec))
	assert.Equal(t, "0.00472 in \u00b1 0.00157 in", Inches.Tape(spec)) // over 25.4
	spec.TapeMM, spec.TapeUMM = 0, 0
	assert.Equal(t, "0, on the rings' own plane", Millimetres.Tape(spec))
}
