package sheet

import (
	"io"
	"strings"

	"burngauge.dev/burngauge/pkg/drawing"
)

// Font sizes, mm: 17, 12, 10, 9 and 7 points.
const (
	titleSize = 6.0
	headSize  = 4.2
	turnSize  = 3.6
	bodySize  = 3.1
	smallSize = 2.5
)

// The sheet is drawn in black and greys: the plan is for a workshop's printer.
var (
	dark = drawing.Grey(50)
	mid  = drawing.Grey(110)
)

// The sheet's fonts.
var (
	titleFont = drawing.Font{Size: titleSize, Bold: true}
	headFont  = drawing.Font{Size: headSize, Bold: true}
	turnFont  = drawing.Font{Size: turnSize, Bold: true}
	bodyFont  = drawing.Font{Size: bodySize}
	smallFont = drawing.Font{Size: smallSize}
)

const margin = drawing.Margin

// title is the document's.
const title = "Screw plan"

// WritePDF writes the sheet as pages, with its fonts embedded. The same Sheet
// gives the same bytes. Nothing is written when there is an *InputError.
func (s Sheet) WritePDF(w io.Writer) error {
	if err := s.check(); err != nil {
		return err
	}
	return drawing.WritePDF(w, layOut(newWording(s), drawing.PaperOr(s.Paper)))
}

// WriteSVG writes the sheet as one page, as wide as the paper and as tall as it
// needs; one unit of the viewBox is a millimetre. Text is text. Errors as for WritePDF.
func (s Sheet) WriteSVG(w io.Writer) error {
	if err := s.check(); err != nil {
		return err
	}
	return drawing.WriteSVG(w, layOut(newWording(s), drawing.Size{Wide: drawing.PaperOr(s.Paper).Wide}))
}

// layout fills pages from top to bottom.
type layout struct{ *drawing.Flow }

// layOut puts the sheet on pages of a paper; 0 mm tall is one page as tall as it
// needs.
func layOut(c *wording, paper drawing.Size) drawing.Document {
	l := layout{drawing.NewFlow(paper)}
	l.front(c)
	l.findings(c.Findings)
	if len(c.Steps) > 0 {
		l.section("How to turn", manner...)
	}
	for _, st := range c.Steps {
		l.step(st)
	}
	if c.Again.Words != "" {
		l.section(c.Again.Title, c.Again.Words)
	}
	l.expect(c.Expect)
	return l.Document(title, c.Title+" · "+c.Facts[0]+" · advice only")
}

// across writes a paragraph from margin to margin.
func (l layout) across(f drawing.Font, words string) { l.Paragraph(f, words, margin, l.Width()) }

// section is a heading over a paragraph, or over several with a bullet each.
func (l layout) section(title string, list ...string) {
	l.Heading(headFont, title, 2*bodyFont.Line())
	for _, words := range list {
		l.item(words, len(list) > 1)
	}
}

// indent is that of a paragraph with a bullet, mm.
const indent = 3.2

// item is one paragraph.
func (l layout) item(words string, bullet bool) {
	l.Need(bodyFont.Line())
	x := margin
	if bullet {
		mid := l.Y + bodyFont.Line()/2
		l.Put(drawing.Box(drawing.At(x+0.6, mid-0.35), drawing.At(x+1.8, mid+0.35), drawing.Filled(drawing.Black)))
		x += indent
	}
	l.Paragraph(bodyFont, words, x, margin+l.Width()-x)
	l.Y += 0.7
}

// front is what to know before any step.
func (l layout) front(c *wording) {
	l.across(titleFont, c.Title)
	l.Y += 0.5
	for _, f := range c.Facts {
		l.across(bodyFont, f)
	}
	l.Y += 2
	l.boxed(c.Headline, c.Lead)
	l.section("Safety first", c.Cautions...)
}

// boxed is the headline in a heavy frame. Words that fill more than half a page are
// written without it.
func (l layout) boxed(headline, lead string) {
	const pad = 2.2
	width := l.Width() - 2*pad
	tall := headFont.Block(headline, width).Tall() + bodyFont.Block(lead, width).Tall() + 2*pad
	if l.Room() == 0 || tall < l.Room()/2 {
		l.Need(tall)
		l.Put(drawing.Box(drawing.At(margin, l.Y), drawing.At(margin+l.Width(), l.Y+tall), outlined(0.7)))
	}
	l.Y += pad
	l.Paragraph(headFont, headline, margin+pad, width)
	l.Paragraph(bodyFont, lead, margin+pad, width)
	l.Y += pad
}

