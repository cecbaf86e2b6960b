package target

import (
	"errors"

	"burngauge.dev/burngauge/pkg/strictyaml"
)

// topKeys of a spec, as an answer to a key that is not one of them.
const topKeys = "name, rings_mm, rings_u_mm, line_mm, cross_mm, rim_mm, index, tape_mm, tape_u_mm, checked"

// rules of a spec's file. It needs brackets two deep, and neither anchors nor
// aliases: ten lines of them could grow to gigabytes.
var rules = strictyaml.Rules{
	What: "target spec", MaxBytes: maxSpecBytes, Depth: 16,
	Keys:   "a spec has " + topKeys + "; index has from_mm, to_mm, width_mm",
	Wanted: wanted,
}

// Parse reads one spec in YAML. name is the file's, for messages. Keys that no
// spec has, numbers out of range and rings that cannot be distinguished are
// refused; every error is a *SpecError.
//
// tape_mm left out is DefaultTapeMM. tape_u_mm left out is DefaultTapeUMM, but 0
// where tape_mm is 0: that says that the mark lies on the rings' own plane.
func Parse(name string, data []byte) (Spec, error) {
	var spec Spec
	source, err := strictyaml.Decode(data, rules, &spec)
	if err != nil {
		return Spec{}, specError(name, err)
	}
	spec.fillTape(source)
	if fault := spec.fault(); fault != nil {
		return Spec{}, specError(name, source.Fault(fault.key, fault.text))
	}
	return spec, nil
}

// fillTape puts in what the source leaves out about the tape.
func (s *Spec) fillTape(source strictyaml.Source) {
	if !source.Has("tape_mm") {
		s.TapeMM = DefaultTapeMM
	}
	if !source.Has("tape_u_mm") && s.TapeMM != 0 {
		s.TapeUMM = DefaultTapeUMM
	}
}

// specError names the file in which a fault was found.
func specError(name string, err error) *SpecError {
	var fault *strictyaml.Fault
	if !errors.As(err, &fault) {
		return &SpecError{File: name, Text: err.Error()}
	}
	return &SpecError{File: name, Line: fault.Line, Column: fault.Column, Key: fault.Key, Text: fault.Text}
}

// wanted says what kind of value a key takes.
func wanted(key string) string {
	switch key {
	case "":
		return "a spec is a list of keys, each with a value: " + topKeys
	case "name", "checked":
		return "write a text in quotation marks here"
	case "rings_mm":
		return "write a list of diameters here, like [4, 8, 12, 16]"
	case "index":
		return "write the bar here, like {from_mm: 0.7, to_mm: 3.2, width_mm: 1.3}"
	}
	return "write a plain number here, like 0.30"
}
