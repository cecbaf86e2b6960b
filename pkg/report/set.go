package report

import (
	"fmt"
	"slices"
	"strings"

	"burngauge.dev/burngauge/pkg/coverage"
)

// Judge works out the set's verdict from its burns, keeps it in r.Verdict and
// returns it. See the function Judge for the rules.
func (r *Report) Judge() SetVerdict {
	r.Verdict = Judge(r.Expected, r.Stations)
	return r.Verdict
}

// Judge is the verdict over the burns of a set:
//
//   - incomplete while an expected station has no measured burn, whatever the
//     others say; the text says when one of them lies outside already;
//   - else outside when a station is outside, one beyond the expected included;
//   - else inside when every expected station is inside;
//   - else borderline.
//
// When no station is expected, those that are there are. The worst station is
// the one whose burn lies farthest from the centre. The text is in millimetres.
func Judge(expected []string, stations []Station) SetVerdict {
	return judge(expected, stations, Millimetres)
}

// VerdictText is the text of Judge in these units. In millimetres it is the one
// that the report holds.
func (r *Report) VerdictText(units Units) string {
	if units != Inches {
		return r.Verdict.Text
	}
	fresh := judge(r.Expected, r.Stations, units)
	if fresh.State != r.Verdict.State { // the report was judged by other rules
		return r.Verdict.Text
	}
	return fresh.Text
}

// tally is a set, sorted by what its burns say.
type tally struct {
	missing                     []string
	inside, outside, borderline []reading
	beyond                      int // how many of the borderline were not expected
}

// reading is a station with a measured burn.
type reading struct {
	station string
	burn    *Measurement
	extra   bool // not an expected station
}

func judge(expected []string, stations []Station, units Units) SetVerdict {
	t := count(expected, stations)
	worst := t.worst()
	return SetVerdict{State: t.state(), WorstStation: worst.station, Text: t.text(worst, units)}
}

// count sorts the stations: the expected ones in their order, then the others.
func count(expected []string, stations []Station) (t tally) {
	byName := map[string]*Measurement{}
	var present []string
	for _, s := range stations {
		byName[s.Station] = s.Burn
		present = append(present, s.Station)
	}
	if len(expected) == 0 {
		expected = present
	}
	for _, name := range expected {
		if burn := byName[name]; burn.measured() {
			t.add(reading{name, burn, false})
		} else {
			t.missing = append(t.missing, name)
		}
	}
	for _, name := range present {
		if burn := byName[name]; burn.measured() && !slices.Contains(expected, name) {
			t.add(reading{name, burn, true})
		}
	}
	return t
}

// measured says whether there is a number and a verdict on it.
func (m *Measurement) measured() bool {
	return m != nil && m.Status == Measured && m.Offset != nil && m.Verdict != nil
}

func (t *tally) add(r reading) {
	switch r.burn.Verdict.State {
	case coverage.Inside:
		t.inside = append(t.inside, r)
	case coverage.Outside:
		t.outside = append(t.outside, r)
	default:
		t.borderline = append(t.borderline, r)
		if r.extra {
			t.beyond++
		}
	}
}

// state is incomplete also when nothing was measured and nothing expected.
func (t *tally) state() string {
	switch {
	case len(t.missing) > 0 || t.measured() == 0:
		return Incomplete
	case len(t.outside) > 0:
		return coverage.Outside
	case len(t.borderline) == t.beyond:
		return coverage.Inside
	}
	return coverage.Borderline
}

func (t *tally) measured() int { return len(t.inside) + len(t.outside) + len(t.borderline) }

// worst is the one farthest out, the zero reading when none was measured.
func (t *tally) worst() (worst reading) {
	for _, r := range slices.Concat(t.inside, t.outside, t.borderline) {
		if worst.burn == nil || r.burn.Offset.DistanceMM > worst.burn.Offset.DistanceMM {
			worst = r
		}
	}
	return worst
}

// text is the verdict in one or two sentences.
func (t *tally) text(worst reading, units Units) string {
	if t.measured() == 0 {
		return "No station has a measured burn."
	}
	limit := units.Length(worst.burn.Verdict.LimitMM)
	if len(t.missing) == 0 {
		return t.found("", t.measured(), limit, units) + t.farthest(worst, units)
	}
	total := t.measured() + len(t.missing)
	return fmt.Sprintf("%s not measured: %s. ", share(len(t.missing), total, ""), series(t.missing)) +
		t.found("measured ", t.measured(), limit, units) + t.farthest(worst, units)
}

// found is one sentence: how many are inside, and what is wrong with the rest.
func (t *tally) found(kind string, total int, limit string, units Units) string {
	of := share(len(t.inside), total, kind)
	switch {
	case total == 1 && len(t.inside) == 1:
		of = "The one " + kind + "station is"
	case total == 1:
		of = "The one " + kind + "station is not"
	case len(t.inside) == total:
		of = fmt.Sprintf("All %d %sstations are", total, kind)
	case len(t.inside) == 0:
		of = fmt.Sprintf("None of %d %sstations is", total, kind)
	}
	sentence := of + " inside the limit of " + limit
	if len(t.outside) > 0 {
		sentence += "; " + clause(t.outside, coverage.Outside, units)
	}
	if len(t.borderline) > 0 {
		sentence += "; " + clause(t.borderline, coverage.Borderline, units)
	}
	return sentence + "."
}

// farthest names the worst station when nothing else has named it.
func (t *tally) farthest(worst reading, units Units) string {
	if len(t.outside)+len(t.borderline) > 0 || t.measured() == 1 {
		return ""
	}
	return fmt.Sprintf(" The farthest from the centre is %s: %s.", worst.name(), worst.where(units))
}

// clause names the stations that are so: "front-right is outside: 2.62 mm at 1:00".
func clause(list []reading, state string, units Units) string {
	if len(list) == 1 {
		return fmt.Sprintf("%s is %s: %s", list[0].name(), state, list[0].where(units))
	}
	var each []string
	for _, r := range list {
		each = append(each, fmt.Sprintf("%s (%s)", strings.TrimSuffix(r.name(), ","), r.where(units)))
	}
	return series(each) + " are " + state
}

// name says when a station is one that nobody asked for.
func (r reading) name() string {
	if r.extra {
		return r.station + ", which was not asked for,"
	}
	return r.station
}

// where is the distance and the direction: "2.62 mm at 1:00".
func (r reading) where(units Units) string {
	radius := 0.0
	if r.burn.Uncertainty != nil {
		radius = r.burn.Uncertainty.RadiusMM
	}
	o := r.burn.Offset
	text := FormatValue(units.From(o.DistanceMM), units.From(radius)) + " " + units.Name()
	if o.Clock != "" && o.Clock != "-" { // the centre itself has no direction
		text += " at " + o.Clock
	}
	if v := r.burn.Verdict; v.State == coverage.Borderline {
		text += fmt.Sprintf(", %.0f %% likely inside", 100*v.Probability)
	}
	return text
}

// share is the subject and verb of "2 of 5 stations are".
func share(n, total int, kind string) string {
	verb := "are"
	if n == 1 {
		verb = "is"
	}
	return fmt.Sprintf("%d of %d %sstations %s", n, total, kind, verb)
}

// series is "a", "a and b", "a, b and c".
func series(list []string) string {
	last := len(list) - 1
	if last < 1 {
		return strings.Join(list, "")
	}
	return strings.Join(list[:last], ", ") + " and " + list[last]
}
