package drawing

// Table is rows under a head that is repeated on every page the table runs over.
// A row stays on one page, with as much of its remarks as KeptTogether allows.
type Table struct {
	Columns []Column
	Rows    []TableRow
	Fonts   TableFonts
}

// TableFonts are the fonts of a table's parts.
type TableFonts struct{ Head, Group, Cell, Remark Font }

// Column is one of a table's. Group is the heading above it and its neighbours of
// the same Group, "" for none. Share is its part of the width, in any unit.
type Column struct {
	Head, Group string
	Share       float64
}

// TableRow is fields in the order of the columns, and what must stand below them.
type TableRow struct {
	Cells   []Cell
	Remarks []string // each a paragraph across the table
}

// Cell is one field.
type Cell struct {
	Text  string
	Sign  *Figure // drawn before the text, nil: none
	Bold  bool
	Whole bool // its text is made smaller, as far as it can be read, before it is broken
}

// Blanks of a table, mm.
const (
	pad          = 0.9 // inside a field, left and right
	remarkIndent = 4.0
	ruleGap      = 0.4 // above and below the rule under a row
)

// KeptTogether is the height of remarks that stay on a page with their row, mm: long
// enough for any one remark, and a seventh of a page.
const KeptTogether = 40.0

// smallestWhole is the size, in parts of the head's font, that a Whole text is not
// made smaller than: 2 mm or 5.7 points for the sheets' 2.5 mm.
const smallestWhole = 0.8

// A sign's size and the room it takes before the words, and its place below the
// line's top, in font sizes.
const (
	signSize = 1.05
	signRoom = 1.3
	signDrop = 0.12
)

// Sign draws a sign where a line of words begins, and is the room that it takes.
func (f Font) Sign(sign Figure, x, top float64) (shapes []Shape, room float64) {
	return sign.At(x, top+signDrop*f.Size, signSize*f.Size), f.SignRoom()
}

// SignRoom is the width that a sign before words takes.
func (f Font) SignRoom() float64 { return signRoom * f.Size }

// Span is a heading over several columns.
type Span struct {
	Words string
	Count int
}

// Groups are the headings above those of the columns, nil when no column has one.
func Groups(columns []Column) []Span {
	var out []Span
	grouped := false
	for _, c := range columns {
		grouped = grouped || c.Group != ""
		if n := len(out); n > 0 && out[n-1].Words == c.Group {
			out[n-1].Count++
			continue
		}
		out = append(out, Span{c.Group, 1})
	}
	if !grouped {
		return nil
	}
	return out
}

// Table draws a table from the margin to the margin; nothing without rows.
func (f *Flow) Table(t Table) {
	if len(t.Rows) == 0 {
		return
	}
	widths := t.widths(f.Width())
	head := func() { f.head(t, widths) }
	head()
	f.again = head
	for _, r := range t.Rows {
		f.row(t, r, widths)
	}
	f.again = nil
}

// widths shares the width out: whole times the column's share of all shares.
func (t Table) widths(whole float64) []float64 {
	total := 0.0
	for _, c := range t.Columns {
		total += c.Share
	}
	out := make([]float64, len(t.Columns))
	for i, c := range t.Columns {
		out[i] = whole * c.Share / total
	}
	return out
}

// head draws the headings, the groups' above the columns'.
func (f *Flow) head(t Table, widths []float64) {
	f.groups(t, widths)
	blocks := make([]Block, len(t.Columns))
	for i, c := range t.Columns {
		blocks[i] = t.Fonts.Head.Block(c.Head, widths[i]-2*pad)
	}
	x := Margin
	for i, b := range blocks {
		f.Put(b.At(x+pad, f.Y)...)
		x += widths[i]
	}
	f.Y += tallest(blocks)
	f.Rule(f.Y, t.Fonts.Head.Ink)
	f.Y += 0.6
}

// groups draws the headings over several columns, each with a line below it.
func (f *Flow) groups(t Table, widths []float64) {
	groups := Groups(t.Columns)
	if groups == nil {
		return
	}
	font, x := t.Fonts.Group, Margin
	below := f.Y + font.Line()
	for _, g := range groups {
		wide := 0.0
		for _, w := range widths[:g.Count] {
			wide += w
		}
		widths = widths[g.Count:]
		if g.Words != "" {
			f.Put(font.Block(g.Words, wide-2*pad).At(x+pad, f.Y)...)
			f.Put(Line(Stroked(font.Ink, 0.2), Point{x + pad, below + 0.3}, Point{x + wide - pad, below + 0.3}))
		}
		x += wide
	}
	f.Y = below + 0.6
}

// row draws a row, its remarks and the rule below it.
func (f *Flow) row(t Table, r TableRow, widths []float64) {
	blocks := t.fields(r, widths)
	var remarks []Block
	for _, words := range r.Remarks {
		remarks = append(remarks, t.Fonts.Remark.Block(words, f.Width()-remarkIndent-pad))
	}
	f.Need(tallest(blocks) + kept(remarks))
	x := Margin
	for i, b := range blocks {
		left := x + pad
		if sign := r.Cells[i].Sign; sign != nil {
			shapes, room := t.Fonts.Cell.Sign(*sign, left, f.Y)
			f.Put(shapes...)
			left += room
		}
		f.Put(b.At(left, f.Y)...)
		x += widths[i]
	}
	f.Y += tallest(blocks)
	for _, b := range remarks {
		f.Need(b.Tall())
		f.Put(b.At(Margin+remarkIndent, f.Y)...)
		f.Y += b.Tall()
	}
	f.Y += ruleGap
	f.Rule(f.Y, ruleInk)
	f.Y += ruleGap
}

// fields breaks a row's texts to its columns.
func (t Table) fields(r TableRow, widths []float64) []Block {
	blocks := make([]Block, len(r.Cells))
	for i, c := range r.Cells {
		font, room := t.Fonts.Cell, widths[i]-2*pad
		font.Bold = font.Bold || c.Bold
		if c.Sign != nil {
			room -= font.SignRoom()
		}
		if wide := font.Width(c.Text); c.Whole && wide > room {
			font.Size = max(smallestWhole*t.Fonts.Head.Size, font.Size*room/wide)
		}
		blocks[i] = font.Block(c.Text, room)
	}
	return blocks
}

// tallest is the height of the tallest block.
func tallest(blocks []Block) float64 {
	tall := 0.0
	for _, b := range blocks {
		tall = max(tall, b.Tall())
	}
	return tall
}

// kept is the height of the first remarks that stay with their row.
func kept(remarks []Block) float64 {
	tall := 0.0
	for _, b := range remarks {
		if tall+b.Tall() > KeptTogether {
			break
		}
		tall += b.Tall()
	}
	return tall
}
