package typeface

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"

	"github.com/stretchr/testify/require"
)

// TestWidthIsThatOfAnotherRasteriser: x/image's own line measurement, which
// kerns; the text has no kerned pair.
func TestWidthIsThatOfAnotherRasteriser(t *testing.T) {
	parsed, err := opentype.Parse(goregular.TTF)
	require.NoError(t, err)
	const size = 1000
	face, err := opentype.NewFace(parsed, &opentype.FaceOptions{Size: size, DPI: 72, Hinting: font.HintingNone})
	require.NoError(t, err)
	for _, words := range []string{"0.970", "mm", "łódź", "Prüfer – 3"} {
		want := float64(font.MeasureString(face, words)) / 64
		assert.InDelta(t, want, Regular().Width(words, size), 1, words)
	}
}

func TestBoldIsWider(t *testing.T) {
	assert.Greater(t, Bold().Width("measured", 1), Regular().Width("measured", 1))
	assert.Same(t, Bold(), Of(true))
	assert.Same(t, Regular(), Of(false))
}

func TestWrapKeepsEveryCharacterAndTheWidth(t *testing.T) {
	hash := strings.Repeat("0123456789abcdef", 4)
	for _, words := range []string{"", " ", "one", "one two  three", hash, "file " + hash + ".jpg end", "W-WWWWWW-iiii_iiWWW", "bad \xff\xfe bytes", strings.Repeat("ł", 200)} {
		for _, width := range []float64{5, 12, 30, 1000} {
			lines := Regular().Wrap(words, 3, width)
			joined := strings.Join(lines, "")
			assert.Equal(t, strings.Join(strings.Fields(strings.ToValidUTF8(words, "\uFFFD")), ""), strings.ReplaceAll(joined, " ", ""))
			for _, line := range lines {
				assert.LessOrEqual(t, Regular().Width(line, 3), width+1e-9, line)
			}
		}
	}
}

func TestALongNameIsBrokenAtItsJoints(t *testing.T) {
	assert.Equal(t, []string{"front-left-", "20260902_", "091411.jpg"}, Regular().Wrap("front-left-20260902_091411.jpg", 3, 19))
}

func TestWrapOfACharacterWiderThanTheLineEnds(t *testing.T) {
	assert.Equal(t, []string{"W", "W"}, Regular().Wrap("WW", 10, 1))
}

func TestWhatTheFontLacksIsShownAsAQuestionMark(t *testing.T) {
	assert.Equal(t, "łóź ü – Ω Ж ? ?", Regular().Drawable("łóź ü – Ω Ж 床 \U0001f600"))
	assert.False(t, Regular().Has("left 床"))
	assert.True(t, Regular().Has("łóź ü – Ω Ж"))
}

func TestALetterApartFromItsAccentIsDrawnAsOne(t *testing.T) {
	assert.Equal(t, "R\u00fcck\u00e9", Regular().Drawable("Ru\u0308cke\u0301"))
	assert.True(t, Regular().Has("Ru\u0308ck"))
}
