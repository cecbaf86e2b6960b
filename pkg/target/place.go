package target

import (
	"fmt"
	"math"
)

// halfHourDeg is the angle of half an hour on a clock face: 360 degrees / 24.
const halfHourDeg = 15

// NoDirection is what Clock says of the centre, which lies in no direction.
const NoDirection = "-"

// Rings is a distance from the centre, in mm, as a number of rings: 0 at the centre, 1
// on the first ring's circle, 2 on the second, linear between, and beyond the
// last ring by the last spacing. A single ring's spacing is its own radius.
// distanceMM is at least 0; NaN gives NaN.
func (s Spec) Rings(distanceMM float64) float64 {
	inner := 0.0
	for i, diameter := range s.RingsMM {
		outer := diameter / 2
		if distanceMM <= outer || i == len(s.RingsMM)-1 {
			return float64(i) + (distanceMM-inner)/(outer-inner)
		}
		inner = outer
	}
	return math.NaN() // no rings: not a spec that Parse lets through
}

// Clock is the direction of a place on the target as on a clock face, to
// half hours: "12:00" is up, "3:00" right, "2:30" between them. right and up
// may be in any one unit. At the centre itself, or when either is NaN, there
// is no direction and NoDirection comes back.
func Clock(right, up float64) string {
	if right == 0 && up == 0 || math.IsNaN(right) || math.IsNaN(up) {
		return NoDirection
	}
	degrees := math.Atan2(right, up) * 180 / math.Pi // from up, clockwise
	halfHours := (int(math.Round(degrees/halfHourDeg)) + 24) % 24
	hour := halfHours / 2
	if hour == 0 {
		hour = 12
	}
	return fmt.Sprintf("%d:%02d", hour, halfHours%2*30)
}
