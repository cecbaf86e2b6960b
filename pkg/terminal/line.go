package terminal

import (
	"strings"
	"unicode"
)

// oneLine keeps an error on its line: line ends become spaces, and control
// characters, which file names may carry, cannot reach the terminal.
func oneLine(text string) string {
	text = strings.Join(strings.Fields(text), " ")
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return unicode.ReplacementChar
		}
		return r
	}, text)
}
