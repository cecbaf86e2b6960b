package cause

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/locate"
	"burngauge.dev/burngauge/pkg/refusal"
	"burngauge.dev/burngauge/pkg/ring/scenes"
	"burngauge.dev/burngauge/pkg/target"
)

// The target is moved out over each side until its middle has left the picture.
func TestATargetWhoseMiddleIsOutsideIsCutOffAtThatSide(t *testing.T) {
	for side, v := range map[string]scenes.View{
		"left":   {Tilt: 12, AimX: -345},
		"right":  {Tilt: 12, AimX: 335},
		"top":    {Tilt: 12, AimY: -250},
		"bottom": {Tilt: 12, AimY: 245},
	} {
		v.Width, v.Height = 640, 480
		ph, _ := scenes.Take(v)
		_, err := find(ph, target.Default(), locate.Options{})
		assertRefused(t, err, refusal.CutOff)
		assert.ErrorContains(t, err, "cut off at the "+side)
	}
}

// A target with rings of 7, 11 and 18 mm is none of the built-in ones.
func TestATargetOfNobodysIsNotTheOneAskedFor(t *testing.T) {
	strange := target.Spec{Name: "strange", RingsMM: []float64{7, 11, 18}, LineMM: 0.6, Index: target.Default().Index}
	ph, _ := scenes.Take(scenes.View{Spec: strange, Tilt: 10, PxPerMM: 12})
	for _, name := range []string{"plain-4", "wide-3", "pair"} {
		spec, ok := target.Builtin(name)
		require.True(t, ok)
		_, err := find(ph, spec, locate.Options{})
		assertRefused(t, err, refusal.WrongTarget)
		assert.ErrorContains(t, err, name)
	}
}

// The rimmed target has plain-4's rings: a photo of the one is never said to be of the other.
func TestATargetWithTheSameRingsIsNoOtherTarget(t *testing.T) {
	ph, _ := scenes.Take(scenes.View{Tilt: 10})
	_, sighting := locate.Target(ph, target.Default(), locate.Options{})
	assert.Nil(t, explainer{sighting, DefaultSettings()}.otherTarget())
}

// A target of two rings has one ratio to be known by, at any size.
func TestASmallTargetOfTwoRingsIsCutOff(t *testing.T) {
	pair, ok := target.Builtin("pair")
	require.True(t, ok)
	ph, _ := scenes.Take(scenes.View{Spec: pair, Tilt: 12, PxPerMM: 9, AimX: 318})
	_, err := find(ph, pair, locate.Options{})
	assertRefused(t, err, refusal.CutOff)
	assert.ErrorContains(t, err, "cut off at the right")
}

// The README has a spec begun as a copy of a built-in one, and it keeps its name.
func TestASpecWithABuiltInTargetsNameIsNotTakenForIt(t *testing.T) {
	assert.Equal(t, "the rings are not those of mine, they fit pair: measure again with --target pair", textOther("mine", "pair"))
	assert.Equal(t, "the rings are not those of pair, they fit the built-in target of that name: measure again with --target pair", textOther("pair", "pair"))
}
