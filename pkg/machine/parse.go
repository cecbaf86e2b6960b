package machine

import (
	"strings"

	"github.com/goccy/go-yaml"

	"burngauge.dev/burngauge/pkg/strictyaml"
)

// rules bound a profile file. A full one is a few KB; the bound keeps a photo
// given by mistake from being read as YAML. Brackets nest four deep in a
// profile; aliases stand for one mount's screws in another mirror.
var rules = strictyaml.Rules{
	What: "machine profile", MaxBytes: 64 << 10, Depth: 16, Aliases: 64,
	Keys: "a profile has name, source, mirrors, target, stations, pointer, rehearsal; " +
		"a mirror has name, rides, at_mm, normal, up, clear_mm, screws; a pointer at_mm, normal, up, screws; " +
		"screws have A, B, C, pitch_mm, clockwise, travel_turns, smallest_turn; " +
		"a screw has at_mm, and gain and gain_u where they were learnt",
	Wanted: wanted,
}

// wanted says what kind of value a key takes.
func wanted(key string) string {
	last := key[strings.LastIndex(key, ".")+1:]
	if strings.Contains(last, "[") && !strings.HasPrefix(last, "mirrors") {
		return "write a plain number here, like 20"
	}
	switch last {
	case "":
		return "a profile is a list of keys, each with a value: name, source, mirrors, target, stations"
	case "name", "rides", "clockwise":
		return "write a word here"
	case "at_mm", "direction", "normal", "up":
		return "write a list of numbers here, like [-40, 620, 40]"
	case "A", "B", "C":
		return "write where the screw is, like {at_mm: [-18, 18]}"
	case "mirrors":
		return "write a list of mirrors here, each on a line that begins with -"
	case "source", "target", "screws", "pointer", "rehearsal":
		return "write keys with their values here, as `mirrorplan machine new` shows them"
	case "stations":
		return "write each station with its place, like middle: [450, 300]"
	}
	if strings.HasPrefix(last, "mirrors[") {
		return "write a mirror's keys with their values here"
	}
	return "write a plain number here, like 20"
}

// The file as it is written. Slices and pointers show what is missing.
type (
	profileFile struct {
		Name      string        `yaml:"name"`
		Source    sourceFile    `yaml:"source"`
		Mirrors   []mirrorFile  `yaml:"mirrors"`
		Target    targetFile    `yaml:"target"`
		Stations  yaml.MapSlice `yaml:"stations"`
		Pointer   *pointerFile  `yaml:"pointer"`
		Rehearsal Ranges        `yaml:"rehearsal"`
	}
	sourceFile struct {
		AtMM      []float64 `yaml:"at_mm"`
		Direction []float64 `yaml:"direction"`
	}
	mirrorFile struct {
		Name    string     `yaml:"name"`
		Rides   string     `yaml:"rides"`
		AtMM    []float64  `yaml:"at_mm"`
		Normal  []float64  `yaml:"normal"`
		Up      []float64  `yaml:"up"`
		ClearMM float64    `yaml:"clear_mm"`
		Screws  screwsFile `yaml:"screws"`
	}
	pointerFile struct {
		AtMM   []float64  `yaml:"at_mm"`
		Normal []float64  `yaml:"normal"`
		Up     []float64  `yaml:"up"`
		Screws screwsFile `yaml:"screws"`
	}
	screwsFile struct {
		A            screwFile `yaml:"A"`
		B            screwFile `yaml:"B"`
		C            screwFile `yaml:"C"`
		PitchMM      float64   `yaml:"pitch_mm"`
		Clockwise    string    `yaml:"clockwise"`
		TravelTurns  float64   `yaml:"travel_turns"`
		SmallestTurn float64   `yaml:"smallest_turn"`
	}
	screwFile struct {
		AtMM  []float64 `yaml:"at_mm"`
		Gain  *float64  `yaml:"gain"`
		GainU *float64  `yaml:"gain_u"`
	}
	targetFile struct {
		Rides  string    `yaml:"rides"`
		AtMM   []float64 `yaml:"at_mm"`
		Normal []float64 `yaml:"normal"`
		Up     []float64 `yaml:"up"`
	}
)

// Parse reads one profile in YAML. name is the file's, for messages. Vectors are
// normalised and ups made square to their normals. Keys that no profile has,
// numbers out of range and a geometry that cannot be are refused; every error is
// a *ProfileError.
func Parse(name string, data []byte) (Profile, error) {
	var file profileFile
	source, err := strictyaml.Decode(data, rules, &file)
	if err != nil {
		return Profile{}, &ProfileError{File: name, Cause: err}
	}
	r := &reader{source: source}
	profile := r.profile(file)
	if r.fault == nil {
		r.check(profile)
	}
	if r.fault != nil {
		return Profile{}, &ProfileError{File: name, Cause: r.fault}
	}
	return profile, nil
}
