// Package measure takes one photo to one measurement for each mark asked for.
package measure

import (
	"errors"
	"math"
	"path/filepath"

	"burngauge.dev/burngauge/pkg/cause"
	"burngauge.dev/burngauge/pkg/coverage"
	"burngauge.dev/burngauge/pkg/decision"
	"burngauge.dev/burngauge/pkg/locate"
	"burngauge.dev/burngauge/pkg/photo"
	"burngauge.dev/burngauge/pkg/refusal"
	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/ring"
	"burngauge.dev/burngauge/pkg/spot"
	"burngauge.dev/burngauge/pkg/spot/burn"
	"burngauge.dev/burngauge/pkg/spot/pointer"
	"burngauge.dev/burngauge/pkg/target"
)

// Marks that can be asked for.
const (
	Burn    = "burn"
	Pointer = "pointer"
	Both    = "both"
)

// Options say what to measure. The zero value is not useful: start from
// DefaultOptions.
type Options struct {
	Target    target.Spec
	Mark      string  // Burn, Pointer or Both
	LimitMM   float64 // 0: the inner ring's radius
	RollPhoto bool    // the photo's top is the target's top: measure without an index mark
	Limits    photo.Limits
	Settings  Settings
	Explain   bool // fill in each measurement's Decisions
}

// DefaultOptions measures the burn on the default target against its inner ring.
func DefaultOptions() Options {
	return Options{Target: target.Default(), Mark: Burn, Limits: photo.DefaultLimits(), Settings: DefaultSettings()}
}

// Result is what came of one photo.
type Result struct {
	Measurements []report.Measurement // one for each mark asked for, also when refused or unreadable
	Target       target.Spec
	Photo        *photo.Photo   // nil when unreadable
	Outlines     [][][2]float64 // mark outline of each measurement, px in the upright photo; nil entry when refused
	// ToPixel maps a place on the target (right, up, mm) to the upright photo's px; nil without a target.
	ToPixel func(right, up float64) (x, y float64)
}

// File measures the photo at path. It never fails: what cannot be read or
// measured is said in each measurement's status and refusal.
func File(path string, opt Options) Result {
	ph, err := photo.Read(path, opt.Limits)
	if err != nil {
		return unreadable(path, opt, err)
	}
	return Photo(ph, opt)
}

// Photo measures a photo that has been read.
func Photo(ph *photo.Photo, opt Options) Result {
	res := Result{Photo: ph, Target: opt.Target}
	finding := opt.newLog()
	fit, sighting := locate.Target(ph, opt.Target, locate.Options{RollPhoto: opt.RollPhoto, Log: finding})
	refused := cause.Of(sighting, cause.DefaultSettings())
	if refused == nil {
		res.ToPixel = func(right, up float64) (float64, float64) {
			p := fit.Pixel(right, up)
			return p.X, p.Y
		}
	}
	for _, name := range opt.marks() {
		m := report.Measurement{Photo: facts(ph), Mark: name, Target: opt.Target.Name}
		var outline [][2]float64
		w := &work{photo: ph, fit: fit, set: opt.Settings, log: opt.newLog()}
		if refused != nil {
			refuse(&m, refused)
		} else {
			outline = w.measure(&m, opt.limit())
		}
		m.Decisions = append(decisions(finding), decisions(w.log)...)
		res.Measurements = append(res.Measurements, m)
		res.Outlines = append(res.Outlines, outline)
	}
	return res
}

// newLog is a log of decisions when they are asked for, nil otherwise.
func (o Options) newLog() *decision.Log {
	if !o.Explain {
		return nil
	}
	return decision.NewLog()
}

// marks lists what is asked for, one by one.
func (o Options) marks() []string {
	if o.Mark == Both {
		return []string{Burn, Pointer}
	}
	return []string{o.Mark}
}

// limit is the limit in mm that verdicts are given against.
func (o Options) limit() float64 {
	if o.LimitMM > 0 {
		return o.LimitMM
	}
	return o.Target.InnerRadius()
}

// facts are what a report names the photo by.
func facts(ph *photo.Photo) report.Photo {
	f := ph.Facts
	return report.Photo{File: f.File, SHA256: f.SHA256, Bytes: f.Bytes, Width: f.Width, Height: f.Height, Taken: f.Taken, Camera: f.Camera}
}

// unreadable is the result for a file that is no photo.
func unreadable(path string, opt Options, err error) Result {
	code, text := "not-an-image", err.Error()
	var e *photo.Error
	if errors.As(err, &e) {
		code, text = string(e.Code), e.Text
	}
	var res Result
	for _, name := range opt.marks() {
		res.Measurements = append(res.Measurements, report.Measurement{
			Photo: report.Photo{File: filepath.Base(path)}, Mark: name, Target: opt.Target.Name,
			Status: report.Unreadable, Refusal: &report.Refusal{Code: code, Text: text},
		})
		res.Outlines = append(res.Outlines, nil)
	}
	res.Target = opt.Target
	return res
}

