package survey

import (
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"

	"burngauge.dev/burngauge/pkg/coverage"
	"burngauge.dev/burngauge/pkg/report"
)

// Difference is one place where a report and its photos do not agree.
type Difference struct {
	Where string // "rear-left, burn in rear-left.jpg", or a key of the report
	Text  string // what the report says and what was found
}

// String is both on one line.
func (d Difference) String() string { return d.Where + ": " + d.Text }

// Two runs of one program on one file give the same numbers, but for the last
// digits where another processor adds in another order. What is smaller than
// these is no edit worth making.
const (
	absoluteTolerance = 1e-6
	relativeTolerance = 1e-4 // of a mark 1 mm out: 0.1 µm
)

// keyDifference is a value that differs, by its key.
type keyDifference struct{ key, stated, found string }

// compareValues walks two values of one type, in the order of their fields, and
// gives every key whose values differ, numbers beyond the tolerance.
func compareValues(key string, stated, found reflect.Value) []keyDifference {
	switch stated.Kind() {
	case reflect.Pointer:
		if stated.IsNil() || found.IsNil() {
			if stated.IsNil() == found.IsNil() {
				return nil
			}
			return []keyDifference{{key, presence(stated), presence(found)}}
		}
		return compareValues(key, stated.Elem(), found.Elem())
	case reflect.Struct:
		return compareFields(key, stated, found)
	case reflect.Slice, reflect.Array:
		if stated.Len() != found.Len() {
			return []keyDifference{{key, fmt.Sprintf("a list of %d", stated.Len()), fmt.Sprintf("one of %d", found.Len())}}
		}
		var out []keyDifference
		for i := range stated.Len() {
			out = append(out, compareValues(fmt.Sprintf("%s[%d]", key, i), stated.Index(i), found.Index(i))...)
		}
		return out
	case reflect.Float64:
		if near(stated.Float(), found.Float()) {
			return nil
		}
	default:
		if stated.Equal(found) {
			return nil
		}
	}
	return []keyDifference{{key, shown(stated), shown(found)}}
}

func compareFields(key string, stated, found reflect.Value) (out []keyDifference) {
	for i := range stated.NumField() {
		name, _, _ := strings.Cut(stated.Type().Field(i).Tag.Get("json"), ",")
		if name == "" {
			continue // not part of the file
		}
		if key != "" {
			name = key + "." + name
		}
		out = append(out, compareValues(name, stated.Field(i), found.Field(i))...)
	}
	return out
}

func near(a, b float64) bool {
	return math.Abs(a-b) <= absoluteTolerance+relativeTolerance*max(math.Abs(a), math.Abs(b))
}

func presence(v reflect.Value) string {
	if v.IsNil() {
		return "null"
	}
	return "a value"
}

func shown(v reflect.Value) string {
	switch v.Kind() {
	case reflect.Float64:
		return strconv.FormatFloat(v.Float(), 'g', 6, 64)
	case reflect.String:
		return strconv.Quote(v.String())
	}
	return fmt.Sprint(v.Interface())
}

// mostKeys is how many keys of one measurement are named; an edited target makes
// every number differ.
const mostKeys = 4

// inWords puts the keys that differ into one text.
func inWords(keys []keyDifference) string {
	var parts []string
	for _, k := range keys[:min(len(keys), mostKeys)] {
		parts = append(parts, fmt.Sprintf("%s is %s in the report, %s by the photo", k.key, k.stated, k.found))
	}
	if more := len(keys) - mostKeys; more > 0 {
		parts = append(parts, fmt.Sprintf("%d more keys differ", more))
	}
	return strings.Join(parts, "; ")
}

// Compare says in what a stated measurement differs from a fresh one of the same
// photo, "" when in nothing. sameTool is whether the same program made both, so
// that the numbers must agree.
func Compare(stated, found report.Measurement, sameTool bool) string {
	if !sameTool {
		return compareLoosely(stated, found)
	}
	keys := compareValues("", reflect.ValueOf(stated), reflect.ValueOf(found))
	if len(keys) == 0 {
		return ""
	}
	return inWords(keys)
}

