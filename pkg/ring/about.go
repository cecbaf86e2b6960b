package ring

import (
	"fmt"
	"math"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/decision"
)

// about is the log with what is seen at a pixel as its subject; the log itself when
// that has no place on the photo, behind the camera.
func about(log *decision.Log, px conic.Point, what string) *decision.Log {
	if math.IsNaN(px.X) {
		return log
	}
	return log.About(px, "%s", what)
}

// aboutRing is the log with ring k, at its top, as its subject.
func aboutRing(log *decision.Log, p *Plane, k int) *decision.Log {
	if log == nil {
		return nil
	}
	d := p.Spec.RingsMM[k]
	return about(log, p.Pixel(0, d/2), fmt.Sprintf("ring %g mm", d))
}
