package evidence

import (
	"slices"

	"burngauge.dev/burngauge/pkg/drawing"
)

// front is the first page: job, verdict, map and table.
func (l layout) front(c *wording) {
	l.Paragraph(titleFont, c.Title, margin, l.Width())
	l.Y += 1.5
	l.job(c.Job)
	if c.LongNotes {
		l.across(bodyFont, "The notes stand further on.")
	} else {
		l.Y++
		for _, line := range c.Notes {
			l.across(bodyFont, line)
		}
	}
	l.Y++
	l.verdict(c.Verdict, headFont, 0.6)
	if c.Before != nil {
		before := *c.Before
		before.Headline = "Before. " + before.Headline
		l.verdict(before, bold(bodyFont), 0.2)
	}
	l.bed(c.Map)
	l.Heading(headFont, "The burns in numbers", 20)
	l.burns(c.Numbers)
	for _, words := range c.Reading {
		l.across(smallFont, words)
	}
}

// burns is the table of the burns; its remarks stand apart when they would push it
// off the first page.
func (l layout) burns(t tableView) {
	if l.tight.apart {
		l.table(t.bare())
		l.Y += 1.5
		l.across(smallFont, "The remarks on the burns stand further on.")
		return
	}
	l.table(t)
	l.Y += 1.5
}

// job writes the facts in two columns, row by row.
func (l layout) job(list []fact) {
	const label = 23.0
	half := l.Width() / 2
	for pair := range slices.Chunk(list, 2) {
		tall := 0.0
		names, values := make([]drawing.Block, len(pair)), make([]drawing.Block, len(pair))
		for i, f := range pair {
			names[i], values[i] = labelFont.Block(f.Label, label), bodyFont.Block(f.Text, half-label-3)
			tall = max(tall, names[i].Tall(), values[i].Tall())
		}
		l.Need(tall)
		for i := range pair {
			x := margin + float64(i)*half
			l.Put(names[i].At(x, l.Y)...)
			l.Put(values[i].At(x+label, l.Y)...)
		}
		l.Y += tall
	}
}

// verdict is a framed box: sign and words. Its frame is the heavier the more it
// counts.
func (l layout) verdict(v verdictView, headline drawing.Font, frame float64) {
	const pad, side = 1.8, 7.0 // inside the frame; of the sign
	x := margin + pad + side + 2.5
	width := l.Width() - (x - margin) - pad
	blocks := []drawing.Block{headline.Block(v.Headline, width), bodyFont.Block(v.Text, width), bold(bodyFont).Block(v.Remarks, width)}
	tall := 2 * pad
	for _, b := range blocks {
		tall += b.Tall()
	}
	tall = max(tall, side+2*pad)
	l.Need(tall)
	l.Put(drawing.Box(drawing.At(margin, l.Y), drawing.At(margin+l.Width(), l.Y+tall), drawing.Stroked(ink, frame)))
	l.Put(v.Badge.At(margin+pad, l.Y+pad, side)...)
	y := l.Y + pad
	for _, b := range blocks {
		l.Put(b.At(x, y)...)
		y += b.Tall()
	}
	l.Y += tall + 2
}
