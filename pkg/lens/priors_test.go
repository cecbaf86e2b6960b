package lens

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// An equivalent focal length f gives on a picture's diagonal d the angle that f
// gives on the 43.27 mm of 36 x 24 mm film (CIPA DCG-001): f d / 43.27 px.
func TestTheCamerasToStartFromAreThoseOfPhones(t *testing.T) {
	const diagonal, film = 5000, 43.2666 // of 4000 x 3000 px; mm
	picture := Picture{Width: 4000, Height: 3000}
	var focals []float64
	for _, c := range NewPriors(picture).Cameras() {
		assert.Equal(t, [4]float64{1999.5, 1499.5, 0, diagonal / 2}, [4]float64{c.X, c.Y, c.K1, c.HalfDiagonal})
		focals = append(focals, c.Focal)
	}
	assert.InDeltaSlice(t, []float64{27 * diagonal / film, 50 * diagonal / film, 75 * diagonal / film}, focals, 0.1)

	picture.FocalPx = 50 * diagonal / film
	known := NewPriors(picture)
	require.Len(t, known.Cameras(), 1, "EXIF names the camera")
	assert.Equal(t, known.Camera, known.Cameras()[0])
	assert.InDelta(t, 50*diagonal/film, known.Camera.Focal, 0.1)
}
