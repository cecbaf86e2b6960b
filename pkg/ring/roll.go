package ring

import (
	"math"

	"burngauge.dev/burngauge/pkg/raster"
)

// Roll is the angle in radians from the photo's up to the target's up, counter-
// clockwise as the photo is seen.
func (f *Fit) Roll() float64 {
	a, b := f.Pixel(0, 0), f.Pixel(0, 0.1)
	return math.Atan2(-(b.X - a.X), -(b.Y - a.Y))
}

// LevelRoll turns the target's up to the photo's. Seen at a tilt, a turn of the
// target is not the same turn in the photo: the step is repeated.
func (f *Fit) LevelRoll() {
	for range 20 {
		roll := f.Roll()
		f.Pose = f.Pose.Turned(-roll)
		if math.Abs(roll) < 1e-9 {
			return
		}
	}
}

// Raster is the cut-out of the photo that the fit was made on.
func (f *Fit) Raster() *raster.Raster { return f.raster }
