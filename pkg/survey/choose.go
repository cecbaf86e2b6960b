package survey

import (
	"fmt"
	"strconv"

	"burngauge.dev/burngauge/pkg/report"
)

// better reports whether a is the better measurement of a mark than b: one that
// was measured is better than one that was refused, that than one unreadable,
// and of two measured the one with the smaller radius. Where the mark lies does
// not matter, or the choice would flatter the result. Equal ones go by name.
func better(a, b report.Measurement) bool {
	if ra, rb := rank(a), rank(b); ra != rb {
		return ra < rb
	}
	if ua, ub := radius(a), radius(b); ua != ub {
		return ua < ub
	}
	return a.Photo.File < b.Photo.File
}

func rank(m report.Measurement) int {
	switch m.Status {
	case report.Measured:
		return 0
	case report.Refused:
		return 1
	}
	return 2
}

func radius(m report.Measurement) float64 {
	if m.Uncertainty == nil {
		return 0
	}
	return m.Uncertainty.RadiusMM
}

// best is the best of the shots' measurements of this mark, and its place in
// the list; -1 when the mark was not asked for.
func best(list []report.Measurement, mark string) int {
	found := -1
	for i, m := range list {
		if m.Mark == mark && (found < 0 || better(m, list[found])) {
			found = i
		}
	}
	return found
}

// inPhotoOf is the measured pointer in the photo that the burn was taken from: the
// two share that photo's errors, which then cancel in their parting. -1 when
// there is none.
func inPhotoOf(list []report.Measurement, burn int) int {
	for i, m := range list {
		if burn >= 0 && m.Mark == pointerMark && m.Status == report.Measured && m.Photo.File == list[burn].Photo.File {
			return i
		}
	}
	return -1
}

// Marks of a measurement.
const (
	burnMark    = "burn"
	pointerMark = "pointer"
)

// assembleStation assembles one station from its shots, in the order taken.
func assembleStation(name string, shots []Shot) report.Station {
	out := report.Station{Station: name}
	var all []report.Measurement
	for _, s := range shots {
		out.Photos = append(out.Photos, s.File)
		all = append(all, s.Marks...)
	}
	burn := best(all, burnMark)
	pointer := inPhotoOf(all, burn)
	if pointer < 0 {
		pointer = best(all, pointerMark)
	}
	for i := range all {
		switch i {
		case burn:
			out.Burn = &all[i]
		case pointer:
			out.Pointer = &all[i]
		default:
			out.Others = append(out.Others, all[i])
		}
	}
	out.BeamFromPointer = report.Part(out.Burn, out.Pointer)
	return out
}

// remarkOn says which of several photos of a station was taken, and why; "" for
// one photo.
func remarkOn(s report.Station, apart bool) string {
	if len(s.Photos) < 2 {
		return ""
	}
	taken := s.Burn
	if taken == nil {
		taken = s.Pointer
	}
	text := fmt.Sprintf("%s: %d photos, took %s", s.Station, len(s.Photos), standing(*taken))
	joint := " over "
	for _, m := range s.Others {
		if m.Mark == taken.Mark {
			text += joint + standing(m)
			joint = ", "
		}
	}
	if s.Pointer != nil && s.Pointer != taken && s.Pointer.Photo.File != taken.Photo.File && s.Pointer.Status == report.Measured {
		text += fmt.Sprintf("; the pointer from %s", standing(*s.Pointer))
	}
	if apart {
		text += ". Other stations were photographed in between: if a screw was turned there, move the older photo out of the folder"
	}
	return text
}

// standing is a photo with what it was chosen by.
func standing(m report.Measurement) string {
	name := strconv.Quote(m.Photo.File)
	switch {
	case m.Status == report.Measured:
		_, u := report.Round(0, radius(m))
		return fmt.Sprintf("%s (± %s mm)", name, strconv.FormatFloat(u, 'f', -1, 64))
	case m.Refusal != nil:
		return fmt.Sprintf("%s (%s: %s)", name, m.Status, m.Refusal.Code)
	}
	return fmt.Sprintf("%s (%s)", name, m.Status)
}
