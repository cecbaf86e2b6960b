package evidence

import (
	"slices"

	"burngauge.dev/burngauge/pkg/caution"
	"burngauge.dev/burngauge/pkg/drawing"
)

// back is what stands behind the pictures: the target and rule, the check value
// and the cautions.
func (l layout) back(c *wording) {
	l.Heading(headFont, "Target and decision rule", 30)
	l.facts(append(slices.Clone(c.Target), fact{"rule", c.Rule}), 50)
	l.Heading(headFont, "Check value of the report", 20)
	for _, words := range c.Integrity {
		l.across(bodyFont, words)
	}
	l.Heading(headFont, "Before anyone fires or turns a screw", 40)
	l.across(bodyFont, caution.Advice)
	for _, words := range c.Cautions {
		b := bodyFont.Block(words, l.Width()-4)
		l.Need(b.Tall())
		l.Put(drawing.Block{Font: bodyFont, Lines: []string{"–"}}.At(margin, l.Y)...)
		l.Put(b.At(margin+4, l.Y)...)
		l.Y += b.Tall() + 0.8
	}
}

// facts writes labels and texts in two columns, over page ends; label is the
// width of the labels, which take one line each.
func (l layout) facts(list []fact, label float64) {
	for _, f := range list {
		name := labelFont.Block(f.Label, label-1.5)
		l.Need(name.Tall())
		l.Put(name.At(margin, l.Y)...)
		l.Paragraph(bodyFont, f.Text, margin+label, l.Width()-label)
	}
}
