package studio

import (
	"math"
)

// TruthFile is the layout of truth.json, which lies beside photos whose truth is known.
type TruthFile struct {
	About  string  `json:"about"`
	Photos []Truth `json:"photos"`
}

// AboutTruth explains the file in the file.
const AboutTruth = "invented photos with exact truth; right/up in mm as seen facing the target with its index mark at the top; " +
	"expect: measure, refuse or either; refusal: the code that names why it must be refused; definition_spread_mm: how far sensible definitions of the mark's centre differ"

// Truth is one photo's entry.
type Truth struct {
	Photo    string        `json:"photo"`
	Station  string        `json:"station,omitempty"`
	Spec     string        `json:"spec"` // the target to measure with: a built-in name or a file beside the photo
	Category string        `json:"category"`
	Expect   string        `json:"expect"`            // measure, refuse or either
	Refusal  string        `json:"refusal,omitempty"` // the code that names the cause, where it must be refused and one cause is known
	Mark     string        `json:"mark"`              // burn, pointer or both
	Target   string        `json:"target"`            // the target that is really there
	Tilt     float64       `json:"tilt_deg"`
	Fraction float64       `json:"outer_ring_fraction"`
	Burn     *BurnTruth    `json:"burn,omitempty"`
	Pointer  *PointerTruth `json:"pointer,omitempty"`
	Centre   [2]float64    `json:"centre_px"` // target's origin in the upright photo
	Scale    float64       `json:"mm_px"`     // px per mm there
}

// BurnTruth is a burn's place and size by its moments.
type BurnTruth struct {
	Right  float64 `json:"right_mm"`
	Up     float64 `json:"up_mm"`
	Major  float64 `json:"major_mm"` // 4 sigma
	Minor  float64 `json:"minor_mm"`
	Spread float64 `json:"definition_spread_mm"`
}

// PointerTruth is the place of a pointer's dot.
type PointerTruth struct {
	Right float64 `json:"right_mm"`
	Up    float64 `json:"up_mm"`
}

// What a photo's truth can expect of a measurement.
const (
	ExpectMeasure = "measure" // it must be measured
	ExpectRefuse  = "refuse"  // a number would be a guess
	ExpectEither  = "either"
)

// NewTruth fills in what follows from the scene and the camera; photo, category
// and what is asked for are the caller's.
func NewTruth(scene *Scene, cam *Camera, tiltDeg float64) Truth {
	x, y := cam.Project(0, 0, 0)
	scale := cam.PxPerMM()
	short := float64(min(cam.Width, cam.Height))
	t := Truth{Target: scene.Target.Name, Tilt: rounded(tiltDeg, 2),
		Fraction: rounded(2*scene.Target.OuterRadius()*scale/short, 3),
		Centre:   [2]float64{rounded(x, 2), rounded(y, 2)}, Scale: rounded(scale, 2)}
	if len(scene.Burns) > 0 {
		m := scene.Burns[0].Moments()
		t.Burn = &BurnTruth{rounded(m.Right, 4), rounded(m.Up, 4), rounded(m.Major, 4), rounded(m.Minor, 4), rounded(m.SpreadMM, 4)}
	}
	if len(scene.Pointers) > 0 {
		p := scene.Pointers[0]
		t.Pointer = &PointerTruth{rounded(p.Right, 4), rounded(p.Up, 4)}
	}
	return t
}

// rounded is v to so many decimals: a hundredth of a pixel, a tenth of a micrometre.
func rounded(v float64, digits int) float64 {
	k := math.Pow10(digits)
	return math.Round(v*k) / k
}
