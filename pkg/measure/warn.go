package measure

import (
	"fmt"
	"math"

	"burngauge.dev/burngauge/pkg/photo"
	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/ring"
	"burngauge.dev/burngauge/pkg/spot"
)

// Warnings are a contract: they do not stop the work, and they are shown
// wherever the number is.
const (
	tiltWarned = 35.0 // degrees
	sizeWarned = 0.12 // outer ring over the short side
	// pixelsLow is less than phones' own settings give: the smallest common one
	// is 1920 x 1080 [M].
	pixelsLow = 1.5e6
)

// warnings lists what the reader of the number should know.
func warnings(ph *photo.Photo, fit *ring.Fit, mark *spot.Mark, m *report.Measurement) []report.Warning {
	var out []report.Warning
	add := func(code, format string, args ...any) {
		out = append(out, report.Warning{Code: code, Text: fmt.Sprintf(format, args...)})
	}
	if fit.Circles() == 1 {
		add("one-ring", "only one circle is seen, which leaves the tilt to the index mark: hold the phone squarely, or take two photos from opposite sides")
	}
	if !fit.Indexed {
		add("roll-from-photo", "no index mark is used: directions are those of the photo's own top")
	}
	if m.View.TiltDeg > tiltWarned {
		add("tilted", "the target is seen %.0f degrees from the side: hold the phone more squarely", m.View.TiltDeg)
	}
	short := float64(min(ph.Image.Width, ph.Image.Height))
	if 2*fit.Spec.OuterRadius()*fit.PxPerMM() < sizeWarned*short {
		add("small", "the target is small in the photo: step closer")
	}
	if shrunk(ph.Facts, ph.Image.Width, ph.Image.Height) {
		add("shrunk", "the photo looks shrunk or stripped by a messenger: ask for the original file")
	}
	if ph.Image.Cropped() {
		add("cropped", "the photo's sides fit no camera's format, so it looks cropped: ask for the original file")
	}
	if m.Uncertainty.RadiusMM > math.Max(0.1, 0.1*m.Verdict.LimitMM) {
		add("uncertain", "the uncertainty is large for this limit: take the photo again, closer, sharper and more squarely")
	}
	if mark.Shape == "double" {
		add("double", "the mark looks like two that overlap: two pulses, or the tape moved; use one pulse on fresh tape")
	}
	if mark.Shape == "clipped" {
		add("clipped", "the mark has a straight side: the beam may be cut by an aperture or a mirror's edge, which pulls its centre")
	}
	return out
}

// shrunk tells a photo that is smaller than phones take them, or lacks the facts
// that every phone writes. What some programs leave of EXIF, such as the
// orientation, does not make an original.
func shrunk(f photo.Facts, width, height int) bool {
	return f.Camera == "" && f.Taken == "" || float64(width)*float64(height) < pixelsLow
}
