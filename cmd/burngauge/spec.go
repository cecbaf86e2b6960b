package main

import (
	"fmt"
	"io"
	"strconv"

	"burngauge.dev/burngauge/pkg/target"
)

// writeSpec writes a target as the YAML that --target reads, with a comment
// for whoever changes it.
func writeSpec(w io.Writer, s target.Spec) error {
	lines := []struct{ key, value, comment string }{
		{"name", strconv.Quote(s.Name), ""},
		{"rings_mm", "[" + numbers(s.RingsMM) + "]", "diameters of the middle of each line, rising"},
		{"rings_u_mm", number(s.RingsUMM), "standard uncertainty of each diameter"},
		{"line_mm", number(s.LineMM), "width of the lines"},
		{"cross_mm", number(s.CrossMM), "half length of the centre cross, 0: none"},
		{"rim_mm", number(s.RimMM), "diameter of the round edge, 0: not known"},
		{"index", fmt.Sprintf("{from_mm: %s, to_mm: %s, width_mm: %s}", number(s.Index.FromMM), number(s.Index.ToMM), number(s.Index.WidthMM)),
			"bar at the top, counted outward from the outer ring"},
		{"tape_mm", number(s.TapeMM), "height of the tape's surface above the rings, 0: the mark lies on their own plane"},
		{"tape_u_mm", number(s.TapeUMM), "standard uncertainty of that height"},
		{"checked", strconv.Quote(s.Checked), "how the diameters were checked"},
	}
	for _, l := range lines {
		text := l.key + ": " + l.value
		if l.comment != "" {
			text = fmt.Sprintf("%-52s # %s", text, l.comment)
		}
		if _, err := fmt.Fprintln(w, text); err != nil {
			return err
		}
	}
	return nil
}
