package evidence

// front is the first page: job, verdict, map and table.
func (p *paper) front(c *content) {
	p.put(wrapped(text{words: c.Title, size: titleSize, bold: true, ink: ink, x: margin}, p.width()), p.y)
	p.y += titleSize*leading + 1.5
	p.job(c.Job)
	if c.LongNotes {
		p.flow("The notes stand further on.", bodySize)
	} else {
		p.y += 1
		for _, line := range c.Notes {
			p.flow(line, bodySize)
		}
	}
	p.y += 1
	p.verdict(c.Verdict, "", 0.6)
	if c.Before != nil {
		p.verdict(*c.Before, "Before. ", 0.2)
	}
	p.bed(c.Map)
	p.heading("The burns in numbers", 20)
	if p.tight.apart {
		p.table(c.Numbers.bare())
		p.y += 1.5
		p.flow("The remarks on the burns stand further on.", smallSize)
	} else {
		p.table(c.Numbers)
		p.y += 1.5
	}
	for _, words := range c.Reading {
		p.flow(words, smallSize)
	}
}

// job writes the facts in two columns, row by row.
func (p *paper) job(list []fact) {
	const label = 23.0
	half := p.width() / 2
	for i := 0; i < len(list); i += 2 {
		var blocks []block
		tall := 0.0
		for j, f := range list[i:min(i+2, len(list))] {
			x := margin + float64(j)*half
			name := wrapped(text{words: f.Label, size: bodySize, ink: muted, x: x}, label)
			value := wrapped(text{words: f.Text, size: bodySize, ink: ink, x: x + label}, half-label-3)
			blocks = append(blocks, name, value)
			tall = max(tall, name.tall(), value.tall())
		}
		p.need(tall)
		for _, b := range blocks {
			p.put(b, p.y)
		}
		p.y += tall
	}
}

// verdict is a framed box: badge and words. Its frame is the heavier the more
// it counts.
func (p *paper) verdict(v verdictView, lead string, frameWidth float64) {
	const pad, sign = 1.8, 7.0
	x := margin + pad + sign + 2.5
	room := p.width() - (x - margin) - pad
	headline := headSize
	if lead != "" {
		headline = bodySize
	}
	blocks := []block{wrapped(text{words: lead + v.Headline, size: headline, bold: true, ink: ink, x: x}, room),
		wrapped(text{words: v.Text, size: bodySize, ink: ink, x: x}, room),
		wrapped(text{words: v.Remarks, size: bodySize, bold: true, ink: ink, x: x}, room)}
	tall := 2 * pad
	for _, b := range blocks {
		tall += b.tall()
	}
	tall = max(tall, sign+2*pad)
	p.need(tall)
	p.pen(ink, frameWidth)
	p.doc.Rect(margin, p.y, p.width(), tall, "D")
	p.draw(v.Badge, frame{margin + pad, p.y + pad, sign})
	y := p.y + pad
	for _, b := range blocks {
		p.put(b, y)
		y += b.tall()
	}
	p.y += tall + 2
}
