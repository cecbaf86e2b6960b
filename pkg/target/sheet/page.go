package sheet

import (
	"fmt"
	"strconv"
	"strings"

	"burngauge.dev/burngauge/pkg/printing"
	"burngauge.dev/burngauge/pkg/target"
	"burngauge.dev/burngauge/pkg/typeface"
)

// Places on the page, mm.
const (
	margin     = printing.Margin
	titleY     = 18.0 // baseline
	factsY     = 24.0 // baseline of the line under the title
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
	leading   = printing.Leading
)

// header names the target and its dimensions.
func header(spec target.Spec, page size) []shape {
	title := &text{X: margin, Y: titleY, Size: titleText, Bold: true, Ink: black, Words: typeface.Bold().Drawable("Ring targets: " + spec.Name)}
	order := &text{Y: titleY, Size: factsText, Ink: black, Bold: true, Words: "Print at 100 %, actual size"}
	order.X = page.Wide - margin - order.Width()
	shrink(title, order.X-margin-6)
	facts := &text{X: margin, Y: factsY, Size: factsText, Ink: dark, Words: typeface.Regular().Drawable(dimensions(spec))}
	shrink(facts, page.Wide-2*margin)
	rule := &line{x1: margin, y1: factsY + 3, x2: page.Wide - margin, y2: factsY + 3, width: 0.2, ink: light}
	return []shape{title, order, facts, rule}
}

// shrink makes a text no wider than width mm.
func shrink(t *text, width float64) {
	if w := t.Width(); w > width {
		t.Size *= width / w
	}
}

// dimensions tells the spec in a line.
func dimensions(spec target.Spec) string {
	var rings []string
	for _, d := range spec.RingsMM {
		rings = append(rings, plain(d))
	}
	word := "Rings"
	if len(rings) == 1 {
		word = "Ring"
	}
	out := fmt.Sprintf("%s %s mm across, to the middle of the line; line %s mm wide", word, strings.Join(rings, ", "), plain(spec.LineMM))
	if spec.RimMM > 0 {
		return out + "; rim " + plain(spec.RimMM) + " mm"
	}
	return out + "; cut " + plain(cutDiameter(spec)) + " mm"
}

// plain writes a number without needless zeros.
func plain(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// scaleMM is the length of the bar that the printer is checked by.
const scaleMM = 100

// scaleBar draws the ruler and says what it is for.
func scaleBar(page size) []shape {
	shapes := []shape{&bar{x: margin, y: scaleY, w: scaleMM, h: 1.2, ink: black}}
	for mm := 0; mm <= scaleMM; mm += 5 {
		shapes = append(shapes, tick(float64(mm))...)
	}
	left := margin + scaleMM + 10
	advice := "Measure this bar with a steel rule: 100 mm. If it is not, switch off \u201cfit to page\u201d and print again. " +
		"Then measure an outer ring across and along the sheet."
	return append(shapes, paragraph(advice, left, scaleY+1.2, page.Wide-margin-left, bodyText)...)
}

// tick draws one mark under the bar: long every 50 mm, with its number, shorter
// every 10 and 5. The outermost ones lie inside the bar's ends.
func tick(mm float64) []shape {
	const width = 0.2
	long := 1.4
	switch {
	case int(mm)%50 == 0:
		long = 3
	case int(mm)%10 == 0:
		long = 2.2
	}
	x := margin + min(max(mm, width/2), scaleMM-width/2)
	top := scaleY + 1.2
	shapes := []shape{&line{x1: x, y1: top, x2: x, y2: top + long, width: width, ink: black}}
	if int(mm)%50 != 0 {
		return shapes
	}
	label := &text{Y: top + long + 2.6, Size: smallText, Ink: black, Words: plain(mm)}
	if mm == scaleMM {
		label.Words += " mm"
	}
	half := typeface.Regular().Width(plain(mm), smallText) / 2
	label.X = max(margin, x-half)
	return append(shapes, label)
}

// The page's foot: left what to do with a target, right what to beware of.
// Cautions in own words; who must follow them reads them at the machine.
var (
	useTitle = "Using a target"
	useLines = []string{
		"For paper trials, and to fit a target holder of your own. Cut along the outer circle; the solid bar is the top.",
		"One layer of tape, smooth, over rings and centre. One short pulse at the lowest power that marks. Fresh tape for the next.",
		"Photograph it squarely, with the bar and all rings in view. Write station and date, and tape the target back to its place here as a record.",
	}
	careTitle = "Before you fire"
	careLines = []string{
		"This sheet is advice only. Follow the machine maker\u2019s instructions and your local rules; work with open covers is for trained people.",
		"The beam is invisible and burns eyes and skin at once. Cover closed wherever the machine allows; eyewear for 10 600 nm; never reach in while it can fire.",
		"Tape, paper and plastic burn: fire-proof backing, extraction on, extinguisher at hand, stay until cold. No PVC or vinyl tape.",
	}
)

// footer writes the two columns.
func footer(page size) []shape {
	const gutter = 8
	top := page.Tall - margin - footerTall
	width := (page.Wide - 2*margin - gutter) / 2
	rule := &line{x1: margin, y1: top, x2: page.Wide - margin, y2: top, width: 0.2, ink: light}
	shapes := append([]shape{rule}, column(useTitle, useLines, margin, top+5, width)...)
	return append(shapes, column(careTitle, careLines, margin+width+gutter, top+5, width)...)
}

// column is a heading over paragraphs; y is the heading's baseline.
func column(title string, paragraphs []string, x, y, width float64) []shape {
	shapes := []shape{&text{X: x, Y: y, Size: factsText, Bold: true, Ink: black, Words: title}}
	y += 4.8
	for _, words := range paragraphs {
		lines := paragraph(words, x, y, width, bodyText)
		shapes = append(shapes, lines...)
		y += float64(len(lines))*bodyText*leading + 1.1
	}
	return shapes
}

// paragraph wraps words into lines of text; y is the first baseline.
func paragraph(words string, x, y, width, height float64) []shape {
	var shapes []shape
	for i, words := range typeface.Regular().Wrap(words, height, width) {
		shapes = append(shapes, &text{X: x, Y: y + float64(i)*height*leading, Size: height, Ink: dark, Words: words})
	}
	return shapes
}
