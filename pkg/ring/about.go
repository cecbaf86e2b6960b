package ring

import (
	"math"

	"burngauge.dev/burngauge/pkg/decision"
)

// about is the log with a part of the target as its subject. Its place is that of
// the rings' centre, whatever the part: by the centre one sees whether the fit lies
// on the target at all. It is the log itself when the centre is behind the camera.
func (p *Plane) about(log *decision.Log, format string, args ...any) *decision.Log {
	centre := p.Pixel(0, 0)
	if math.IsNaN(centre.X) {
		return log
	}
	return log.About(centre, format, args...)
}

// aboutRing is the log with ring k as its subject.
func (p *Plane) aboutRing(log *decision.Log, k int) *decision.Log {
	if log == nil {
		return nil
	}
	return p.about(log, "ring %g mm", p.Spec.RingsMM[k])
}
