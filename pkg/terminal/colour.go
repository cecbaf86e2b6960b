package terminal

// Colour is one of the few that the commands use, by what it means.
type Colour string

// Colours are the sixteen-colour codes that every terminal has (ECMA-48,
// select graphic rendition), so that the user's own scheme stays in force.
const (
	Good   Colour = "\x1b[32m" // green: inside, done
	Bad    Colour = "\x1b[31m" // red: outside, an error
	Unsure Colour = "\x1b[33m" // yellow: borderline, a warning
	Strong Colour = "\x1b[1m"  // bold
)

const plain = "\x1b[0m"

// Paint returns text in the colour when on is true, else text as it is.
func Paint(on bool, c Colour, text string) string {
	if !on || text == "" {
		return text
	}
	return string(c) + text + plain
}
