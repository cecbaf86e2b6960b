package sheet

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"burngauge.dev/burngauge/pkg/caution"
	"burngauge.dev/burngauge/pkg/drawing"
	"burngauge.dev/burngauge/pkg/target"
	"burngauge.dev/burngauge/pkg/typeface"
)

// Places on the page, mm.
const (
	margin     = drawing.Margin
	titleY     = 18.0 // base line
	factsY     = 24.0 // base line of the line under the title
	scaleY     = 34.0 // the scale bar's upper edge
	gridTop    = 47.0
	footerTall = 38.0 // above the lower margin
)

// Font sizes, mm: 17, 9, 8 and 7 points.
const (
	titleText = 6.0
	factsText = 3.2
	bodyText  = 2.85
	smallText = 2.5
)

// The sheet is drawn in black, so that any printer prints it. What belongs to
// the target is fully black; the rest is lighter, so that nothing else on the
// paper looks like a ring.
var (
	dark   = drawing.Grey(60)
	middle = drawing.Grey(120)
	light  = drawing.Grey(170)
)

// header names the target and its dimensions.
func header(spec target.Spec, page drawing.Size) []drawing.Shape {
	big := drawing.Font{Size: titleText, Bold: true, Ink: drawing.Black}
	strong := drawing.Font{Size: factsText, Bold: true, Ink: drawing.Black}
	plain := drawing.Font{Size: factsText, Ink: dark}
	order := drawing.Text{Font: strong, Y: titleY, Words: "Print at 100 %, actual size"}
	order.X = page.Wide - margin - order.Width()
	name := drawing.Text{Font: big, X: margin, Y: titleY, Words: typeface.Bold().Drawable(title(spec))}.Shrunk(order.X - margin - 6)
	facts := drawing.Text{Font: plain, X: margin, Y: factsY, Words: typeface.Regular().Drawable(dimensions(spec))}.Shrunk(page.Wide - 2*margin)
	return []drawing.Shape{name, order, facts, rule(factsY+3, page)}
}

// rule is a thin line from margin to margin.
func rule(y float64, page drawing.Size) drawing.Shape {
	return drawing.Line(drawing.Stroked(light, 0.2), drawing.At(margin, y), drawing.At(page.Wide-margin, y))
}

// dimensions is the spec in a line.
func dimensions(spec target.Spec) string {
	var rings []string
	for _, d := range spec.RingsMM {
		rings = append(rings, decimal(d))
	}
	word := "Rings"
	if len(rings) == 1 {
		word = "Ring"
	}
	out := fmt.Sprintf("%s %s mm across, to the middle of the line; line %s mm wide", word, strings.Join(rings, ", "), decimal(spec.LineMM))
	if spec.RimMM > 0 {
		return out + "; rim " + decimal(spec.RimMM) + " mm"
	}
	return out + "; cut " + decimal(cutDiameter(spec)) + " mm"
}

// decimal writes a number without needless zeros.
func decimal(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// scaleMM is the length of the bar that the printer is checked by.
const scaleMM = 100

// scaleTall is the bar's own height, mm.
const scaleTall = 1.2

// scaleBar draws the ruler and says what it is for.
func scaleBar(page drawing.Size) []drawing.Shape {
	shapes := []drawing.Shape{drawing.Box(drawing.At(margin, scaleY), drawing.At(margin+scaleMM, scaleY+scaleTall), drawing.Filled(drawing.Black))}
	for mm := 0; mm <= scaleMM; mm += 5 {
		shapes = append(shapes, tick(mm)...)
	}
	left := margin + scaleMM + 10
	advice := "Measure this bar with a steel rule: 100 mm. If it is not, switch off \u201cfit to page\u201d and print again. " +
		"Then measure an outer ring across and along the sheet."
	beside := column{x: left, y: scaleY + scaleTall, width: page.Wide - margin - left}
	beside.paragraph(advice)
	return append(shapes, beside.shapes...)
}

// tick draws one mark under the bar: long every 50 mm, with its number, shorter
// every 10 and 5. The outermost ones lie inside the bar's ends.
func tick(mm int) []drawing.Shape {
	const width = 0.2
	long := 1.4
	switch {
	case mm%50 == 0:
		long = 3
	case mm%10 == 0:
		long = 2.2
	}
	x := margin + min(max(float64(mm), width/2), scaleMM-width/2)
	top := scaleY + scaleTall
	shapes := []drawing.Shape{drawing.Line(drawing.Stroked(drawing.Black, width), drawing.At(x, top), drawing.At(x, top+long))}
	if mm%50 != 0 {
		return shapes
	}
	font := drawing.Font{Size: smallText, Ink: drawing.Black}
	number := strconv.Itoa(mm)
	label := drawing.Text{Font: font, X: max(margin, x-font.Width(number)/2), Y: top + long + 2.6, Words: number}
	if mm == scaleMM {
		label.Words += " mm"
	}
	return append(shapes, label)
}

// useLines are the left column of the page's foot: what to do with a target.
var useLines = []string{
	"For paper trials, and to fit a target holder of your own. Cut along the outer circle; the solid bar is the top.",
	"One layer of tape, smooth, over rings and centre. One short pulse at the lowest power that marks. Fresh tape for the next.",
	"Photograph it squarely, with the bar and all rings in view. Write station and date, and tape the target back to its place here as a record.",
}

// footer writes two columns: left what to do with a target, right what to beware of.
func footer(page drawing.Size) []drawing.Shape {
	const gutter = 8
	top := page.Tall - margin - footerTall
	width := (page.Wide - 2*margin - gutter) / 2
	use := column{x: margin, y: top + 5, width: width}
	use.heading("Using a target")
	for _, words := range useLines {
		use.paragraph(words)
	}
	brief := caution.Brief(caution.Firing) // who comes first, then the dangers: as one paragraph they fit
	care := column{x: margin + width + gutter, y: top + 5, width: width}
	care.heading("Before you fire")
	care.paragraph(brief[0])
	care.paragraph(strings.Join(brief[1:], " "))
	return slices.Concat([]drawing.Shape{rule(top, page)}, use.shapes, care.shapes)
}

// column is words from top to bottom; y is the next line's base line.
type column struct {
	x, y, width float64
	shapes      []drawing.Shape
}

// put writes lines below each other.
func (c *column) put(font drawing.Font, lines ...string) {
	for _, line := range lines {
		c.shapes = append(c.shapes, drawing.Text{Font: font, X: c.x, Y: c.y, Words: line})
		c.y += font.Line()
	}
}

// heading writes one line, with room below it.
func (c *column) heading(words string) {
	font := drawing.Font{Size: factsText, Bold: true, Ink: drawing.Black}
	c.put(font, words)
	c.y += 0.18 * factsText
}

// paragraph breaks words into lines.
func (c *column) paragraph(words string) {
	font := drawing.Font{Size: bodyText, Ink: dark}
	c.put(font, font.Block(words, c.width).Lines...)
	c.y += 1.1
}
