package ring

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/target"
)

// circles is a rosette of upright circles about the origin.
func circles(radii ...float64) rosette {
	var out rosette
	for _, r := range radii {
		out = append(out, printedLine{conic.Ellipse{A: r, B: r}, 3})
	}
	return out
}

// plain-4's radii are 8, 6, 4 and 2 mm.
func TestARosetteFitsTheSpecWhoseRatiosItHas(t *testing.T) {
	plain := target.Default().RingsMM
	for _, c := range []struct {
		lines   rosette
		fitting int
		scale   float64 // mm in a px; 0: of no interest
	}{
		{circles(80, 60, 40, 20), 4, 0.1},
		{circles(80, 60), 2, 0.1},
		{circles(80, 40), 2, 0.1}, // 4 and 2 mm would do as well: no more is taken to be hidden than need be
		{circles(90, 55, 35), 1, 0},
		{circles(50), 1, 0.16},
	} {
		fitting, scale := c.lines.fit(plain)
		assert.Equal(t, c.fitting, fitting, "%v", c.lines)
		if c.scale > 0 {
			assert.InDelta(t, c.scale, scale, 1e-12, "%v", c.lines)
		}
	}
}

// Each ring is two ellipses, its line's flanks; the gap between rings is no line.
func TestRosettesAreMadeOfFlanks(t *testing.T) {
	var list []candidate
	for _, r := range []float64{80, 60, 40, 20} {
		for _, half := range []float64{1.5, -1.5} {
			list = append(list, candidate{conic.Ellipse{X: 300, Y: 200, A: r + half, B: 0.9 * (r + half)}, 0.9})
		}
	}
	list = append(list, candidate{conic.Ellipse{X: 500, Y: 80, A: 50, B: 48}, 1}) // a coin
	found := rosettes(list, wholeArc)
	require.NotEmpty(t, found)
	require.Len(t, found[0], 4)
	for i, r := range []float64{80, 60, 40, 20} {
		assert.InDelta(t, r, found[0][i].A, 1e-9)
		assert.InDelta(t, 3, found[0][i].width, 1e-9)
	}
	assert.Empty(t, rosettes(list[8:], wholeArc), "one coin is no set of rings")
	assert.Empty(t, rosettes(list, 0.95), "not seen that far round")
}

// The target is moved out over each side until its middle has left the picture.
func TestATargetWhoseMiddleIsOutsideIsCutOffAtThatSide(t *testing.T) {
	for side, v := range map[string]view{
		"left":   {tilt: 12, aimX: -345},
		"right":  {tilt: 12, aimX: 335},
		"top":    {tilt: 12, aimY: -250},
		"bottom": {tilt: 12, aimY: 245},
	} {
		v.width, v.height = 640, 480
		ph, _ := take(v)
		_, err := Find(ph, target.Default(), Options{})
		assertRefused(t, err, CutOff)
		assert.ErrorContains(t, err, "cut off at the "+side)
	}
}

// A target with rings of 7, 11 and 18 mm is none of the built-in ones.
func TestATargetOfNobodysIsNotTheOneAskedFor(t *testing.T) {
	strange := target.Spec{Name: "strange", RingsMM: []float64{7, 11, 18}, LineMM: 0.6, Index: target.Default().Index}
	ph, _ := take(view{spec: strange, tilt: 10, pxPerMM: 12})
	for _, name := range []string{"plain-4", "wide-3", "pair"} {
		spec, ok := target.Builtin(name)
		require.True(t, ok)
		_, err := Find(ph, spec, Options{})
		assertRefused(t, err, WrongTarget)
		assert.ErrorContains(t, err, name)
	}
}

// The rimmed target has plain-4's rings: a photo of the one is never said to be of the other.
func TestATargetWithTheSameRingsIsNoOtherTarget(t *testing.T) {
	ph, _ := take(view{tilt: 10})
	s := newSearch(ph, target.Default())
	assert.Nil(t, s.otherTarget())
}

// A target of two rings has one ratio to be known by, at any size.
func TestASmallTargetOfTwoRingsIsCutOff(t *testing.T) {
	pair, ok := target.Builtin("pair")
	require.True(t, ok)
	ph, _ := take(view{spec: pair, tilt: 12, pxPerMM: 9, aimX: 318})
	_, err := Find(ph, pair, Options{})
	assertRefused(t, err, CutOff)
	assert.ErrorContains(t, err, "cut off at the right")
}

// The README has a spec begun as a copy of a built-in one, and it keeps its name.
func TestASpecWithABuiltInTargetsNameIsToldFromIt(t *testing.T) {
	assert.Equal(t, "the rings are not those of mine, they fit pair: measure again with --target pair", textOther("mine", "pair"))
	assert.Equal(t, "the rings are not those of pair, they fit the built-in target of that name: measure again with --target pair", textOther("pair", "pair"))
}
