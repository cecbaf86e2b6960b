package phrase

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"burngauge.dev/burngauge/pkg/report"
)

// A burn at (-3, 4) mm: 5 mm out. Two digits of the uncertainty (JCGM 100, 7.2.6) set the
// places of every number; in inches of 25.4 mm, 0.25 mm is 0.0098.
func TestAMeasurementInWords(t *testing.T) {
	m := &report.Measurement{Status: report.Measured,
		Offset:      &report.Offset{RightMM: -3, UpMM: 4, DistanceMM: 5, Clock: "10:45", Rings: 2.5},
		Uncertainty: &report.Uncertainty{RadiusMM: 0.25},
		Verdict:     &report.Verdict{State: Borderline, Probability: 0.614}}
	want := Mark{LeftRight: "3.00 left", UpDown: "4.00 up", Distance: "5.00 ± 0.25", Clock: "10:45", Rings: "2.50", State: Borderline, Words: "borderline, 61 % likely inside"}
	assert.Equal(t, want, Lengths{report.Millimetres}.InWords(m))
	assert.Equal(t, "0.1969 ± 0.0098", Lengths{report.Inches}.InWords(m).Distance)
	m.Verdict = nil
	assert.Equal(t, "no verdict", Lengths{}.InWords(m).Words)
}

func TestWithoutANumberOnlyTheStateStands(t *testing.T) {
	refused := &report.Measurement{Status: report.Refused, Refusal: &report.Refusal{Code: "glare"}}
	for _, c := range []struct {
		of   *report.Measurement
		want Mark
	}{
		{nil, Mark{State: Missing, Words: "not measured"}},
		{refused, Mark{State: Refused, Words: "refused: glare"}},
		{&report.Measurement{Status: report.Unreadable}, Mark{State: Unreadable, Words: "unreadable"}},
	} {
		assert.Equal(t, c.want, Lengths{}.InWords(c.of))
	}
	assert.Equal(t, Borderline, StateOf("splendid"), "an unknown state claims nothing")
}

func TestRemarksSayWhoseTheyAre(t *testing.T) {
	m := &report.Measurement{Refusal: &report.Refusal{Code: "glare", Text: "light\nshines"}, Warnings: []report.Warning{{Code: "one-ring", Text: "one ring"}}}
	assert.Equal(t, []string{"rear: no number (glare): light shines", "rear: warning (one-ring): one ring"}, Remarks("rear: ", m))
	assert.Empty(t, Remarks("rear: ", nil))
}

// What comes from elsewhere is one line that acts on no terminal, of at most 300 letters.
func TestCleanMakesOneShortLine(t *testing.T) {
	assert.Equal(t, "a  b", Clean(" a\n\tb "), "line ends and tabs are blanks")
	assert.NotContains(t, Clean("red\x1b[31m"), "\x1b")
	assert.LessOrEqual(t, len([]rune(Clean(strings.Repeat("é", 1000)))), 301, "and what says that it was cut")
	assert.Equal(t, "unnamed", Or(" \n", "unnamed"))
}

func TestTimesAndListsForPeople(t *testing.T) {
	assert.Equal(t, "2026-09-02 09:14:11 +02:00", When("2026-09-02T09:14:11+02:00"))
	assert.Equal(t, "2026-09-02 09:14", When("2026-09-02T09:14"), "no offset: as it is")
	assert.Equal(t, "time unknown", When(""))
	assert.Equal(t, "1970-01-01 00:00:00 +00:00", Moment(time.Unix(0, 0).UTC()))
	assert.Equal(t, []string{"1 photo", "2 photos"}, []string{Plural(1, "photo"), Plural(2, "photo")})
	assert.Equal(t, []string{"a", "and 2 more: see the table"}, Few([]string{"a", "b", "c"}, 1))
	assert.Equal(t, []string{"a", "b"}, Few([]string{"a", "b"}, 2))
}

func TestUnshownNamesEachTextOnce(t *testing.T) {
	list := Unshown(nil, "site", "Łódź, Русская, Ελλάδα")
	assert.Empty(t, list)
	list = Unshown(Unshown(list, "site", "山田"), "site", "山田")
	assert.Equal(t, []string{`site "山田"`}, list)
}
