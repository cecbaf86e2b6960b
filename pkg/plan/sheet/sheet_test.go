package sheet

import (
	"bytes"
	"io"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/drawing"
	"burngauge.dev/burngauge/pkg/machine"
	"burngauge.dev/burngauge/pkg/plan"
	"burngauge.dev/burngauge/pkg/report"
)

func textOf(t *testing.T, s Sheet) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, s.WriteText(&b, false))
	return b.String()
}

func TestTurnsAreFractionsOfARule(t *testing.T) {
	for turns, want := range map[float64]string{
		0.125: "1/8 of a turn", -0.1875: "3/16 of a turn", 0.03125: "1/32 of a turn", 0.5: "1/2 of a turn", 1: "1 turn", -2: "2 turns",
		1.25: "1 1/4 turns", 1.0 / 3: "1/3 of a turn", 0.05: "1/20 of a turn", 0.137: "0.137 of a turn", 2.71828: "2.718 turns",
	} {
		assert.Equal(t, want, Fraction(turns))
	}
}

// Read back, a fraction is the turn: no screw gets another way or distance.
func TestFractionsReadBackAreTheTurn(t *testing.T) {
	for i := 1; i <= 3*64; i++ {
		turns := float64(i) / 64
		text := short(turns)
		got := 0.0
		for _, part := range strings.Fields(text) {
			n, d, broken := strings.Cut(part, "/")
			if v := number(t, n); broken {
				got += v / number(t, d)
			} else {
				got += v
			}
		}
		assert.InDelta(t, turns, got, 1e-12, text)
	}
}

func TestSafetyComesBeforeAnyScrewAndDefers(t *testing.T) {
	for name, s := range every() {
		text := textOf(t, s)
		safety := strings.Index(text, "SAFETY FIRST")
		require.Positive(t, safety, name)
		if step := strings.Index(text, "STEP 1"); step >= 0 {
			assert.Less(t, safety, step, name)
		}
		for _, want := range []string{"maker’s instructions", "local rules", "laser safety officer", "trained", "commands nothing", "Class 4", "10 600 nm", "interlock"} {
			assert.Contains(t, text, want, name)
		}
	}
}

func TestStepsGoMirrorByMirrorInThePlansOrder(t *testing.T) {
	text := textOf(t, example())
	at := 0
	for _, want := range []string{"STEP 1: MIRROR 1", "Screw A: 3/16 of a turn clockwise (68°)", "Screw C: 1/32 of a turn anticlockwise (11°)",
		"STEP 2: MIRROR 3", "Screw B: 1 1/4 turns anticlockwise", "FIRE AGAIN", "rear-left, front-left, middle, rear-right and front-right"} {
		next := strings.Index(text[at:], want)
		require.GreaterOrEqual(t, next, 0, want)
		at += next
	}
}

// A turn too far and back again is one task of one step.
func TestAWayBackStandsWithItsTurn(t *testing.T) {
	s := example()
	s.Plan.Turns = []plan.Turn{{Mirror: "3", Screw: "B", Turns: -0.25}, {Mirror: "3", Screw: "B", Turns: 0.125}, {Mirror: "3", Screw: "A", Turns: 0.125}, {Mirror: "3", Screw: "B", Turns: 0.125}}
	steps := newWording(s).Steps
	require.Len(t, steps, 2)
	assert.Equal(t, []task{{"3", "B", -0.25, 0.125}, {"3", "A", 0.125, 0}}, steps[0].Tasks)
	assert.Equal(t, []task{{"3", "B", 0.125, 0}}, steps[1].Tasks)
	text := textOf(t, s)
	assert.Contains(t, text, "Turn 2 screws on mirror 3,")
	assert.Contains(t, text, "Screw B: 1/4 of a turn anticlockwise (90°), seen from the screw’s head\n  [ ] then 1/8 of a turn back clockwise (45°): that takes the play out\n")
	rows := ascii(steps[0].Mount)
	at := strings.Index(rows[2], "[B]")
	require.Positive(t, at)
	assert.Equal(t, "<-.", rows[1][at:at+3], "first")
	assert.Equal(t, ".->", rows[3][at:at+3], "then back")
}

// A screw that is turned twice, with another mirror between, is two steps.
func TestAMirrorThatComesTwiceIsTwoSteps(t *testing.T) {
	s := example()
	s.Plan.Turns = []plan.Turn{{Mirror: "1", Screw: "A", Turns: 0.25}, {Mirror: "2", Screw: "A", Turns: 0.25}, {Mirror: "1", Screw: "A", Turns: -0.125}}
	steps := newWording(s).Steps
	require.Len(t, steps, 3)
	assert.Equal(t, [3]float64{-0.125, 0, 0}, steps[2].Mount.Turns)
	assert.Contains(t, textOf(t, s), "on mirrors 1 and 2,")
}

