package sheet

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"burngauge.dev/burngauge/pkg/drawing"
	"burngauge.dev/burngauge/pkg/machine"
)

// parts are the fractions of a turn that a hand can follow: halvings first, as a
// rule is divided, then what a profile with a decimal smallest turn leads to.
var parts = []int{1, 2, 4, 8, 16, 32, 64, 3, 6, 12, 5, 10, 20, 40, 50, 100}

// exactly is how near a turn must lie to a fraction to be called by it, turns:
// beyond any hand.
const exactly = 1e-4

// Fraction says how far to turn, without the direction: "3/16 of a turn",
// "1 1/4 turns", "1 turn". What is no plain fraction is in decimals.
func Fraction(turns float64) string {
	turns = math.Abs(turns)
	for _, d := range parts {
		n := math.Round(turns * float64(d))
		if n > 0 && n < 1e6 && math.Abs(n/float64(d)-turns) < exactly {
			return mixed(int(n), d)
		}
	}
	if text := strconv.FormatFloat(turns, 'f', 3, 64); turns > 1 {
		return text + " turns"
	} else {
		return text + " of a turn"
	}
}

// mixed writes n/d turns; d does not divide n unless it is 1.
func mixed(n, d int) string {
	whole, rest := n/d, n%d
	switch {
	case rest == 0 && whole == 1:
		return "1 turn"
	case rest == 0:
		return fmt.Sprintf("%d turns", whole)
	case whole == 0:
		return fmt.Sprintf("%d/%d of a turn", rest, d)
	}
	return fmt.Sprintf("%d %d/%d turns", whole, rest, d)
}

// short is Fraction without the word: what stands beside a drawn screw.
func short(turns float64) string {
	text := Fraction(turns)
	for _, tail := range []string{" of a turn", " turns", " turn"} {
		text = strings.TrimSuffix(text, tail)
	}
	return text
}

// degrees is the same turn as an angle, " (68°)"; nothing from a whole turn on,
// where no one counts degrees.
func degrees(turns float64) string {
	if math.Abs(turns) >= 1 {
		return ""
	}
	return fmt.Sprintf(" (%.0f°)", math.Abs(turns)*360)
}

// way is the direction in a word.
func way(turns float64) string {
	if turns < 0 {
		return "anticlockwise"
	}
	return "clockwise"
}

// seenFrom stands behind every turn: it is what clockwise refers to.
const seenFrom = ", seen from the screw’s head"

// first is the turn in words, second the way back, "" when there is none.
func (t task) first() string { return Fraction(t.Turns) + " " + way(t.Turns) + degrees(t.Turns) }

func (t task) second() string {
	if t.Back == 0 {
		return ""
	}
	return "then " + Fraction(t.Back) + " back " + way(t.Back) + degrees(t.Back) + ": that takes the play out"
}

// ways are the machine's axes in words, as one stands in front of it.
var ways = [3][2]string{{"left", "right"}, {"to the front", "to the rear"}, {"down", "up"}}

// counts is the share of a unit vector along an axis from which on the axis is
// named: the sine of 22.5 degrees, half way to the next named direction.
const counts = 0.3827

// heading names a direction in the machine's frame: "right and up".
func heading(v machine.Vec) string {
	var words []string
	for axis, pair := range ways {
		switch {
		case v[axis] > counts:
			words = append(words, pair[1])
		case v[axis] < -counts:
			words = append(words, pair[0])
		}
	}
	return list(words)
}

// list joins words: "a", "a and b", "a, b and c".
func list(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// plural is "1 screw", "2 screws".
func plural(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return fmt.Sprintf("%d %ss", n, word)
}

// mostRunes of a name from elsewhere stand in a field, which a page must hold
// whole: far more than any station or machine is called.
const mostRunes = 200

// clean makes one short line of a name from elsewhere.
func clean(text string) string { return drawing.Cut(drawing.Plain(text), mostRunes) }