// refuse turns a refusal of the target or of the mark into the measurement's.
func refuse(m *report.Measurement, err error) {
	m.Status = report.Refused
	m.Refusal = &report.Refusal{Code: string(refusal.RingsUnclear), Text: err.Error()}
	var r *refusal.Refusal
	if errors.As(err, &r) {
		m.Refusal = &report.Refusal{Code: string(r.Code), Text: r.Text}
	}
}

// work is one mark being measured on a target that has been found.
type work struct {
	photo *photo.Photo
	fit   *ring.Fit
	set   Settings
	log   *decision.Log // nil when decisions are not asked for
}

// measure fills one measurement in and returns the mark's outline in px.
func (w *work) measure(m *report.Measurement, limit float64) [][2]float64 {
	mark, err := w.mark(m.Mark)
	m.View = view(w.fit)
	if err != nil {
		refuse(m, err)
		return nil
	}
	m.Status = report.Measured
	m.Offset = offset(mark, w.fit.Spec)
	m.Size = &report.Size{MajorMM: mark.Major, MinorMM: mark.Minor, AxisDeg: degrees(mark.Axis), Shape: string(mark.Shape)}
	budget := newBudget(w.fit, mark, w.set)
	m.Uncertainty = budget.uncertainty(w.set.CoverageP)
	m.Verdict = w.verdict(mark, budget.covariance(), limit)
	m.Warnings = w.warnings(mark, m)
	outline := make([][2]float64, len(mark.Outline))
	for i, p := range mark.Outline {
		px := w.fit.Raised(p[0], p[1])
		outline[i] = [2]float64{px.X, px.Y}
	}
	return outline
}

// mark finds the burn or the pointer's dot.
func (w *work) mark(name string) (*spot.Mark, error) {
	if name == Pointer {
		opt := pointer.DefaultOptions()
		opt.Log = w.log
		return pointer.Measure(w.fit, opt)
	}
	opt := burn.DefaultOptions()
	opt.Log = w.log
	return burn.Measure(w.fit, opt)
}

// degrees of an angle in radians: files have degrees, the code has radians.
func degrees(radians float64) float64 { return radians * 180 / math.Pi }

// offset is where the mark lies from the rings' centre, in the target's frame, right and up
// as one faces it with the index mark at the top: in mm, as the distance √(right² + up²), on
// a clock's face (the angle from up, clockwise, in half hours) and in rings (linear between
// their circles).
func offset(mark *spot.Mark, spec target.Spec) *report.Offset {
	d := math.Hypot(mark.X, mark.Y)
	return &report.Offset{
		RightMM: mark.X, UpMM: mark.Y, DistanceMM: d,
		Clock: target.Clock(mark.X, mark.Y), Rings: spec.Rings(d),
	}
}

// Rule is the decision rule that every verdict states.
const Rule = "inside when the probability of lying within the limit is at least 0.95, outside when at most 0.05, otherwise borderline (JCGM 106, two-dimensional normal)"

// verdict compares the offset with the limit L, mm. What is known of the true offset x is a
// normal density about the measured one x̂ with its covariance C; what decides is how much
// of it lies within the limit,
//
//	p = ∫_{|x| <= L} exp(-(x - x̂)ᵀ C⁻¹ (x - x̂)/2) / (2π √det C) dx,
//
// the conformance probability of JCGM 106:2012 over a disc in place of an interval. Inside is p >= 0.95, outside p <= 0.05, so that neither risk of being wrong is
// above one in twenty; between them the verdict is borderline.
func (w *work) verdict(mark *spot.Mark, cov [2][2]float64, limit float64) *report.Verdict {
	p := coverage.Within([2]float64{mark.X, mark.Y}, cov, limit)
	w.log.Below("measure.Sure", p, w.set.Sure, "verdict: not inside")
	w.log.Below("measure.Sure", 1-p, w.set.Sure, "verdict: not outside")
	return &report.Verdict{LimitMM: limit, State: coverage.State(p), Probability: p, Rule: Rule}
}

// view is how the camera saw the target. The tilt is that of the target's normal against
// the lens's axis, 0 to 90 degrees; the roll is counted clockwise as the photo is seen, from
// its up to the target's; the scale is that at the rings' centre, px of the photo for a mm.
func view(fit *ring.Fit) *report.View {
	centre := fit.Pixel(0, 0)
	v := &report.View{
		TiltDeg: degrees(fit.Pose.AxisTilt()), RollDeg: -degrees(fit.Roll()),
		PxPerMM: fit.PxPerMM(), CentrePx: [2]float64{centre.X, centre.Y},
	}
	for _, s := range fit.Seen() {
		v.RingsSeen = append(v.RingsSeen, report.RingSeen{DiameterMM: s.DiameterMM, Arc: s.Arc, RMSPx: s.RMSPx})
	}
	return v
}
