package evidence

import (
	"bytes"
	_ "embed" // the page's template
	"fmt"
	"html/template"
	"io"
	"strconv"
	"strings"
)

//go:embed sheet.html.tmpl
var pageSource string

// page is the template. A mistake in it is a programmer's.
var page = template.Must(template.New("sheet").Funcs(template.FuncMap{
	"hex":    colour.hex,
	"num":    num,
	"dash":   dashes,
	"points": points,
	"svg":    func(d drawing, class string) svgView { return svgView{d, class} },
	"table":  func(t tableView, caption string) htmlTable { return htmlTable{t, caption, t.groups()} },
}).Parse(pageSource))

// svgView is a drawing with the class that sizes it; one without a title is
// decoration beside words that say the same.
type svgView struct {
	drawing
	Class string
}

// htmlTable is a table with what only HTML needs.
type htmlTable struct {
	tableView
	Caption string
	Groups  []span
}

// Label is what stands before a field when a narrow screen shows rows as
// blocks.
func (t htmlTable) Label(i int) string {
	c := t.Columns[i]
	return strings.TrimSpace(c.Group + " " + c.Head)
}

// htmlPage is what the template is given.
type htmlPage struct {
	*content
	Lead string
}

// ViewBox is the frame as SVG takes it.
func (d drawing) ViewBox() string {
	left, top, wide, tall := d.bounds()
	return num(left) + " " + num(top) + " " + num(wide) + " " + num(tall)
}

// num writes a number for SVG: to a thousandth of a millimetre.
func num(v float64) string { return strconv.FormatFloat(v, 'f', -1, 32) }

func dashes(list []float64) string {
	var out []string
	for _, v := range list {
		out = append(out, num(v))
	}
	return strings.Join(out, " ")
}

func points(list [][2]float64) string {
	var out []string
	for _, p := range list {
		out = append(out, num(p[0])+","+num(p[1]))
	}
	return strings.Join(out, " ")
}

// WriteHTML writes the sheet as one file that needs nothing else: no scripts,
// pictures and drawings inside. It is readable from 320 px of width on, prints
// on any paper and keeps its meaning without colour. An *InputError says what
// the sheet cannot be made from; nothing is written then.
func (s Sheet) WriteHTML(w io.Writer) error {
	if err := s.check(); err != nil {
		return err
	}
	var whole bytes.Buffer
	if err := page.Execute(&whole, htmlPage{newContent(s), cautionLead}); err != nil {
		return fmt.Errorf("making the HTML sheet: %w", err)
	}
	if _, err := w.Write(whole.Bytes()); err != nil {
		return fmt.Errorf("writing the HTML sheet: %w", err)
	}
	return nil
}
