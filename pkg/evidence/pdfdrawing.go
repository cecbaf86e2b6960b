package evidence

import "codeberg.org/go-pdf/fpdf"

// frame is where a drawing goes: its upper left corner and width, mm.
type frame struct{ x, y, wide float64 }

// draw puts a drawing on the page, to scale, and gives the height it takes.
func (p *paper) draw(d drawing, f frame) (tall float64) {
	left, top, wide, high := d.bounds()
	scale := f.wide / wide
	at := func(x, y float64) (float64, float64) { return f.x + (x-left)*scale, f.y + (y-top)*scale }
	for _, s := range d.Shapes {
		style := p.look(s.look, scale)
		x, y := at(s.X, s.Y)
		if s.RX > 0 {
			p.doc.Ellipse(x, y, s.RX*scale, s.RY*scale, -s.Turn, style) // fpdf turns counter-clockwise
			continue
		}
		for i, q := range s.Points {
			x, y := at(q[0], q[1])
			if i == 0 {
				p.doc.MoveTo(x, y)
				continue
			}
			p.doc.LineTo(x, y)
		}
		p.doc.DrawPath(style)
	}
	p.doc.SetDashPattern(nil, 0)
	return high * scale
}

// look sets pen and brush and gives the style's letters.
func (p *paper) look(l look, scale float64) string {
	style := ""
	if l.Fill != nil {
		p.doc.SetFillColor(int(l.Fill.R), int(l.Fill.G), int(l.Fill.B))
		style = "F"
	}
	if l.Width > 0 {
		p.pen(l.Stroke, l.Width*scale)
		style += "D"
	}
	var dash []float64
	for _, v := range l.Dash {
		dash = append(dash, v*scale)
	}
	p.doc.SetDashPattern(dash, 0)
	return style
}

// fit is a size in px as large as it goes into mm.
func fit(pixels fpdf.SizeType, wide, tall float64) fpdf.SizeType {
	scale := min(wide/pixels.Wd, tall/pixels.Ht)
	return fpdf.SizeType{Wd: pixels.Wd * scale, Ht: pixels.Ht * scale}
}
