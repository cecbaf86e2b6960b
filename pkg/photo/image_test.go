package photo

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// 0.18 from the documentation of colour-science; the others computed by another program
// from the curve of IEC 61966-2-1:1999: the code is 12.92 c of a light c up to 0.0031308,
// 1.055 c^(1/2.4) - 0.055 above. 12.92 · 0.001 = 0.01292, for one.
func TestSRGBCurveGivesPublishedValues(t *testing.T) {
	const tolerance = 1.2e-10 // half the last digit given, by the curve's steepest slope, 2.28
	for light, code := range map[float64]float64{
		0.18: 0.4613561295, 0.5: 0.7353569831, 0.01: 0.0998528227, 0.001: 0.01292, 0: 0, 1: 1,
	} {
		assert.InDelta(t, light, Decode(code), tolerance, "code %v", code)
	}
	for code, light := range map[int]float64{
		1: 0.0003035270, 10: 0.0030352698, 11: 0.0033465358, 64: 0.0512694584, 128: 0.2158605001,
		188: 0.5028864580, 200: 0.5775804404, 254: 0.9911020971,
	} {
		assert.InDelta(t, light, Decode(float64(code)/255), tolerance, "code %v", code)
	}
}

func TestLinearTableIsTheCurveAtEveryCode(t *testing.T) {
	const float32Step = 6e-8 // spacing of float32 just below 1
	for code, light := range Linear {
		assert.InDelta(t, Decode(float64(code)/255), float64(light), float32Step)
	}
	assert.Equal(t, float32(0), Linear[0])
	assert.Equal(t, float32(1), Linear[255])
}

// The two pieces of the published curve do not meet exactly: by its constants
// 2.33e-9 apart in linear light.
func TestSRGBPiecesMeet(t *testing.T) {
	below, above := Decode(0.04045), Decode(math.Nextafter(0.04045, 1))
	assert.InDelta(t, 2.33e-9, above-below, 1e-11)
}

// 26 mm at 4032 x 3024 and so on: worked by hand from f35 sqrt(W^2+H^2) / 43.266615,
// the diagonal reading of CIPA DCG-001.
func TestFocalLengthInPixelsGoesByTheDiagonal(t *testing.T) {
	const tolerance = 5e-5
	for _, c := range []struct {
		f35           float64
		width, height int
		want          float64
	}{
		{26, 4032, 3024, 3028.6631},
		{26, 3024, 4032, 3028.6631},
		{24, 4000, 3000, 2773.5010},
		{26, 4032, 2268, 2779.9432},
		{28, 6000, 4000, 4666.6667},
	} {
		got, ok := Facts{Focal35MM: c.f35, Width: c.width, Height: c.height}.FocalPx()
		require.True(t, ok)
		assert.InDelta(t, c.want, got, tolerance)
	}
	_, ok := Facts{Width: 4032, Height: 3024}.FocalPx()
	assert.False(t, ok, "0 is EXIF's unknown")
}

// A ramp of 2 a pixel, reduced by four: each mean is the ramp at the place its
// centre came from, x = (x' + 0.5) / s - 0.5, exactly.
func TestReducedMovesPixelCentresAsDocumented(t *testing.T) {
	ramp := newImage(100, 8)
	for i := range ramp.Pix {
		ramp.Pix[i] = byte(2 * (i / 3 % 100))
	}
	small := ramp.Reduced(25, 2)
	require.Equal(t, 25, small.Width)
	require.Equal(t, 2, small.Height)
	require.Len(t, small.Pix, 3*25*2)
	for i, v := range small.Pix {
		x := (float64(i/3%25)+0.5)*4 - 0.5
		assert.Equal(t, 2*x, float64(v))
	}
}

func TestReducedRefusesToEnlarge(t *testing.T) {
	m := newImage(4, 4)
	assert.Equal(t, m, m.Reduced(4, 4))
	assert.Panics(t, func() { m.Reduced(5, 4) })
	assert.Panics(t, func() { m.Reduced(0, 4) })
	assert.Panics(t, func() { Image{}.Reduced(1, 1) })
}

// Sizes that phones and cameras write by their own settings, either way up, and
// their halves; against them, pictures cut by hand.
func TestCroppedDistinguishesACutFromACamerasFormat(t *testing.T) {
	for _, size := range [][2]int{{4000, 3000}, {4032, 3024}, {4080, 3060}, {3264, 2448}, {1632, 1224}, {6000, 4000}, {4608, 2592}, {1920, 1080}, {4000, 1800}, {3024, 3024}, {2592, 1944}} {
		assert.False(t, Image{Width: size[0], Height: size[1]}.Cropped(), "%v", size)
		assert.False(t, Image{Width: size[1], Height: size[0]}.Cropped(), "%v turned", size)
	}
	for _, size := range [][2]int{{1224, 1129}, {986, 1114}, {2288, 793}, {1135, 1099}, {1861, 1304}} {
		assert.True(t, Image{Width: size[0], Height: size[1]}.Cropped(), "%v", size)
	}
}
