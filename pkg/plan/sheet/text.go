package sheet

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"burngauge.dev/burngauge/pkg/terminal"
)

// columns is the width of the text: an ordinary terminal's.
const columns = 80

// WriteText writes the sheet for a terminal; colour is whether that takes any.
func (s Sheet) WriteText(w io.Writer, colour bool) error {
	if err := s.check(); err != nil {
		return err
	}
	c := newWording(s)
	t := &textPage{colour: colour}
	t.front(c)
	t.findings(c.Findings)
	if len(c.Steps) > 0 {
		t.heading("How to turn")
		t.items(manner)
	}
	for _, st := range c.Steps {
		t.step(st)
	}
	if c.Again.Words != "" {
		t.heading(c.Again.Title)
		t.wrap("  ", "  ", c.Again.Words)
	}
	t.table(c.Expect)
	if _, err := io.WriteString(w, t.String()); err != nil {
		return fmt.Errorf("writing the plan: %w", err)
	}
	return nil
}

// textPage gathers the text, so that a failing output is found once, at the end.
type textPage struct {
	strings.Builder
	colour bool
}

func (t *textPage) line(words string) {
	t.WriteString(strings.TrimRight(words, " ") + "\n")
}

// front is what to know before any step.
func (t *textPage) front(c *wording) {
	t.line(terminal.Paint(t.colour, terminal.Strong, c.Title))
	for _, f := range c.Facts {
		t.wrap("", "", f)
	}
	t.line("")
	for _, line := range wrap(c.Headline, columns) {
		t.line(terminal.Paint(t.colour, terminal.Strong, line))
	}
	t.wrap("", "", c.Lead)
	t.heading("Safety first")
	t.items(c.Cautions)
}

// heading stands out without colour too.
func (t *textPage) heading(words string) {
	t.line("")
	t.line(terminal.Paint(t.colour, terminal.Strong, strings.ToUpper(words)))
}

func (t *textPage) items(list []string) {
	for _, words := range list {
		t.wrap("  - ", "    ", words)
	}
}

// wrap writes a paragraph: first stands before its first line, rest before the others.
func (t *textPage) wrap(first, rest, words string) {
	for i, line := range wrap(words, columns-utf8.RuneCountInString(rest)) {
		lead := rest
		if i == 0 {
			lead = first
		}
		t.line(lead + line)
	}
}

// wrap breaks words into lines of at most so many letters; a longer word, such as
// a file's name, is broken too.
func wrap(words string, width int) []string {
	var lines []string
	current := ""
	for _, word := range strings.Fields(words) {
		if current != "" && utf8.RuneCountInString(current)+1+utf8.RuneCountInString(word) <= width {
			current += " " + word
			continue
		}
		if current != "" {
			lines = append(lines, current)
		}
		letters := []rune(word)
		for len(letters) > width {
			lines = append(lines, string(letters[:width]))
			letters = letters[width:]
		}
		current = string(letters)
	}
	if current == "" {
		return lines
	}
	return append(lines, current)
}

// step is one mirror: the turns in words, then the drawing.
func (t *textPage) step(st step) {
	t.heading(st.Title)
	for _, task := range st.Tasks {
		t.wrap("  [ ] ", "      ", "Screw "+clean(task.Screw)+": "+task.first()+seenFrom)
		if back := task.second(); back != "" {
			t.wrap("  [ ] ", "      ", back)
		}
	}
	t.wrap("  ", "  ", st.View)
	t.line("")
	for _, line := range ascii(st.Mount) {
		t.line("      " + line)
	}
}

// table writes the predictions with aligned columns.
func (t *textPage) table(tab table) {
	if len(tab.Rows) == 0 {
		return
	}
	t.heading(tab.Title)
	widths := make([]int, len(tab.Heads))
	rows := [][]string{tab.Heads}
	for _, r := range tab.Rows {
		rows = append(rows, r.Cells)
	}
	for _, cells := range rows {
		for i, c := range cells {
			widths[i] = max(widths[i], utf8.RuneCountInString(c))
		}
	}
	for i, cells := range rows {
		line := "  "
		for j, c := range cells[:len(cells)-1] {
			line += c + strings.Repeat(" ", widths[j]-utf8.RuneCountInString(c)+2)
		}
		last := cells[len(cells)-1]
		if i > 0 {
			last = terminal.Paint(t.colour, stateColour(tab.Rows[i-1].State), last)
		}
		t.line(line + last)
	}
	t.line("")
	for _, note := range tab.Notes {
		t.wrap("  ", "  ", note)
	}
}

func stateColour(state string) terminal.Colour {
	switch state {
	case "inside":
		return terminal.Good
	case "outside":
		return terminal.Bad
	}
	return terminal.Unsure
}

// findings are what the screws cannot cure, each with its evidence.
func (t *textPage) findings(list []finding) {
	if len(list) == 0 {
		return
	}
	t.heading("Findings")
	for _, f := range list {
		t.wrap("  - ", "    ", f.Text+" ("+f.Code+")")
		if f.Evidence != "" {
			t.wrap("    ", "    ", "Evidence: "+f.Evidence)
		}
	}
}
