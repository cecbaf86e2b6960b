package machine

import (
	"unicode"
	"unicode/utf8"
)

// label checks a name: there, short, printable.
func (r *reader) label(key, of, name string) {
	if name == "" {
		r.refuse(key, "missing: give %s a short name", of)
	}
	if utf8.RuneCountInString(name) > decide.MostName {
		r.refuse(key, "longer than %d characters: shorten it", decide.MostName)
	}
	for _, c := range name {
		if !unicode.IsPrint(c) {
			r.refuse(key, "holds a character that cannot be printed: take it out")
		}
	}
}

// within checks a number above 0 and up to most. NaN fails.
func (r *reader) within(key string, v, most float64, what string) {
	if !(v > 0 && v <= most) {
		r.refuse(key, "%g is not above 0 and up to %g: give %s", v, most, what)
	}
}

// spread refuses screws in a line: nothing would hold the plate about it.
func (r *reader) spread(key string, s Screws) {
	if !s.spread() {
		r.refuse(key, "the screws A, B, C lie in a line: give their places as seen from behind the mount")
	}
}

// keyedRange is one range of the rehearsal: its key, its value and the most that it may be.
type keyedRange struct {
	key   string
	value *float64
	most  float64
}

// keyed lists the ranges by their keys. The bounds were chosen: beyond them no machine
// can be put right by its screws, and a slipped decimal point is likelier.
func (f Ranges) keyed() []keyedRange {
	return []keyedRange{
		{"mirror_tilt_deg", f.MirrorTiltDeg, 10}, {"mirror_shift_mm", f.MirrorShiftMM, 100},
		{"source_aim_deg", f.SourceAimDeg, 10}, {"source_shift_mm", f.SourceShiftMM, 100},
		{"pointer_aim_deg", f.PointerAimDeg, 10}, {"pointer_shift_mm", f.PointerShiftMM, 100},
		{"lengths_percent", f.LengthsPercent, 50}, {"gains_percent", f.GainsPercent, 90},
		{"twist_mm", f.TwistMM, 100}, {"backlash_turns", f.BacklashTurns, 1},
	}
}

// ranges checks what the rehearsal may put out.
func (r *reader) ranges(f Ranges) {
	for _, k := range f.keyed() {
		if k.value != nil && !(*k.value >= 0 && *k.value <= k.most) {
			r.refuse("rehearsal."+k.key, "%g is not from 0 to %g", *k.value, k.most)
		}
	}
}

// check looks at the profile as a whole.
func (r *reader) check(p Profile) {
	seen := map[string]bool{}
	for _, m := range p.Mirrors {
		if seen[m.Name] {
			r.refuse("mirrors", "two mirrors are called %q: a screw is named after its mirror", m.Name)
		}
		seen[m.Name] = true
	}
	if p.Pointer != nil && seen["pointer"] {
		r.refuse("mirrors", "a mirror is called \"pointer\", which is the red pointer's mount: give it another name")
	}
	if p.Source.AtMM == p.Mirrors[0].AtMM {
		r.refuse("mirrors[0].at_mm", "the first mirror stands where the source is")
	}
}