func TestEachStatusSaysWhatToDo(t *testing.T) {
	assert.Contains(t, textOf(t, of(plan.StatusNothing)), "Nothing to turn.")
	fire := textOf(t, of(plan.StatusFire, "middle", "rear-left"))
	assert.Contains(t, fire, "Fire first at middle and rear-left, turn nothing yet.")
	assert.NotContains(t, fire, "STEP 1")
	s := example()
	s.Plan.Status = plan.StatusBeyond
	beyond := textOf(t, s)
	assert.Contains(t, beyond, "Beyond the screws")
	assert.Less(t, strings.Index(beyond, "FINDINGS"), strings.Index(beyond, "STEP 1"), "what has to be moved comes first")
	assert.NotContains(t, textOf(t, of(plan.StatusBeyond)), "STEP 1")
}

// The drawing in letters: where the profile has the screws, seen from behind.
func TestTheDrawingInLettersHasTheScrewsInPlace(t *testing.T) {
	m := newMount(machine.Default().Mirrors[0])
	m.Turns = [3]float64{0.25, -0.5, 0}
	lines := ascii(m)
	find := func(words string) (row, col int) {
		for i, line := range lines {
			if at := strings.Index(line[:plateWide+4], words); at >= 0 && i > 0 {
				return i, at
			}
		}
		t.Fatalf("no %s in\n%s", words, strings.Join(lines, "\n"))
		return 0, 0
	}
	aRow, aCol := find("[A]")
	bRow, bCol := find("[B]")
	cRow, cCol := find("(C)")
	assert.Equal(t, aRow, bRow)
	assert.Less(t, aCol, bCol)
	assert.Equal(t, aCol, cCol)
	assert.Less(t, aRow, cRow)
	row, col := find(".->")
	assert.Equal(t, [2]int{aRow - 1, aCol}, [2]int{row, col}, "clockwise above A")
	row, col = find("<-.")
	assert.Equal(t, [2]int{bRow - 1, bCol}, [2]int{row, col}, "anticlockwise above B")
}

// Any three places of screws give a drawing with all of them in it.
func TestAnyMountIsDrawn(t *testing.T) {
	for _, at := range [][3]machine.Screw{
		{{RightMM: 0, UpMM: 18}, {RightMM: 1, UpMM: 18}, {RightMM: 0, UpMM: -18}},
		{{RightMM: 5, UpMM: 5}, {RightMM: 5, UpMM: 6}, {RightMM: 6, UpMM: 5}},
		{{RightMM: -2000, UpMM: 0}, {RightMM: 2000, UpMM: 0}, {RightMM: 0, UpMM: 300}},
		{{RightMM: 20000, UpMM: 20000}, {RightMM: 19999, UpMM: 20000}, {RightMM: 20000, UpMM: 19999}},
	} {
		m := mount{Screws: at, ClearMM: 20, Turns: [3]float64{0.25, -0.25, 0}}
		text := strings.Join(ascii(m), "\n")
		text = strings.ReplaceAll(strings.ReplaceAll(text, "[A]  screw", ""), "(A)  leave", "")
		for _, want := range []string{"[A]", "[B]", "(C)"} {
			assert.Equal(t, 1, strings.Count(text, want), "%s in\n%s", want, text)
		}
		for _, sh := range m.draw(0, 0) {
			for _, p := range outlineOf(sh) {
				assert.True(t, p.X >= -1 && p.X <= drawnWide+1 && p.Y >= -1 && p.Y <= drawnTall+1, "%v leaves the drawing", p)
			}
		}
	}
}

// outlineOf is the corners of what is drawn, of a circle those of the square around it.
func outlineOf(s drawing.Shape) []drawing.Point {
	switch s := s.(type) {
	case drawing.Path:
		return s.Points
	case drawing.Rectangle:
		return []drawing.Point{{X: s.X, Y: s.Y}, {X: s.X + s.Wide, Y: s.Y + s.Tall}}
	case drawing.Ellipse:
		return []drawing.Point{{X: s.X - s.RX, Y: s.Y - s.RY}, {X: s.X + s.RX, Y: s.Y + s.RY}}
	}
	return nil
}

// Clockwise on paper: from the arc's start to its tip the angle grows as a clock's.
func TestTheArrowRunsTheWayOfTheTurn(t *testing.T) {
	for _, clockwise := range []bool{true, false} {
		shapes := arrow(drawing.Point{}, 5, clockwise)
		points := shapes[0].(drawing.Path).Points
		sum := 0.0
		for i := 1; i < len(points); i++ {
			a, b := points[i-1], points[i]
			sum += a.X*b.Y - a.Y*b.X // twice the area swept; positive is clockwise with y down
		}
		assert.Equal(t, clockwise, sum > 0)
		tip, end := shapes[1].(drawing.Path).Points[0], points[len(points)-1]
		assert.Less(t, math.Hypot(tip.X-end.X, tip.Y-end.Y), 3.0, "the head is at the end")
		assert.Equal(t, clockwise, end.X*tip.Y-end.Y*tip.X > 0, "and points onward")
	}
}

