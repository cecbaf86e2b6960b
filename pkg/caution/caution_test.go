package caution

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// What IEC TR 60825-14 and the trade ask to be said; the words are ours.
func TestLinesNameEveryDanger(t *testing.T) {
	text := strings.Join(Lines(), "\n")
	for _, word := range []string{"Class 4", "interlock", "trained", "maker", "switched to safe", "cannot be seen", "10 600 nm", "last barrier", "high voltage", "licensed", "Coolant", "extinguisher", "Extraction", "chlorinated"} {
		assert.Contains(t, text, word)
	}
}

// EN 50110-1, 6.2, as far as it is for those who only measure: switched off, secured
// against switching on, made sure that it is off. What a supply keeps, who may, and
// how the machine is left are IEC TR 60825-14's.
func TestWhoeverMeasuresIsWarnedOfMainsChargeAndCovers(t *testing.T) {
	text := strings.Join(For(Measuring), "\n")
	for _, word := range []string{"off at the isolator", "secured", "checked to be off", "keeps a charge", "Wait", "conducts", "maker", "trained", "licensed", "interlock", "close every cover"} {
		assert.Contains(t, text, word)
	}
}

func TestEveryLineHasACodeAWorkAndATitle(t *testing.T) {
	codes := map[string]bool{}
	for _, c := range List() {
		assert.Regexp(t, `^[a-z]+$`, c.Code)
		assert.False(t, codes[c.Code], "two lines are called %s", c.Code)
		codes[c.Code] = true
		assert.NotZero(t, c.Work, c.Code)
		assert.Regexp(t, `^[A-Z][a-z ]+: .+\.$`, c.Text)
		assert.Less(t, len(c.Brief), len(c.Text), c.Code)
	}
}

func TestALineStandsOnceWhateverWorksAreJoined(t *testing.T) {
	assert.Equal(t, len(List()), len(For(Firing|Turning|Measuring)))
	assert.Equal(t, Lines(), For(Turning))
	for _, line := range For(Measuring) {
		assert.NotContains(t, Lines(), line)
	}
}

// The brief lines stand where people fire: each danger to the eye, the skin and the
// room is in them, and who comes first.
func TestBriefNamesWhoComesFirstAndTheDangers(t *testing.T) {
	text := strings.Join(Brief(Firing), " ")
	for _, word := range []string{"maker", "local rules", "trained", "invisible", "10 600 nm", "reach in", "burn", "extinguisher", "Extraction", "PVC"} {
		assert.Contains(t, text, word)
	}
	assert.NotContains(t, text, "screw", "who only fires turns none")
	assert.Contains(t, Brief(Turning), "Source switched to safe before you touch a screw.")
	measuring := strings.Join(Brief(Measuring), " ")
	for _, word := range []string{"maker", "trained", "Mains off", "checked to be off", "charge", "licensed", "interlock"} {
		assert.Contains(t, measuring, word)
	}
}

func TestTheListIsTheCallersToChange(t *testing.T) {
	For(Firing)[0], List()[0] = "", Caution{}
	assert.NotEmpty(t, For(Firing)[0])
	assert.NotEmpty(t, List()[0].Code)
}

func TestTextKeepsItsWidthAndEveryWord(t *testing.T) {
	const width = 84
	for _, lines := range [][]string{Lines(), For(Measuring)} {
		text := Wrap(lines, width)
		for _, line := range strings.Split(text, "\n") {
			assert.LessOrEqual(t, len([]rune(line)), width)
			assert.True(t, strings.HasPrefix(line, "  "), line)
		}
		assert.Equal(t, strings.Fields(strings.Join(lines, " ")), strings.Fields(text))
	}
	assert.Equal(t, Wrap(Lines(), width), Text(width))
}

func TestAReminderIsTheBriefLinesAndWhereTheRestIs(t *testing.T) {
	const width = 84
	text := Reminder(Firing|Turning, "burngauge help cautions", width)
	for _, line := range strings.Split(text, "\n") {
		assert.LessOrEqual(t, len([]rune(line)), width)
	}
	assert.Equal(t, strings.Join(Brief(Firing|Turning), " ")+" (burngauge help cautions)", strings.Join(strings.Fields(text), " "))
}
