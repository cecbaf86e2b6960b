package evidence

import (
	"fmt"
	"strings"

	"burngauge.dev/burngauge/pkg/drawing"
	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/report/phrase"
)

// place is where a station lies on the map of the bed, as seen from the front:
// column 0 left to 2 right, row 0 rear to 2 front.
type place struct{ Column, Row int }

// places of the five standard stations. A report holds no coordinates, so that
// others are laid out in rows below the bed.
var places = map[string]place{
	"rear-left":   {0, 0},
	"rear-right":  {2, 0},
	"middle":      {1, 1},
	"front-left":  {0, 2},
	"front-right": {2, 2},
}

// mapRunes of a warning's code, and twice as many of a name, stand on the map.
// The table has them in full.
const mapRunes = 40

// spotView is one station on the map.
type spotView struct {
	Station string
	Slot    string // the station's own name when it is a standard one, else ""
	place
	Drawing drawing.Figure
	Badge   drawing.Figure
	State   string
	Lines   []string // the number
	Words   string   // the verdict
	Before  string   // "" without an earlier round
	Notes   []string // codes of refusals and warnings; the table has their text
}

// key is one line of the map's legend.
type key struct {
	Drawing drawing.Figure
	Words   string
}

// bedView is the map.
type bedView struct {
	Bed    []spotView // standard stations
	Others []spotView
	Keys   []key
}

// bed lays the stations out.
func (c *wording) bed(list []entry) bedView {
	k := newMiniatures(c.report.Target, c.report.LimitMM, list)
	var v bedView
	for _, e := range list {
		s := c.spotView(k, e)
		if at, standard := places[e.name]; standard {
			s.place, s.Slot = at, e.name
			v.Bed = append(v.Bed, s)
			continue
		}
		v.Others = append(v.Others, s)
	}
	v.Keys = c.keys(k, list)
	return v
}

func (c *wording) spotView(k miniatures, e entry) spotView {
	now := c.InWords(burn(e.now))
	s := spotView{Station: drawing.Cut(phrase.Or(e.name, "unnamed"), 2*mapRunes), State: now.State, Words: now.Words, Badge: sign(now.State)}
	if now.Distance != "" {
		s.Lines = append(s.Lines, fmt.Sprintf("%s %s", now.Distance, c.Units.Name()), now.LeftRight+", "+now.UpDown)
	}
	if c.before != nil {
		s.Before = "before: " + c.brief(burn(e.before))
	}
	s.Notes = append(codes(burn(e.now)), codes(pointer(e.now))...)
	s.Notes = phrase.Few(append(s.Notes, prefixed("before: ", codes(burn(e.before)))...), 4)
	s.Drawing = k.draw(e, c.describe(e))
	return s
}

// brief is a measurement in few words.
func (c *wording) brief(m *report.Measurement) string {
	t := c.InWords(m)
	if t.Distance == "" {
		return t.Words
	}
	return t.Distance + " " + c.Units.Name() + ", " + t.State
}

// describe says what the miniature shows.
func (c *wording) describe(e entry) string {
	t := c.InWords(burn(e.now))
	words := phrase.Or(e.name, "unnamed") + ": "
	if t.Distance == "" {
		words += t.Words
	} else {
		words += fmt.Sprintf("burn %s, %s, %s %s from the centre, %s", t.LeftRight, t.UpDown, t.Distance, c.Units.Name(), t.Words)
	}
	if m := burn(e.before); m != nil {
		words += "; before: " + c.brief(m)
	}
	if m := pointer(e.now); m != nil {
		words += "; pointer: " + c.brief(m)
	}
	return words
}

// codes are those of a measurement's warnings; a refusal's is its state.
func codes(m *report.Measurement) []string {
	if m == nil {
		return nil
	}
	var out []string
	for _, w := range m.Warnings {
		out = append(out, "warning: "+drawing.Cut(phrase.Clean(w.Code), mapRunes))
	}
	return out
}

func prefixed(prefix string, list []string) []string {
	var out []string
	for _, words := range list {
		out = append(out, prefix+words)
	}
	return out
}

// keys is the legend: what is drawn, as far as it is drawn.
func (c *wording) keys(k miniatures, list []entry) []key {
	const r = 0.7 // of the frame, which reaches to 1
	mark := miniatures{reach: 1}.burnStyle()
	mark.Width *= 3
	round := func(style drawing.Style) drawing.Figure { return drawing.Square(1, drawing.Circle(0, 0, r, style)) }
	rings := make([]string, len(c.report.Target.RingsMM))
	for i, diameter := range c.report.Target.RingsMM {
		rings[i] = strings.TrimSuffix(c.Units.Length(diameter), " "+c.Units.Name())
	}
	out := []key{
		{round(drawing.Stroked(ringInk, 0.12)), fmt.Sprintf("the target's rings, %s %s across; the bar marks its top", strings.Join(rings, ", "), c.Units.Name())},
		{round(drawing.Stroked(limInk, 0.2, 0.44, 0.44)), "limit, " + c.Units.Length(c.report.LimitMM) + " from the centre"},
		{round(mark), "the burn, at its place and of its size; a line joins it to the centre"},
	}
	if c.before != nil {
		out = append(out, key{round(drawing.Stroked(muted, 0.12, 0.25, 0.2)), "the burn before"})
	}
	if anyPointer(list) {
		out = append(out, key{drawing.Square(1, saltire(0, 0, r*0.8, drawing.Stroked(redDot, 0.25))...), "the red pointer's dot"})
	}
	if k.anyBeyond(list) {
		head := drawing.Polygon(drawing.Filled(burnInk), drawing.At(r, 0), drawing.At(-r, r), drawing.At(-r, -r))
		out = append(out, key{drawing.Square(1, head), "at the edge: the mark lies further out, this way"})
	}
	return out
}

// anyBeyond says whether a mark lies outside its drawing.
func (k miniatures) anyBeyond(list []entry) bool {
	for _, e := range list {
		for _, m := range []*report.Measurement{burn(e.now), burn(e.before), pointer(e.now)} {
			if m != nil && m.Offset != nil && !k.holds(m) {
				return true
			}
		}
	}
	return false
}

func anyPointer(list []entry) bool {
	for _, e := range list {
		if m := pointer(e.now); m != nil && m.Offset != nil {
			return true
		}
	}
	return false
}
