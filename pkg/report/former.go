package report

import "burngauge.dev/burngauge/pkg/target"

// tapeUKey is the target's key that reports of earlier versions do not have.
const tapeUKey = "tape_u_mm"

// formerTape reports that this report was read without an uncertainty of the tape's
// height.
func (r *Report) formerTape() bool {
	spec, _ := r.kept.get("target").(*object)
	return spec != nil && spec.get(tapeUKey) == nil
}

// formerTapeU is what such a report was measured with, mm: a quarter of the height, and
// nothing for a mark on the rings' own plane.
func formerTapeU(spec target.Spec) float64 { return spec.TapeMM / 4 }

// asRead takes the key out of the new document again when it says no more than what
// was meant without it: a report that was only read keeps its digest.
func (r *Report) asRead(doc *object) *object {
	if !r.formerTape() || r.Target.TapeUMM != formerTapeU(r.Target) {
		return doc
	}
	doc.set("target", doc.get("target").(*object).without(tapeUKey))
	return doc
}
