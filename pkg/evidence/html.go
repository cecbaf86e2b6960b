package evidence

import (
	"bytes"
	_ "embed" // the page's template
	"fmt"
	"html/template"
	"io"
	"strings"

	"burngauge.dev/burngauge/pkg/caution"
	"burngauge.dev/burngauge/pkg/drawing"
)

//go:embed sheet.html.tmpl
var pageSource string

// page is the template. A mistake in it is a programmer's.
var page = template.Must(template.New("sheet").Funcs(template.FuncMap{
	"svg":   func(f drawing.Figure, class string) template.HTML { return template.HTML(f.SVG(class)) }, // escaped by the writer
	"table": func(t tableView, caption string) htmlTable { return htmlTable{t, caption, drawing.Groups(t.Columns)} },
}).Parse(pageSource))

// htmlTable is a table with what only HTML needs.
type htmlTable struct {
	tableView
	Caption string
	Groups  []drawing.Span
}

// Label is what stands before a field when a narrow screen shows rows as
// blocks.
func (t htmlTable) Label(i int) string {
	c := t.Columns[i]
	return strings.TrimSpace(c.Group + " " + c.Head)
}

// htmlPage is what the template is given.
type htmlPage struct {
	*wording
	Lead string
}

// URI is the picture inside an attribute, with nothing in it that needs escaping.
func (p pictureView) URI() template.URL { return template.URL(p.photo.URI()) }

// WriteHTML writes the sheet as one file that needs nothing else: no scripts,
// pictures and drawings inside. It is readable from 320 px of width on, prints
// on any paper and keeps its meaning without colour. An *InputError says what
// the sheet cannot be made from; nothing is written then.
func (s Sheet) WriteHTML(w io.Writer) error {
	if err := s.check(); err != nil {
		return err
	}
	var whole bytes.Buffer
	if err := page.Execute(&whole, htmlPage{newWording(s), caution.Advice}); err != nil {
		return fmt.Errorf("making the HTML sheet: %w", err)
	}
	if _, err := w.Write(whole.Bytes()); err != nil {
		return fmt.Errorf("writing the HTML sheet: %w", err)
	}
	return nil
}
