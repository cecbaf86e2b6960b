package main

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const document = `{"schema": "x/1", "measurements": [
	{"offset": {"right_mm": 0.10, "up_mm": -1.25e-3}, "refusal": null, "warnings": [{"code": "shrunk", "text": "a"}, {"code": "cropped", "text": "b"}]},
	{"offset": null, "refusal": {"code": "glare", "text": "c"}}]}`

// lines are the differences as they are printed.
func lines(t *testing.T, old, new string) (out []string) {
	t.Helper()
	list, err := differences([]byte(old), []byte(new))
	require.NoError(t, err)
	for _, d := range list {
		out = append(out, d.String())
	}
	return out
}

// Each case is the document with one thing changed, and the one line that must be
// printed of it.
func TestEveryChangeIsFoundWithItsPlaceAndBothValues(t *testing.T) {
	const first = `{"offset": {"right_mm": 0.10, "up_mm": -1.25e-3}, "refusal": null, `
	for name, c := range map[string]struct{ old, new, want string }{
		"a changed digit":           {`0.10,`, `0.11,`, `measurements[0].offset.right_mm: 0.10, now 0.11`},
		"the same value rewritten":  {`0.10,`, `0.1,`, `measurements[0].offset.right_mm: 0.10, now 0.1`},
		"the last of many digits":   {`-1.25e-3`, `-1.2500000000000001e-3`, `measurements[0].offset.up_mm: -1.25e-3, now -1.2500000000000001e-3`},
		"a missing key":             {`, "up_mm": -1.25e-3`, ``, `measurements[0].offset.up_mm: -1.25e-3, now absent`},
		"a new key":                 {`"refusal": null,`, `"refusal": null, "size": 0,`, `measurements[0].size: absent, now 0`},
		"null instead of an object": {`{"code": "glare", "text": "c"}`, `null`, `measurements[1].refusal: {"code":"glare","text":"c"}, now null`},
		"an object instead of null": {`"offset": null`, `"offset": {}`, `measurements[1].offset: null, now {}`},
		"a number as a text":        {`0.10,`, `"0.10",`, `measurements[0].offset.right_mm: 0.10, now "0.10"`},
		"another code":              {`"shrunk"`, `"blurred"`, `measurements[0].warnings[0].code: "shrunk", now "blurred"`},
		"one entry less":            {`, {"code": "cropped", "text": "b"}`, ``, `measurements[0].warnings[1]: {"code":"cropped","text":"b"}, now absent`},
		"a list instead of a text":  {`"x/1"`, `["x/1"]`, `schema: "x/1", now ["x/1"]`},
	} {
		new := replaceOnce(t, document, c.old, c.new)
		assert.Equal(t, []string{c.want}, lines(t, document, new), name)
	}
	assert.Contains(t, document, first)
}

func TestAnotherOrderInAListIsADifference(t *testing.T) {
	new := replaceOnce(t, document, `{"code": "shrunk", "text": "a"}, {"code": "cropped", "text": "b"}`, `{"code": "cropped", "text": "b"}, {"code": "shrunk", "text": "a"}`)
	assert.Equal(t, []string{
		`measurements[0].warnings[0].code: "shrunk", now "cropped"`,
		`measurements[0].warnings[1].code: "cropped", now "shrunk"`,
	}, lines(t, document, new))
}

func TestTextsAndWhatFollowsFromThemMayDiffer(t *testing.T) {
	old := `{"created": "1", "tool": {"version": "1"}, "verdict": {"state": "inside", "text": "a"}, "integrity": {"digest": "a"},
		"report": "a", "findings": [{"code": "x", "text": "a", "evidence": "a"}], "cautions": ["a"]}`
	new := `{"created": "2", "tool": {"version": "2", "more": 1}, "verdict": {"state": "inside", "text": "b"}, "integrity": {"digest": "b"},
		"report": "b", "findings": [{"code": "x", "text": "b", "evidence": "b"}], "cautions": ["b", "c"], "decisions": [1]}`
	assert.Empty(t, lines(t, old, new))
}

func TestAKeyIsLeftOutAsATextOnlyWhenItIsOne(t *testing.T) {
	assert.Equal(t, []string{`evidence.mm: 1, now 2`}, lines(t, `{"evidence": {"mm": 1}}`, `{"evidence": {"mm": 2}}`))
	assert.Equal(t, []string{`report: "a", now 2`}, lines(t, `{"report": "a"}`, `{"report": 2}`))
	assert.Equal(t, []string{`report: "a", now absent`}, lines(t, `{"report": "a"}`, `{}`))
}

func TestTheOrderOfAnObjectsKeysAndSpacesDoNotCount(t *testing.T) {
	assert.Empty(t, lines(t, `{"a": 1, "b": [1, 2]}`, `{"b":[1,2],"a":1}`))
	assert.Empty(t, lines(t, document, document))
}

func TestWhatIsNoJSONIsAnError(t *testing.T) {
	for _, text := range []string{``, `{`, `{} {}`} {
		_, err := differences([]byte(`{}`), []byte(text))
		assert.ErrorContains(t, err, "the new one", text)
	}
}
