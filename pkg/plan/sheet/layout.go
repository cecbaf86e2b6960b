package sheet

import (
	"fmt"

	"burngauge.dev/burngauge/pkg/printing"
	"burngauge.dev/burngauge/pkg/typeface"
)

// Short names for what all sheets have in common.
const (
	margin   = printing.Margin
	footTall = printing.FootTall
	leading  = printing.Leading
)

// Font sizes, mm: 17, 12, 10, 9 and 7 points.
const (
	titleSize = 6.0
	headSize  = 4.2
	turnSize  = 3.6
	bodySize  = 3.1
	smallSize = 2.5
)

// layout fills pages from top to bottom.
type layout struct {
	wide, tall float64 // tall 0: one page without an end
	y          float64 // where the next thing starts
	pages      [][]shape
}

// size of the paper.
func (s Sheet) size() printing.Size {
	if size, ok := printing.Paper(s.Paper); ok {
		return size
	}
	size, _ := printing.Paper(printing.A4)
	return size
}

// layOut puts the content on pages; endless is one page as tall as it needs.
func (s Sheet) layOut(c *content, endless bool) *layout {
	l := &layout{y: margin, pages: [][]shape{nil}}
	size := s.size()
	l.wide, l.tall = size.Wide, size.Tall
	if endless {
		l.tall = 0
	}
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
	l.table(c.Expect)
	l.footers(c)
	return l
}

func (l *layout) width() float64 { return l.wide - 2*margin }

// put adds shapes to the page.
func (l *layout) put(shapes ...shape) {
	last := len(l.pages) - 1
	l.pages[last] = append(l.pages[last], shapes...)
}

// need starts a new page when less than tall mm is left on this one.
func (l *layout) need(tall float64) bool {
	if l.tall == 0 || l.y+tall <= l.tall-margin-footTall || l.y <= margin {
		return false
	}
	l.pages = append(l.pages, nil)
	l.y = margin
	return true
}

// font is how a paragraph looks.
type font struct {
	size float64
	bold bool
}

// lines breaks words to a width; what the font lacks becomes a question mark.
func (f font) lines(words string, width float64) []string {
	face := typeface.Of(f.bold)
	return face.Wrap(face.Drawable(words), f.size, width)
}

// tall is the height of words broken to a width.
func (f font) tall(words string, width float64) float64 {
	return float64(len(f.lines(words, width))) * f.size * leading
}

// flow writes a paragraph at x, line by line over page breaks.
func (l *layout) flow(f font, words string, x, width float64) {
	for _, line := range f.lines(words, width) {
		l.need(f.size * leading)
		l.put(&text{X: x, Y: printing.Baseline(l.y, 0, f.size), Size: f.size, Bold: f.bold, Ink: black, Words: line})
		l.y += f.size * leading
	}
}

// heading starts a section; next is what must stand below it on the same page.
func (l *layout) heading(words string, next float64) {
	const above, below = 3.5, 1
	f := font{headSize, true}
	l.need(above + f.tall(words, l.width()) + below + next)
	if l.y > margin {
		l.y += above
	}
	l.flow(f, words, margin, l.width())
	l.y += below
}

// section is a heading over a paragraph, or over several with a bullet each.
func (l *layout) section(title string, list ...string) {
	l.heading(title, 2*bodySize*leading)
	for _, words := range list {
		l.item(words, len(list) > 1)
	}
}

// indent is that of a paragraph with a bullet, mm.
const indent = 3.2

// item is one paragraph.
func (l *layout) item(words string, bullet bool) {
	l.need(bodySize * leading)
	x := margin
	if bullet {
		mid := l.y + bodySize*leading/2
		l.put(solid(black, box(x+0.6, mid-0.35, x+1.8, mid+0.35)...))
		x += indent
	}
	l.flow(font{size: bodySize}, words, x, margin+l.width()-x)
	l.y += 0.7
}

// front is what to know before any step.
func (l *layout) front(c *content) {
	l.flow(font{titleSize, true}, c.Title, margin, l.width())
	l.y += 0.5
	for _, f := range c.Facts {
		l.flow(font{size: bodySize}, f, margin, l.width())
	}
	l.y += 2
	l.boxed(c.Headline, c.Lead)
	l.section("Safety first", c.Cautions...)
}

// boxed is the headline in a heavy frame. Words that fill more than a page are
// written without it.
func (l *layout) boxed(headline, lead string) {
	const pad = 2.2
	big, small, room := font{headSize, true}, font{size: bodySize}, l.width()-2*pad
	tall := big.tall(headline, room) + small.tall(lead, room) + 2*pad
	if l.tall == 0 || tall < l.tall/2 {
		l.need(tall)
		l.put(outline(0.7, box(margin, l.y, margin+l.width(), l.y+tall)...))
	}
	l.y += pad
	l.flow(big, headline, margin+pad, room)
	l.flow(small, lead, margin+pad, room)
	l.y += pad
}

// footers closes the pages.
func (l *layout) footers(c *content) {
	end := l.tall
	if end == 0 {
		end = l.y + margin + footTall
		l.tall = end
	}
	for i := range l.pages {
		y := end - margin
		number := fmt.Sprintf("page %d of %d", i+1, len(l.pages))
		right := &text{Y: y, Size: smallSize, Ink: dark, Words: number}
		right.X = margin + l.width() - right.Width()
		words := font{size: smallSize}.lines(c.Title+" · "+c.Facts[0]+" · advice only", l.width()-right.Width()-6)
		left := &text{X: margin, Y: y, Size: smallSize, Ink: dark, Words: words[0]}
		if len(words) > 1 {
			left.Words += " …"
		}
		rule := line(0.2, pale, point{margin, y - 1.6*smallSize}, point{margin + l.width(), y - 1.6*smallSize})
		l.pages[i] = append(l.pages[i], rule, left, right)
	}
}
