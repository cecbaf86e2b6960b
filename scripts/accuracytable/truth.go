package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
)

// What truth.json can expect of a photo.
const (
	expectMeasure = "measure" // must be measured
	expectRefuse  = "refuse"  // must be refused
	expectEither  = "either"  // counts only when it was measured
)

// truthFile is FOLDER/truth.json.
type truthFile struct {
	Photos []truthPhoto `json:"photos"`
}

// truthPhoto is what is known of one photo from the scene's geometry.
type truthPhoto struct {
	Photo    string     `json:"photo"`
	Spec     string     `json:"spec"` // target to measure with
	Category string     `json:"category"`
	Expect   string     `json:"expect"`
	Refusal  string     `json:"refusal"` // code that names the cause; "" when the truth does not tell
	Mark     string     `json:"mark"`    // burn, pointer or both
	Burn     *truthMark `json:"burn"`
	Pointer  *truthMark `json:"pointer"`
}

// truthMark is the true offset of one mark, mm, facing the target.
type truthMark struct {
	RightMM            float64 `json:"right_mm"`
	UpMM               float64 `json:"up_mm"`
	DefinitionSpreadMM float64 `json:"definition_spread_mm"` // how far sensible definitions of its centre differ
}

// distance of the mark from the rings' centre, mm.
func (m truthMark) distance() float64 { return math.Hypot(m.RightMM, m.UpMM) }

// marks lists what a measurement of the photo gives, in order.
func (p truthPhoto) marks() []string {
	if p.Mark == "both" {
		return []string{"burn", "pointer"}
	}
	return []string{p.Mark}
}

// truth of one mark, nil when the photo has none.
func (p truthPhoto) truth(mark string) *truthMark {
	if mark == "pointer" {
		return p.Pointer
	}
	return p.Burn
}

// oneCircle tells photos where a single circle is all there is to fit.
func (p truthPhoto) oneCircle() bool {
	return p.Spec == "single" || p.Category == "single ring" || p.Category == "rim only"
}

// readTruth reads and checks folder/truth.json.
func readTruth(folder string) ([]truthPhoto, error) {
	data, err := os.ReadFile(filepath.Join(folder, "truth.json"))
	if err != nil {
		return nil, fmt.Errorf("reading the truth: %w", err)
	}
	var file truthFile
	if err := json.Unmarshal(data, &file); err != nil {
		return nil, fmt.Errorf("reading the truth: %w", err)
	}
	if len(file.Photos) == 0 {
		return nil, fmt.Errorf("truth.json of %s lists no photos", folder)
	}
	for _, p := range file.Photos {
		if err := p.check(); err != nil {
			return nil, fmt.Errorf("truth.json, photo %q: %w", p.Photo, err)
		}
	}
	return file.Photos, nil
}

// check finds entries that would be left out of the table without a word.
func (p truthPhoto) check() error {
	switch p.Expect {
	case expectMeasure, expectRefuse, expectEither:
	default:
		return fmt.Errorf("expect is %q, not measure, refuse or either", p.Expect)
	}
	switch p.Mark {
	case "burn", "pointer", "both":
	default:
		return fmt.Errorf("mark is %q, not burn, pointer or both", p.Mark)
	}
	if p.Expect == expectRefuse {
		return nil
	}
	if p.Refusal != "" {
		return fmt.Errorf("it names the refusal %s but expect is %s", p.Refusal, p.Expect)
	}
	for _, mark := range p.marks() {
		if p.truth(mark) == nil {
			return fmt.Errorf("it expects a measured %s but states none", mark)
		}
	}
	return nil
}

// targetFor is the --target of a spec: the YAML file of that name in the
// folder when there is one, else the built-in name.
func targetFor(folder, spec string) string {
	for _, name := range []string{spec, spec + ".yaml", spec + ".yml"} {
		if !strings.HasSuffix(name, ".yaml") && !strings.HasSuffix(name, ".yml") {
			continue
		}
		path := filepath.Join(folder, name)
		if _, err := os.Stat(path); err == nil {
			return path
		}
	}
	return spec
}