// compareLoosely holds a stated measurement against one of another version,
// which may know better: what was measured must be measured, and lie within the
// stated radius of the fresh one, which may not be many times as wide as the
// fresh one's: so wide a radius would hide an edited offset.
func compareLoosely(stated, found report.Measurement) string {
	switch {
	case stated.Status != found.Status:
		return fmt.Sprintf("status is %q in the report, %q by the photo", stated.Status, found.Status)
	case stated.Offset == nil || found.Offset == nil || stated.Uncertainty == nil:
		return ""
	}
	if found.Uncertainty != nil && stated.Uncertainty.RadiusMM > mostWider*found.Uncertainty.RadiusMM {
		return fmt.Sprintf("radius_mm is %.3f in the report, %.3f by the photo: over %v times as much", stated.Uncertainty.RadiusMM, found.Uncertainty.RadiusMM, mostWider)
	}
	apart := math.Hypot(stated.Offset.RightMM-found.Offset.RightMM, stated.Offset.UpMM-found.Offset.UpMM)
	if apart > stated.Uncertainty.RadiusMM {
		return fmt.Sprintf("the offset is (%.3f, %.3f) mm in the report, (%.3f, %.3f) by the photo: %.3f mm apart, more than the stated radius of %.3f",
			stated.Offset.RightMM, stated.Offset.UpMM, found.Offset.RightMM, found.Offset.UpMM, apart, stated.Uncertainty.RadiusMM)
	}
	if a, b := stated.Verdict, found.Verdict; a != nil && b != nil && contradict(a.State, b.State) {
		return fmt.Sprintf("the state is %q in the report, %q by the photo", a.State, b.State)
	}
	return ""
}

// mostWider: versions so far changed a radius by up to 1.4 times, with the weight
// of a scorched fringe; three leaves room.
const mostWider = 3.0

// contradict says whether one is inside and the other outside, which two versions
// never say of one photo however wide a radius is stated.
func contradict(a, b string) bool {
	return a == coverage.Inside && b == coverage.Outside || a == coverage.Outside && b == coverage.Inside
}

// radiusTolerance is how far the radius may lie from its covariance's, as a part of
// it: another version may work it out by another formula.
const radiusTolerance = 0.01

// selfConsistent finds a measurement whose own numbers do not fit each other:
// the distance its offset, the radius the covariance, the verdict the offset, the
// uncertainty and the limit. It holds whichever version measured.
func selfConsistent(m report.Measurement, limit float64) string {
	if m.Offset == nil || m.Uncertainty == nil || m.Verdict == nil {
		return ""
	}
	if d := math.Hypot(m.Offset.RightMM, m.Offset.UpMM); !near(d, m.Offset.DistanceMM) {
		return fmt.Sprintf("distance_mm is %.4g, but the offset gives %.4g", m.Offset.DistanceMM, d)
	}
	if r := coverage.Radius(m.Uncertainty.CovarianceMM2, m.Uncertainty.Coverage); !(math.Abs(r-m.Uncertainty.RadiusMM) <= radiusTolerance*r) {
		return fmt.Sprintf("radius_mm is %.4g, but the covariance gives %.4g", m.Uncertainty.RadiusMM, r)
	}
	if !near(m.Verdict.LimitMM, limit) {
		return fmt.Sprintf("it is judged against a limit of %.4g mm, the report against %.4g", m.Verdict.LimitMM, limit)
	}
	p := coverage.Within([2]float64{m.Offset.RightMM, m.Offset.UpMM}, m.Uncertainty.CovarianceMM2, limit)
	if state := coverage.State(p); state != m.Verdict.State {
		return fmt.Sprintf("the state is %q, but offset, uncertainty and limit give %q (probability %.3g)", m.Verdict.State, state, p)
	}
	return ""
}
