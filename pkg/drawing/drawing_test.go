package drawing

import (
	"bytes"
	"encoding/xml"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// ISO 216: A4 is 210 x 297 mm. Letter is 8.5 x 11 inches of 25.4 mm.
func TestPapersHaveTheirSize(t *testing.T) {
	a4, ok := Paper("A4")
	require.True(t, ok)
	assert.Equal(t, Size{210, 297}, a4)
	letter, ok := Paper("letter")
	require.True(t, ok)
	assert.Equal(t, Size{8.5 * 25.4, 11 * 25.4}, letter)
	_, ok = Paper("a3")
	assert.False(t, ok)
}

func TestTextFromElsewhereStaysOnItsLine(t *testing.T) {
	assert.Equal(t, "a b", Plain(" a\nb\t"))
	assert.Equal(t, "a\uFFFDb", Plain("a\u202Eb")) // a turn of direction
	assert.Equal(t, "Łódź", Plain("Łódź"))
	assert.Equal(t, "Łó…", Cut("Łódź", 2))
	assert.Equal(t, "Łódź", Cut("Łódź", 4))
}

// Worked by hand.
func TestNumbersToATenthOfAMicrometre(t *testing.T) {
	for v, want := range map[float64]string{0: "0", 12: "12", 215.9: "215.9", 1.00004: "1", 1.00006: "1.0001", -0.5: "-0.5"} {
		assert.Equal(t, want, number(v))
	}
	assert.Equal(t, ` stroke-dasharray="2 0.5"`, dashes([]float64{2, 0.5}))
	assert.Empty(t, dashes(nil))
}

// page is a document of one page of the given shapes.
func page(title string, size Size, shapes ...Shape) Document {
	return Document{Title: title, Paper: size, Pages: [][]Shape{shapes}}
}

// encoding/xml reads back what was written, whatever the words are.
func TestSVGHoldsAnyWords(t *testing.T) {
	words := `<script>"&'` + "\x01"
	text := Text{Font: Font{Size: 3, Bold: true, Ink: Grey(60)}, X: 1, Y: 2, Words: words}
	var b bytes.Buffer
	require.NoError(t, WriteSVG(&b, page(words, Size{20, 10}, text)))
	var root struct {
		Width string `xml:"width,attr"`
		Title string `xml:"title"`
		Text  struct {
			Fill  string `xml:"fill,attr"`
			Words string `xml:",chardata"`
		} `xml:"text"`
	}
	require.NoError(t, xml.Unmarshal(b.Bytes(), &root))
	want := strings.ReplaceAll(words, "\x01", "\uFFFD") // no XML holds it
	assert.Equal(t, "20mm", root.Width)
	assert.Equal(t, want, root.Title)
	assert.Equal(t, want, root.Text.Words)
	assert.Equal(t, "#3c3c3c", root.Text.Fill) // 60 = 0x3c
}

// failing is a full disk.
type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, io.ErrShortWrite }

func TestAFailingWriterIsReported(t *testing.T) {
	doc := page("x", PaperOr(A4))
	assert.ErrorIs(t, WritePDF(failing{}, doc), io.ErrShortWrite)
	assert.ErrorIs(t, WriteSVG(failing{}, doc), io.ErrShortWrite)
}

func TestAnSVGOfTwoPagesIsRefused(t *testing.T) {
	var b bytes.Buffer
	assert.ErrorContains(t, WriteSVG(&b, Document{Paper: PaperOr(A4), Pages: [][]Shape{nil, nil}}), "one page")
	assert.Zero(t, b.Len())
}

// A PDF without a date has none of the clock: what is written a second later, by a
// process of its own, is the same.
func TestADocumentWithoutADateHasNoneOfTheClock(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, WritePDF(&b, page("x", PaperOr(A4), Text{Font: Font{Size: 4}, X: 10, Y: 10, Words: "same"})))
	assert.Contains(t, b.String(), "/CreationDate (D:20260101000000")
	assert.Contains(t, b.String(), "/ModDate (D:20260101000000")
}
