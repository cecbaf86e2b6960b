package measure

import (
	"fmt"

	"burngauge.dev/burngauge/pkg/decision"
	"burngauge.dev/burngauge/pkg/photo"
	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/spot"
)

// warned collects warnings.
type warned []report.Warning

// when adds a warning if it holds.
func (w *warned) when(holds bool, code, format string, args ...any) {
	if holds {
		*w = append(*w, report.Warning{Code: code, Text: fmt.Sprintf(format, args...)})
	}
}

// warnings lists what the reader of the number should know. They follow from the fit, the
// file's facts and the stated uncertainty alone, never from where the mark lies, so that no
// result is doubted for what it says. size is the outer ring's diameter, 2 R · PxPerMM, over
// the photo's short side.
func (w *work) warnings(mark *spot.Mark, m *report.Measurement) []report.Warning {
	var out warned
	set, width, height := w.set, w.photo.Image.Width, w.photo.Image.Height
	out.when(w.log.Below("measure.LeastCircles", float64(w.fit.Circles()), float64(set.LeastCircles), "warning: one-ring"),
		"one-ring", "only one circle is seen, which leaves the tilt to the index mark: hold the phone squarely, or take two photos from opposite sides")
	out.when(!w.fit.Indexed,
		"roll-from-photo", "no index mark is used: directions are those of the photo's own top")
	out.when(w.log.Above("measure.TiltDeg", m.View.TiltDeg, set.TiltDeg, "warning: tilted"),
		"tilted", "the target is seen %.0f degrees from the side: hold the phone more squarely", m.View.TiltDeg)
	size := 2 * w.fit.Spec.OuterRadius() * w.fit.PxPerMM() / float64(min(width, height))
	out.when(w.log.Below("measure.SmallShare", size, set.SmallShare, "warning: small"),
		"small", "the target is small in the photo: step closer")
	out.when(shrunk(w.photo.Facts, width, height, set, w.log),
		"shrunk", "the photo looks shrunk or stripped by a messenger: ask for the original file")
	out.when(w.photo.Image.Cropped(),
		"cropped", "the photo's sides fit no camera's format, so it looks cropped: ask for the original file")
	radius := m.Uncertainty.RadiusMM
	out.when(w.log.Above("measure.LargeU", radius, set.LargeU, "large by itself") &&
		w.log.Above("measure.LargeUShare", radius/m.Verdict.LimitMM, set.LargeUShare, "warning: uncertain"),
		"uncertain", "the uncertainty is large for this limit: take the photo again, closer, sharper and more squarely")
	out.when(mark.Shape == spot.Double,
		"double", "the mark looks like two that overlap: two pulses, or the tape moved; use one pulse on fresh tape")
	out.when(mark.Shape == spot.Clipped,
		"clipped", "the mark has a straight side: the beam may be cut by an aperture or a mirror's edge, which pulls its centre")
	return out
}

// shrunk says whether a photo is smaller than phones take them, or lacks the
// facts that every phone writes. What some programs leave of EXIF, such as the
// orientation, does not make an original.
func shrunk(f photo.Facts, width, height int, set Settings, log *decision.Log) bool {
	return f.Camera == "" && f.Taken == "" ||
		log.Below("measure.LeastPixels", float64(width)*float64(height), set.LeastPixels, "warning: shrunk")
}
