package drawing

import "fmt"

// Margin is the blank at a page's edges, mm: office printers leave 4 to 6 mm blank;
// this clears that.
const Margin = 12.0

// footTall is the room above the lower margin for the line at a page's foot, mm.
const footTall = 7.0

// footSize is the foot's font size, mm.
const footSize = 2.5

// Flow fills pages from top to bottom. The rule of its page ends: whatever must stay
// together first states its height to Need, and when
//
//	Y + height > page's height - Margin - foot
//
// it starts at the top of a new page. At the top of a page nothing moves on, so that
// what is taller than a page is drawn all the same and no page stays empty.
type Flow struct {
	Y     float64 // where the next thing starts, mm from the page's top
	paper Size
	pages [][]Shape
	again func() // draws what every page begins with, such as a table's head; nil: nothing
}

// NewFlow is an empty page of a paper. A paper that is 0 mm tall is one page as tall
// as it needs.
func NewFlow(paper Size) *Flow { return &Flow{Y: Margin, paper: paper, pages: [][]Shape{nil}} }

// Width is between the margins, mm.
func (f *Flow) Width() float64 { return f.paper.Wide - 2*Margin }

// Room is the height between the margins of an empty page without its foot, mm; of an
// endless page 0.
func (f *Flow) Room() float64 {
	if f.endless() {
		return 0
	}
	return f.paper.Tall - 2*Margin - footTall
}

// Pages is how many there are.
func (f *Flow) Pages() int { return len(f.pages) }

func (f *Flow) endless() bool { return f.paper.Tall == 0 }

// Need starts a new page when less than tall mm is left on this one, and says
// whether it did.
func (f *Flow) Need(tall float64) bool {
	if f.endless() || f.Y+tall <= f.paper.Tall-Margin-footTall || f.Y <= Margin {
		return false
	}
	f.NewPage()
	return true
}

// NewPage starts a new page, unless this one is empty.
func (f *Flow) NewPage() {
	if f.Y <= Margin {
		return
	}
	f.pages = append(f.pages, nil)
	f.Y = Margin
	if f.again != nil {
		f.again()
	}
}

// Put adds shapes to the page, at their own places.
func (f *Flow) Put(shapes ...Shape) {
	last := len(f.pages) - 1
	f.pages[last] = append(f.pages[last], shapes...)
}

// Rule draws a thin line across the page at y.
func (f *Flow) Rule(y float64, c Colour) {
	f.Put(Line(Stroked(c, 0.2), Point{Margin, y}, Point{Margin + f.Width(), y}))
}

// Paragraph writes words at x, line by line over page ends.
func (f *Flow) Paragraph(font Font, words string, x, width float64) {
	for _, line := range font.Block(words, width).Lines {
		f.Need(font.Line())
		f.Put(Block{font, []string{line}}.At(x, f.Y)...)
		f.Y += font.Line()
	}
}

// Heading starts a section; next is the height of what must stand below it on the
// same page. Above a heading, but not at a page's top, is 0.77 of its font size
// blank, below it 0.3: it belongs to what follows.
func (f *Flow) Heading(font Font, words string, next float64) {
	const above, below = 0.77, 0.3
	tall := font.Block(words, f.Width()).Tall()
	f.Need(above*font.Size + tall + below*font.Size + next)
	if f.Y > Margin {
		f.Y += above * font.Size
	}
	f.Paragraph(font, words, Margin, f.Width())
	f.Y += below * font.Size
}

// Document ends the flow: every page gets its foot, with the page's number at the
// right, and an endless page its height.
func (f *Flow) Document(title, foot string) Document {
	if f.endless() {
		f.paper.Tall = f.Y + Margin + footTall
	}
	for i := range f.pages {
		f.pages[i] = append(f.pages[i], f.foot(foot, i+1)...)
	}
	return Document{Title: title, Paper: f.paper, Pages: f.pages}
}

// foot is a page's: a rule, the words as far as they go, and the number.
func (f *Flow) foot(words string, page int) []Shape {
	const gap, ruleAbove = 6.0, 1.6 * footSize
	font, y := Font{Size: footSize, Ink: footInk}, f.paper.Tall-Margin
	right := Text{Font: font, Y: y, Words: fmt.Sprintf("page %d of %d", page, len(f.pages))}
	right.X = Margin + f.Width() - right.Width()
	left := Text{Font: font, X: Margin, Y: y, Words: font.FirstLine(words, f.Width()-right.Width()-gap)}
	rule := Line(Stroked(ruleInk, 0.2), Point{Margin, y - ruleAbove}, Point{Margin + f.Width(), y - ruleAbove})
	return []Shape{rule, left, right}
}
