package ring

// parameter is the place of one parameter in the vector of all that a fit moves.
// The parameters are changes from where the fit is, so that the pose's rotation
// needs only three and has no place where they fail.
type parameter int

// Of pose and camera. The print's departures follow, in the order of a layout.
const (
	turnRight  parameter = iota // rotation about the target's own right, rad
	turnUp                      // about its up
	turnFacing                  // about the direction that it faces: only the index bar says it
	shiftX                      // of the rings' centre in camera axes, over its depth
	shiftY
	shiftZ
	logFocal   // change of the focal length's logarithm: the length stays positive
	principalX // px
	principalY // px
	distortion // K1

	firstDeparture // of the print
)

// firstKnown is the first parameter of which something is known beforehand: the
// pose is free, camera and print are not.
const firstKnown = logFocal

// barPart is one departure of the index bar from its spec.
type barPart int

// The bar's departures, in their order in the vector.
const (
	barRight      barPart = iota // of its middle, mm
	barUp                        // of its middle, mm
	barTurn                      // about its middle, rad, clockwise as one faces the target
	barHalfWidth                 // mm
	barHalfLength                // mm
	barParts                     // how many there are
)

// The vector of all parameters, for n rings:
//
//	0-2   turns        rad    free, but for the third one: the index bar's
//	3-5   shifts       1      free
//	6     focal length 1      known (lens.Priors)
//	7-8   principal    px     known
//	9     distortion   1      known
//	10 …  n rings      mm     known (target.Spec)
//	      rim          mm     known
//	      5 of the bar mm,rad known

// layout says where in the vector of parameters each departure of a print stands:
// the rings' radii (mm), the rim's (mm), the bar's parts.
type layout struct{ rings int }

func (l layout) ring(k int) parameter       { return firstDeparture + parameter(k) }
func (l layout) rim() parameter             { return l.ring(l.rings) }
func (l layout) bar(part barPart) parameter { return l.rim() + 1 + parameter(part) }
func (l layout) end() parameter             { return l.bar(barParts) }
func (l layout) size() int                  { return int(l.end()) }
func (l layout) departures() int            { return int(l.end() - firstDeparture) }
func (l layout) known() int                 { return int(l.end() - firstKnown) }
func (l layout) isRing(p parameter) bool    { return p >= firstDeparture && p < l.rim() }
func (l layout) isBar(p parameter) bool     { return p > l.rim() }
func (l layout) between(a, b parameter) []parameter {
	var out []parameter
	for p := a; p < b; p++ {
		out = append(out, p)
	}
	return out
}
