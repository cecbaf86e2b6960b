package evidence

import "slices"

// back is what stands behind the pictures: the target and rule, the check value
// and the cautions.
func (p *paper) back(c *content) {
	p.heading("Target and decision rule", 30)
	p.facts(append(slices.Clone(c.Target), fact{"rule", c.Rule}), 50)
	p.heading("Check value of the report", 20)
	for _, words := range c.Integrity {
		p.flow(words, bodySize)
	}
	p.heading("Before anyone fires or turns a screw", 40)
	p.flow(cautionLead, bodySize)
	for _, words := range c.Cautions {
		b := wrapped(text{words: words, size: bodySize, ink: ink, x: margin + 4}, p.width()-4)
		p.need(b.tall())
		p.put(block{[]string{"–"}, text{x: margin, size: bodySize, ink: ink}}, p.y)
		p.put(b, p.y)
		p.y += b.tall() + 0.8
	}
}