// The view: mirror 1 of the starter profile has its normal to the right and up.
func TestTheViewIsInTheMachinesWords(t *testing.T) {
	text := textOf(t, example())
	assert.Contains(t, strings.Join(strings.Fields(text), " "), "looking right and up. The drawing’s top is left and up on the machine.")
	assert.Equal(t, "left", heading(machine.Vec{-1, 0, 0.1}))
	assert.Equal(t, "to the front and down", heading(machine.Vec{0, -0.7, -0.7}))
}

// What must be known before a screw is turned comes before the first step.
func TestFindingsAndTheMannerOfTurningComeBeforeTheSteps(t *testing.T) {
	text := textOf(t, example())
	step := strings.Index(text, "STEP 1")
	for _, heading := range []string{"Read the findings before you turn.", "SAFETY FIRST", "FINDINGS", "HOW TO TURN"} {
		at := strings.Index(text, heading)
		assert.True(t, at > 0 && at < step, heading)
	}
	assert.NotContains(t, textOf(t, of(plan.StatusNothing)), "HOW TO TURN")
}

// Wherever a page ends, a step stands on one: from its title to its last words.
func TestAStepIsNotBrokenOverPages(t *testing.T) {
	s := example()
	for _, screw := range []string{"A", "C"} { // with B a step that is taller than its drawing
		s.Plan.Turns = append(s.Plan.Turns, plan.Turn{Mirror: "3", Screw: screw, Turns: -0.5, Direction: "anticlockwise"}, plan.Turn{Mirror: "3", Screw: screw, Turns: 0.125, Direction: "clockwise"})
	}
	pages := map[int]bool{}
	for range 40 {
		s.Plan.Findings = append(s.Plan.Findings, plan.Finding{Code: "x", Text: "One line more.", Evidence: "y"})
		started := -1
		doc := layOut(newWording(s), drawing.PaperOr(s.Paper))
		for i, page := range doc.Pages {
			for _, sh := range page {
				words, ok := sh.(drawing.Text)
				if !ok {
					continue
				}
				if strings.HasPrefix(words.Words, "Step ") {
					started = i
					pages[i] = true
				}
				if strings.Contains(words.Words, "the mirror.") {
					assert.Equal(t, started, i, "%d findings", len(s.Plan.Findings))
				}
			}
		}
	}
	assert.Greater(t, len(pages), 2, "page ends fell in many places")
}

// A radius beyond the limit is explained where it stands; a narrow one needs no words.
func TestAWideRadiusIsExplained(t *testing.T) {
	const says = "comes from the screws"
	s := example()
	assert.NotContains(t, textOf(t, s), says)
	s.Plan.Predicted[4].RadiusMM = 4
	assert.Contains(t, textOf(t, s), says)
	s.Plan.Turns = nil
	assert.NotContains(t, textOf(t, s), says, "nothing is turned: it is the readings'")
}

func TestLengthsCanBeInInches(t *testing.T) {
	s := example()
	s.Units = report.Inches
	text := textOf(t, s)
	assert.Contains(t, text, "left/right in")
	assert.Contains(t, text, "0.122 right") // 3.1 mm / 25.4
	assert.Contains(t, text, "within 0.0787 in")
}

func TestNoLineOfTextIsWiderThanATerminal(t *testing.T) {
	for name, s := range every() {
		inTable := false
		for _, line := range strings.Split(textOf(t, s), "\n") {
			inTable = inTable && line != "" || strings.HasPrefix(line, "  station ")
			if !inTable {
				assert.LessOrEqual(t, utf8.RuneCountInString(line), columns, "%s: %s", name, line)
			}
			assert.NotContains(t, line, "\x1b", name)
		}
	}
}

func TestAPlanForAnotherMachineIsRefused(t *testing.T) {
	s := example()
	s.Plan.Turns[0].Mirror = "7"
	for _, write := range []func(io.Writer) error{s.WritePDF, s.WriteSVG, func(w io.Writer) error { return s.WriteText(w, false) }} {
		var b bytes.Buffer
		var wrong *InputError
		require.ErrorAs(t, write(&b), &wrong)
		assert.Contains(t, wrong.Error(), `has no screw "A" on a mirror "7"`)
		assert.Zero(t, b.Len())
	}
	s = example()
	s.Paper = "A3"
	assert.ErrorContains(t, s.WritePDF(io.Discard), "a4 or letter")
}
