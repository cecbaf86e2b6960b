// Package target knows the printed ring target: the diameters of its rings,
// its line, its index mark, and how a place on it is given in rings and on a
// clock face.
//
// Lengths are in millimetres. The origin is the rings' common centre; right
// and up are as one sees the target facing it, with the index mark at the top.
package target

// Index is the bar beyond the outer ring, at the target's top. FromMM and ToMM
// count outward from the outer ring's circle (its nominal diameter, the middle
// of the line); the bar is WidthMM wide and centred on the upward axis.
type Index struct {
	FromMM  float64 `yaml:"from_mm" json:"from_mm"`
	ToMM    float64 `yaml:"to_mm" json:"to_mm"`
	WidthMM float64 `yaml:"width_mm" json:"width_mm"`
}

// Spec describes one printed target.
type Spec struct {
	Name     string    `yaml:"name" json:"name"`
	RingsMM  []float64 `yaml:"rings_mm" json:"rings_mm"`     // diameter of the middle of each line, rising
	RingsUMM float64   `yaml:"rings_u_mm" json:"rings_u_mm"` // standard uncertainty of each diameter
	LineMM   float64   `yaml:"line_mm" json:"line_mm"`       // width of each ring's line
	CrossMM  float64   `yaml:"cross_mm" json:"cross_mm"`     // half length of the centre cross, 0: none
	RimMM    float64   `yaml:"rim_mm" json:"rim_mm"`         // diameter of the round edge, 0: not known
	Index    Index     `yaml:"index" json:"index"`
	TapeMM   float64   `yaml:"tape_mm" json:"tape_mm"`     // height of the mark's surface, the tape's, above the rings; 0: on the rings' own plane
	TapeUMM  float64   `yaml:"tape_u_mm" json:"tape_u_mm"` // standard uncertainty of TapeMM
	Checked  string    `yaml:"checked" json:"checked"`     // how the diameters were checked
}

// What a spec that leaves the tape out is taken to say: one layer of masking tape, pressed
// down by hand, mm. Masking tapes are sold from 0.08 to 0.16 mm thick; common practice,
// no source.
const (
	DefaultTapeMM  = 0.12
	DefaultTapeUMM = 0.04
)

// InnerRadius is the radius of the smallest ring in mm. It is the limit that verdicts
// are given against when nobody states one: common practice, no source.
func (s Spec) InnerRadius() float64 { return s.RingsMM[0] / 2 }

// OuterRadius is the radius of the largest ring in mm.
func (s Spec) OuterRadius() float64 { return s.RingsMM[len(s.RingsMM)-1] / 2 }
