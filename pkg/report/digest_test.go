package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os/exec"
	"strings"
	"testing"

	"github.com/gowebpki/jcs"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/needs"
)

// rawCanonical is a file's canonical form without its integrity, made without
// the code that keeps unknown keys.
func rawCanonical(t testing.TB, file []byte) string {
	var doc map[string]json.RawMessage
	require.NoError(t, json.Unmarshal(file, &doc))
	delete(doc, "integrity")
	plain, err := json.Marshal(doc)
	require.NoError(t, err)
	out, err := jcs.Transform(plain)
	require.NoError(t, err)
	return string(out)
}

// RFC 8785, appendix B: IEEE 754 doubles and how they are written. The row of
// 0 with a sign is there too.
func TestNumbersAreWrittenAsRFC8785Lists(t *testing.T) {
	for bits, want := range map[uint64]string{
		0x0000000000000000: "0",
		0x8000000000000000: "0",
		0x0000000000000001: "5e-324",
		0x8000000000000001: "-5e-324",
		0x7fefffffffffffff: "1.7976931348623157e+308",
		0xffefffffffffffff: "-1.7976931348623157e+308",
		0x4340000000000000: "9007199254740992",
		0xc340000000000000: "-9007199254740992",
		0x4430000000000000: "295147905179352830000",
		0x44b52d02c7e14af5: "9.999999999999997e+22",
		0x44b52d02c7e14af6: "1e+23",
		0x44b52d02c7e14af7: "1.0000000000000001e+23",
		0x444b1ae4d6e2ef4e: "999999999999999700000",
		0x444b1ae4d6e2ef4f: "999999999999999900000",
		0x444b1ae4d6e2ef50: "1e+21",
		0x3eb0c6f7a0b5ed8c: "9.999999999999997e-7",
		0x3eb0c6f7a0b5ed8d: "0.000001",
		0x41b3de4355555553: "333333333.3333332",
		0x41b3de4355555554: "333333333.33333325",
		0x41b3de4355555555: "333333333.3333333",
		0x41b3de4355555556: "333333333.3333334",
		0x41b3de4355555557: "333333333.33333343",
		0xbecbf647612f3696: "-0.0000033333333333333333",
		0x43143ff3c1cb0959: "1424953923781206.2",
	} {
		value := math.Float64frombits(bits)
		doc, err := parseTree(fmt.Appendf(nil, `{"n":%.17g}`, value))
		require.NoError(t, err)
		got, err := canonical(doc.(*object))
		require.NoError(t, err)
		assert.Equal(t, `{"n":`+want+`}`, string(got), "%x", bits)
	}
}

// RFC 8785, 3.2.2 (values) and 3.2.3 (order by UTF-16 code units).
func TestDocumentsOfRFC8785(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{`{
  "numbers": [333333333.33333329, 1E30, 4.50,
              2e-3, 0.000000000000000000000000001],
  "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/",
  "literals": [null, true, false]
}`, `{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\u000f\nA'B\"\\\\\"/"}`},
		{`{
  "\u20ac": "Euro Sign",
  "\r": "Carriage Return",
  "\ufb33": "Hebrew Letter Dalet With Dagesh",
  "1": "One",
  "\ud83d\ude00": "Emoji: Grinning Face",
  "\u0080": "Control",
  "\u00f6": "Latin Small Letter O With Diaeresis"
}`, `{"\r":"Carriage Return","1":"One","` + "\u0080" + `":"Control","ö":"Latin Small Letter O With Diaeresis",` +
			`"€":"Euro Sign","😀":"Emoji: Grinning Face","` + "\ufb33" + `":"Hebrew Letter Dalet With Dagesh"}`},
	} {
		doc, err := parseTree([]byte(c.in))
		require.NoError(t, err)
		got, err := canonical(doc.(*object))
		require.NoError(t, err)
		assert.Equal(t, c.want, string(got))
	}
}

func TestDigestIsWhatSha256sumSays(t *testing.T) {
	needs.Program(t, "sha256sum", "coreutils")
	file, _ := decorated(t)
	for _, r := range []*Report{sample(), readText(t, file)} {
		written := encoded(t, r)
		command := exec.Command("sha256sum")
		command.Stdin = strings.NewReader(rawCanonical(t, written))
		out, err := command.Output()
		require.NoError(t, err)
		sum, _, _ := strings.Cut(string(out), " ")
		assert.Equal(t, sum, r.Integrity.Digest)
		assert.Equal(t, "sha256/RFC 8785", r.Integrity.Algorithm)
		assert.Contains(t, string(written), sum)
	}
}

// Any change of a value, known or not, is found; layout and order are not values.
func TestDigestFindsEdits(t *testing.T) {
	file, _ := decorated(t)
	text := string(encoded(t, readText(t, file)))
	require.True(t, readText(t, []byte(text)).DigestOK())
	for _, edit := range [][2]string{
		{`"right_mm": -0.4375`, `"right_mm": -0.4376`},
		{`"reference": "J-17"`, `"reference": "J-71"`},
		{`"state": "incomplete"`, `"state": "inside"`},
		{`"<&>"`, `"<&&>"`},
		{odd, "12345678901234569999.10"},
		{`"algorithm": "sha256/RFC 8785"`, `"algorithm": "sha1/RFC 8785"`},
	} {
		changed := strings.Replace(text, edit[0], edit[1], 1)
		require.NotEqual(t, text, changed, edit[0])
		assert.False(t, readText(t, []byte(changed)).DigestOK(), edit[0])
	}
	var compact bytes.Buffer
	require.NoError(t, json.Compact(&compact, []byte(text)))
	assert.True(t, readText(t, compact.Bytes()).DigestOK())
	assert.True(t, readText(t, []byte(strings.Replace(text, `"limit_mm": 2,`, `"limit_mm": 2.0e0,`, 1))).DigestOK())
}

func TestNoIntegrityIsNotAGoodOne(t *testing.T) {
	r := sample()
	assert.False(t, r.DigestOK())
	encoded(t, r)
	assert.True(t, r.DigestOK())
	r.Job.Notes = "later"
	assert.False(t, r.DigestOK())
	r.LimitMM = math.NaN()
	_, err := r.Digest()
	assert.Error(t, err)
	assert.False(t, r.DigestOK())
}
