package evidence

import (
	"encoding/xml"
	"io"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/drawing/drawingtest"
	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/report/phrase"
)

// hostile fills every text of a report with something that would act if it were
// not escaped.
func hostile(s Sheet, words string) Sheet {
	r := *s.Report
	r.Job = report.Job{Reference: words, Machine: words, Technician: words, Site: words, Notes: words}
	r.Rule, r.Created = words, words
	r.Verdict = report.SetVerdict{State: words, WorstStation: words, Text: words}
	r.Tool = report.Tool{Name: words, Version: words, OpenCV: words}
	r.Target.Checked = words
	r.Integrity = &report.Integrity{Algorithm: words, Digest: words}
	m := cutOff(words)
	m.Refusal.Code, m.Refusal.Text, m.Mark, m.Photo.Taken, m.Photo.SHA256 = words, words, words, words, words
	n := mark(words, 1, 1, 0.1)
	n.Warnings = []report.Warning{{Code: words, Text: words}}
	n.Offset.Clock, n.Verdict.State = words, words
	r.Expected = []string{words}
	r.Stations = []report.Station{{Station: words, Burn: n, Pointer: n, Others: []report.Measurement{*m}}, {Station: "rear-left", Burn: m}}
	r.Unassigned = []report.Unassigned{{Photo: m.Photo, Reason: words}}
	s.Report, s.Program = &r, words
	for i := range s.Pictures {
		s.Pictures[i] = Picture{Data: s.Pictures[i].Data, Station: words, File: words, Mark: words, Taken: words, SHA256: words, Alt: words}
	}
	return s
}

// skeleton is the page's elements and attributes' names, without any text.
func skeleton(t testing.TB, page string) []string {
	var out []string
	for _, token := range tokens(t, page) {
		if e, ok := token.(xml.StartElement); ok {
			name := e.Name.Local
			for _, a := range e.Attr {
				name += " " + a.Name.Local
			}
			out = append(out, name)
		}
	}
	return out
}

var attacks = []string{
	`<script>alert(1)</script>`, `"><img src=x onerror=alert(1)>`, `' onload='alert(1)`, `</title></style><svg onload=alert(1)>`,
	`javascript:alert(1)`, `{{.}}`, `<!--`, `]]>`, "a\x00b\u202eevil\u2028c", `&lt;b&gt;`, "\xff\xfe", `url(http://x/)`, `-->`,
}

// The text may say anything: the page's structure stays the same.
func TestHostileTextChangesNothingButText(t *testing.T) {
	s := withPictures(t, example())
	want := skeleton(t, htmlOf(t, hostile(s, "plain")))
	for _, words := range attacks {
		page := htmlOf(t, hostile(s, words))
		assert.Equal(t, want, skeleton(t, page), words)
		requireQuiet(t, page)
		require.NoError(t, hostile(s, words).WritePDF(io.Discard))
	}
}

// requireQuiet: nothing runs and nothing is fetched.
func requireQuiet(t testing.TB, page string) {
	t.Helper()
	address := regexp.MustCompile(`(?i)^(?:[a-z]+:|//)`)
	for _, token := range tokens(t, page) {
		e, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		require.False(t, slices.Contains([]string{"script", "link", "iframe", "object", "embed", "base", "form", "a", "use", "foreignObject"}, e.Name.Local), e.Name.Local)
		for _, a := range e.Attr {
			require.False(t, strings.HasPrefix(a.Name.Local, "on"), a.Name.Local)
			switch a.Name.Local {
			case "src":
				require.Regexp(t, `^data:image/(jpeg|png);base64,[A-Za-z0-9+/=]+$`, a.Value)
			case "href", "srcset", "background", "style":
				t.Fatalf("attribute %s=%q", a.Name.Local, a.Value)
			case "xmlns", "alt", "aria-label", "content": // text, or a name that nobody fetches
			default:
				require.NotRegexp(t, address, a.Value, a.Name.Local)
			}
		}
	}
	style := page[strings.Index(page, "<style>"):strings.Index(page, "</style>")]
	assert.NotContains(t, style, "url(")
	assert.NotContains(t, style, "@import")
}

func FuzzTextsNeverChangeThePage(f *testing.F) {
	s := example()
	for _, words := range attacks {
		f.Add(words)
	}
	want := skeleton(f, htmlOf(f, hostile(s, "plain")))
	f.Fuzz(func(t *testing.T, words string) {
		if strings.TrimSpace(words) == "" || strings.Contains(words, "\n") {
			t.Skip() // no text, or more lines: fewer or more elements
		}
		switch words {
		case "inside", "outside", "borderline", "incomplete", "rear-left", "front-left", "middle", "rear-right", "front-right":
			t.Skip() // words that mean something
		}
		page := htmlOf(t, hostile(s, words))
		if phrase.Clean(words) == "" || len(words) > 200 {
			tokens(t, page)
			return
		}
		require.Equal(t, want, skeleton(t, page))
	})
}

func TestThePageIsMadeForReadingAloud(t *testing.T) {
	ids, wanted := map[string]bool{}, []string{}
	level := 0
	for _, token := range tokens(t, htmlOf(t, withPictures(t, example()))) {
		e, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		attr := map[string]string{}
		for _, a := range e.Attr {
			attr[a.Name.Local] = a.Value
		}
		if id := attr["id"]; id != "" {
			assert.False(t, ids[id], "id %s twice", id)
			ids[id] = true
		}
		if by := attr["aria-labelledby"]; by != "" {
			wanted = append(wanted, by)
		}
		switch name := e.Name.Local; name {
		case "html":
			assert.Equal(t, "en", attr["lang"])
		case "h1", "h2", "h3":
			now := int(name[1] - '0')
			assert.LessOrEqual(t, now, level+1, "%s after h%d", name, level)
			assert.False(t, name == "h1" && level > 0, "a second h1")
			level = now
		case "img":
			assert.Greater(t, len(attr["alt"]), 20)
		case "svg":
			assert.True(t, attr["aria-hidden"] == "true" || attr["role"] == "img" && attr["aria-label"] != "")
		case "th":
			assert.NotEmpty(t, attr["scope"])
		}
	}
	for _, id := range wanted {
		assert.True(t, ids[id], "nothing is called %s", id)
	}
	assert.Contains(t, htmlOf(t, example()), `aria-label="rear-left: burn 0.440 left, 0.860 up, 0.966 ± 0.030 mm from the centre, inside; before: 3.220 ± 0.030 mm, outside; pointer:`)
}

func TestTheSameSheetGivesTheSameBytes(t *testing.T) {
	drawingtest.SameInAnotherProcess(t, withPictures(t, example()).WriteHTML)
}