// findings are what the screws cannot cure, each with its evidence.
func (l layout) findings(list []finding) {
	if len(list) == 0 {
		return
	}
	l.Heading(headFont, "Findings", 3*bodyFont.Line())
	for _, f := range list {
		l.item(f.Text+" ("+f.Code+")", true)
		if f.Evidence != "" {
			l.Y -= 0.5
			l.Paragraph(bodyFont, "Evidence: "+f.Evidence, margin+indent, l.Width()-indent)
			l.Y += 1
		}
	}
}

// step is one mirror, kept on one page: a hand that turns does not leaf through
// pages. It is laid out twice: first on a page without an end, which gives its height.
func (l layout) step(st step) {
	const above = 3.0
	trial := layout{drawing.NewFlow(drawing.Size{Wide: l.Width() + 2*margin})}
	trial.mirror(st)
	l.Need(above + trial.Y - margin)
	l.Y += above
	l.mirror(st)
}

// mirror draws a step: the mount at the left, what to turn at its right.
func (l layout) mirror(st step) {
	const gap = 5.0
	x := margin + drawnWide + gap
	width := margin + l.Width() - x
	top, page := l.Y, l.Pages()
	l.Put(st.Mount.draw(margin, top)...)
	l.Paragraph(headFont, st.Title, x, width)
	l.Y += 1
	for _, t := range st.Tasks {
		l.tick(x, width, "Screw "+clean(t.Screw)+": "+Fraction(t.Turns)+" "+way(t.Turns), strings.TrimPrefix(seenFrom, ", ")+degrees(t.Turns))
		if t.Back != 0 {
			l.Y += 0.6
			l.tick(x, width, "then "+Fraction(t.Back)+" back "+way(t.Back), "that takes the play out"+degrees(t.Back))
		}
		l.Y += 1.2
	}
	l.Y += 0.5
	l.Paragraph(smallFont, st.View+" Black hexagon: turn it along the arrow. Circle: leave it alone. Broken circle: the mirror.", x, width)
	if l.Pages() == page { // words from elsewhere may be longer than a page
		l.Y = max(l.Y, top+drawnTall)
	}
}

// tick is one turn with a box to tick with a pencil.
func (l layout) tick(x, width float64, turn, note string) {
	const side, room = 3.0, 4.2
	l.Put(drawing.Box(drawing.At(x, l.Y+0.8), drawing.At(x+side, l.Y+0.8+side), outlined(0.3)))
	l.Paragraph(turnFont, turn, x+room, width-room)
	l.Paragraph(bodyFont, note, x+room, width-room)
}

// shares are the widths of the table's columns.
var shares = []float64{4, 3, 3, 4, 4}

// expect is the table of predictions, and how to read it.
func (l layout) expect(t table) {
	if len(t.Rows) == 0 {
		return
	}
	l.Heading(headFont, t.Title, 20)
	headings := drawing.Font{Size: smallSize * 1.1, Bold: true}
	out := drawing.Table{Fonts: drawing.TableFonts{Head: headings, Cell: bodyFont}}
	for i, head := range t.Heads {
		out.Columns = append(out.Columns, drawing.Column{Head: head, Share: shares[i]})
	}
	for _, r := range t.Rows {
		var cells []drawing.Cell
		for _, words := range r.Cells {
			cells = append(cells, drawing.Cell{Text: words})
		}
		cells[len(cells)-1].Sign = sign(r.State)
		out.Rows = append(out.Rows, drawing.TableRow{Cells: cells})
	}
	l.Table(out)
	l.Y++
	for _, note := range t.Notes {
		l.across(smallFont, note)
	}
}

// sign is a state as a form, the surer the darker.
func sign(state string) *drawing.Figure {
	out := drawing.Bar.Figure(mid)
	switch state {
	case "inside":
		out = drawing.Tick.Figure(dark)
	case "outside":
		out = drawing.Cross.Figure(drawing.Black)
	}
	return &out
}
