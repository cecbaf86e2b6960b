package ring

import "math"

// Seen is one circle the fit rests on.
type Seen struct {
	DiameterMM float64
	Arc        float64 // fraction of the circle
	RMSPx      float64 // of the edge points that count, photo px
}

// Seen lists the rings, and the rim, that the fit rests on.
func (f *Fit) Seen() []Seen {
	var out []Seen
	add := func(g group, diameter float64) {
		sum, n := 0.0, 0.0
		for i, t := range f.traces {
			if t.kind == g.kind && t.which == g.which && f.weights[i] > 0 {
				r := f.residual(t)
				sum += f.weights[i] * r * r
				n += f.weights[i]
			}
		}
		if n > 0 {
			out = append(out, Seen{diameter, f.seen(g), math.Sqrt(sum / n)})
		}
	}
	for k, d := range f.Spec.RingsMM {
		add(group{lineFeature, k}, d)
	}
	if f.Spec.RimMM > 0 {
		add(group{rimFeature, 0}, f.Spec.RimMM)
	}
	return out
}
