// Package photoset is a folder of photos whose truth is known: what its
// truth.json says of each photo, and which calls of burngauge measure them all.
package photoset

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
)

// TruthName is the file beside the photos that says what is true of them.
const TruthName = "truth.json"

// What truth.json can expect of a photo.
const (
	Measure = "measure" // must be measured
	Refuse  = "refuse"  // must be refused
	Either  = "either"  // counts only when it was measured
)

// The marks of a photo.
const (
	BurnMark    = "burn"
	PointerMark = "pointer"
	both        = "both"
)

// Photo is what is known of one photo, from the geometry of its scene.
type Photo struct {
	File     string     `json:"photo"` // its name
	Spec     string     `json:"spec"`  // target to measure with
	Category string     `json:"category"`
	Expect   string     `json:"expect"`              // Measure, Refuse or Either
	Refusal  string     `json:"refusal"`             // code that names the cause; "" when the truth names none
	Mark     string     `json:"mark"`                // burn, pointer or both
	Target   string     `json:"target"`              // name of the target that is really there
	Fraction float64    `json:"outer_ring_fraction"` // outer diameter over the photo's short side, 0 when not stated
	Centre   [2]float64 `json:"centre_px"`           // the target's origin in the upright photo
	Scale    float64    `json:"mm_px"`               // px in a mm there, 0 when not stated
	Burn     *Mark      `json:"burn"`                // nil when there is none
	Pointer  *Mark      `json:"pointer"`
}

// Mark is the true offset of one mark, mm, as one faces the target.
type Mark struct {
	RightMM            float64 `json:"right_mm"`
	UpMM               float64 `json:"up_mm"`
	MajorMM            float64 `json:"major_mm"`             // 4 sigma, 0 when not stated
	DefinitionSpreadMM float64 `json:"definition_spread_mm"` // how far sensible definitions of its centre differ
}

// Distance of the mark from the rings' centre, mm.
func (m Mark) Distance() float64 { return math.Hypot(m.RightMM, m.UpMM) }

// Marks lists what a measurement of the photo gives, in order.
func (p Photo) Marks() []string {
	if p.Mark == both {
		return []string{BurnMark, PointerMark}
	}
	return []string{p.Mark}
}

// Truth of one mark, nil when the photo has none.
func (p Photo) Truth(mark string) *Mark {
	if mark == PointerMark {
		return p.Pointer
	}
	return p.Burn
}

// OneCircle says whether a single circle is all there is to fit.
func (p Photo) OneCircle() bool {
	return strings.TrimSuffix(p.Spec, ".yaml") == "single" || p.Category == "single ring" || p.Category == "rim only"
}

// Read reads and checks folder/truth.json.
func Read(folder string) ([]Photo, error) {
	data, err := os.ReadFile(filepath.Join(folder, TruthName))
	if err != nil {
		return nil, fmt.Errorf("reading the truth: %w", err)
	}
	var file struct {
		Photos []Photo `json:"photos"`
	}
	if err := json.Unmarshal(data, &file); err != nil {
		return nil, fmt.Errorf("reading the truth: %w", err)
	}
	if len(file.Photos) == 0 {
		return nil, fmt.Errorf("%s of %s lists no photos", TruthName, folder)
	}
	for _, p := range file.Photos {
		if err := p.check(); err != nil {
			return nil, fmt.Errorf("%s, photo %q: %w", TruthName, p.File, err)
		}
	}
	return file.Photos, nil
}

// check finds entries that would be left out of a table without a word.
func (p Photo) check() error {
	switch p.Expect {
	case Measure, Refuse, Either:
	default:
		return fmt.Errorf("expect is %q, not measure, refuse or either", p.Expect)
	}
	switch p.Mark {
	case BurnMark, PointerMark, both:
	default:
		return fmt.Errorf("mark is %q, not burn, pointer or both", p.Mark)
	}
	if p.Expect == Refuse {
		return nil
	}
	if p.Refusal != "" {
		return fmt.Errorf("it names the refusal %s but expect is %s", p.Refusal, p.Expect)
	}
	for _, mark := range p.Marks() {
		if p.Truth(mark) == nil {
			return fmt.Errorf("it expects a measured %s but states none", mark)
		}
	}
	return nil
}
