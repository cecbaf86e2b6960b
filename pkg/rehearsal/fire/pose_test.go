package fire

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/machine"
	"burngauge.dev/burngauge/pkg/rehearsal"
	"burngauge.dev/burngauge/pkg/studio"
	"burngauge.dev/burngauge/pkg/studio/darkroom"
)

// Row by row, straight into the stored place: the same as rendering a whole picture,
// developing that and storing it afterwards.
func TestShootingIsRenderingDevelopingAndStoring(t *testing.T) {
	b, err := rehearsal.NewBench(machine.Default(), 2, rehearsal.Easy)
	require.NoError(t, err)
	s := pose(b, 0, small())
	for _, change := range []func(*darkroom.Settings){
		func(d *darkroom.Settings) { d.Mosaic, d.MotionPX, d.DefocusPX = true, 2.5, 1.7 },
		func(d *darkroom.Settings) { d.Mosaic, d.Sharpen, d.SharpenPX = false, 0, 0 },
	} {
		change(&s.develop)
		upright := s.develop.Photo(studio.RenderQuickly(&s.scene, &s.cam))
		for _, orientation := range []int{1, 3, 6, 8} {
			want, got := darkroom.Store(upright, orientation), s.develop.Shoot(studio.QuickRows(&s.scene, &s.cam), s.cam.Width, s.cam.Height, orientation)
			require.Equal(t, want.Rect, got.Rect)
			require.True(t, string(want.Pix) == string(got.Pix), "orientation %d", orientation)
			darkroom.Release(got) // the next one is written over it
		}
	}
}

// The third mirror cuts as above, and the second one, moved by as much along its own
// slope, from above or below: at the target both edges lie 0.7/√2 mm from the beam.
func TestTheEdgesOfTwoMirrorsBothCut(t *testing.T) {
	b := starter(func(f *rehearsal.Faults) { f.Mirrors[2].ShiftMM[0], f.Mirrors[1].ShiftMM[1] = 9.3, 9.3 })
	shot := pose(b, 2, DefaultOptions())
	burn := shot.scene.Burns[0]
	require.Len(t, burn.Clips, 2)
	assert.InDelta(t, 90, math.Abs(burn.Clips[0].Deg), 1e-9)
	assert.InDelta(t, 180, math.Abs(burn.Clips[1].Deg), 1e-9)
	side := math.Copysign(1, burn.Clips[0].Deg)
	assert.Zero(t, burn.Dark(0, side*0.7), "beyond the second mirror's edge")
	assert.Zero(t, burn.Dark(-0.7, 0), "beyond the third one's")
	assert.Greater(t, burn.Dark(0.3, -side*0.3), 0.9)
	m := burn.Moments()
	assert.Greater(t, m.Right, 0.2)
	assert.Greater(t, -side*m.Up, 0.2)
	assert.Equal(t, studio.ExpectMeasure, shot.truth(b.Spots()[2], DefaultOptions()).Expect)
}

// An edge 1.5 mm beyond the beam's middle leaves of it less than a short pulse burns:
// a photo without a burn, and a truth without one.
func TestWhatAShortPulseDoesNotReachIsNotBurnt(t *testing.T) {
	b := starter(func(f *rehearsal.Faults) { f.Mirrors[2].ShiftMM[0] = 10 + 1.5*math.Sqrt2 })
	o := DefaultOptions()
	o.Exposure = Faint
	for i, s := range b.Spots() {
		require.False(t, s.Missing)
		shot := pose(b, i, o)
		assert.Empty(t, shot.scene.Burns)
		truth := shot.truth(s, o)
		assert.Equal(t, studio.ExpectRefuse, truth.Expect)
		assert.Nil(t, truth.Burn)
	}
}

// What is left of a burn that the third mirror cuts on its left lies to the right; a beam
// that the mirror stops altogether leaves no burn, and a photo to be refused.
func TestAMirrorsEdgeCutsTheBurn(t *testing.T) {
	b := starter(func(f *rehearsal.Faults) { f.Mirrors[2].ShiftMM[0] = 9.3 })
	shot := pose(b, 2, DefaultOptions())
	require.Len(t, shot.scene.Burns[0].Clips, 1)
	assert.Greater(t, shot.scene.Burns[0].Moments().Right, 0.2)

	gone := starter(func(f *rehearsal.Faults) { f.Mirrors[2].ShiftMM[0] = 14 })
	shot = pose(gone, 2, DefaultOptions())
	assert.Empty(t, shot.scene.Burns)
	assert.Equal(t, studio.ExpectRefuse, shot.truth(gone.Spots()[2], DefaultOptions()).Expect)
}

// A beam that never arrives leaves a photo of tape without a mark: its truth names no burn,
// and the camera sees no char. Paper, tape and ink all reflect more than soot does.
func TestABeamThatIsTurnedAwayLeavesBareTape(t *testing.T) {
	darkest := func(b *rehearsal.Bench) float64 {
		s := pose(b, 2, small())
		s.scene.Writings, s.scene.Clutter = nil, nil
		pic, least := studio.Render(&s.scene, &s.cam), 1.0
		for right := -3.0; right <= 3; right += 0.1 { // within the second ring; the lines are thinner than a burn
			x, y := s.cam.Project(right, 1, 0)
			least = min(least, float64(pic.Pix[3*(int(y+0.5)*pic.Width+int(x+0.5))+1]))
		}
		return least
	}
	away := starter(func(f *rehearsal.Faults) { f.Source.AimDeg[0] = 40 })
	assert.Less(t, darkest(starter(func(*rehearsal.Faults) {})), 0.5*darkest(away))
	photo, err := Photograph(away, "middle", small())
	require.NoError(t, err)
	assert.Equal(t, studio.ExpectRefuse, photo.Truth.Expect)
	assert.Nil(t, photo.Truth.Burn)
	assert.Nil(t, photo.Truth.Pointer)
}

// The mirrors reflect 10/√2 mm to either side across the beam: a pointer shifted less shows a
// dot beside the burn, one shifted more none, and then the burn alone can be asked for.
func TestAPointerThatFallsOffAMirrorIsNotInThePhoto(t *testing.T) {
	for _, shift := range []float64{7.0, 7.1} {
		missing := shift > 10/math.Sqrt2
		b := starter(func(f *rehearsal.Faults) { f.Pointer.ShiftMM[0] = shift })
		o := small()
		o.Pointer = true
		shot := pose(b, 0, o)
		truth := shot.truth(b.Spots()[0], o)
		assert.Equal(t, missing, len(shot.scene.Pointers) == 0)
		assert.Equal(t, missing, truth.Pointer == nil)
		assert.Equal(t, missing, truth.Mark == "burn", "there is no dot to measure")
	}
}

// starter is the built-in machine with faults of a test's own.
func starter(change func(*rehearsal.Faults)) *rehearsal.Bench {
	p := machine.Default()
	f := rehearsal.NoFaults(p)
	change(&f)
	return rehearsal.Assemble(p, 1, f)
}
