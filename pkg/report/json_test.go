package report

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// exampleHash is the SHA-256 of the empty text (FIPS 180-4 examples).
const exampleHash = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"

// example is the measurement of the format's description.
func example() Measurement {
	return Measurement{
		Photo: Photo{File: "rear-left.jpg", SHA256: exampleHash, Bytes: 1, Width: 4000, Height: 3000, Taken: "2026-09-02T09:14:11+02:00", Camera: "a <phone> & more"},
		Mark:  "burn", Target: "plain-4", Status: Measured,
		Offset: &Offset{RightMM: -0.44, UpMM: 0.86, DistanceMM: 0.97, Clock: "11:00", Rings: 0.485},
		Uncertainty: &Uncertainty{CovarianceMM2: [2][2]float64{{1.5e-4, 0}, {0, 1.5e-4}}, RadiusMM: 0.03, Coverage: 0.95,
			Budget: []Component{{Source: "ring fit", Evaluation: "A", UMM: 0.004}}},
		Size:    &Size{MajorMM: 3.8, MinorMM: 3.4, AxisDeg: 12, Shape: "round"},
		Verdict: &Verdict{LimitMM: 2, State: "inside", Probability: 0.9999, Rule: "inside from 95 %"},
		View: &View{TiltDeg: 9.9, RollDeg: -3, PxPerMM: 22.8, CentrePx: [2]float64{961.3, 870},
			RingsSeen: []RingSeen{{DiameterMM: 4, Arc: 0.62, RMSPx: 0.2}}},
		Warnings: []Warning{{Code: "one-ring", Text: "only one ring was seen: hold the phone squarely"}},
	}
}

// refused is one without a number.
func refused() Measurement {
	return Measurement{Photo: Photo{File: "middle.jpg"}, Mark: "burn", Target: "plain-4", Status: Refused,
		Refusal: &Refusal{Code: "cut-off", Text: "the target is cut off at the left: step back"}}
}

// Written out from the format's description, key by key.
const exampleLine = `{"photo":{"file":"rear-left.jpg","sha256":"` + exampleHash + `","bytes":1,"width":4000,"height":3000,` +
	`"taken":"2026-09-02T09:14:11+02:00","camera":"a <phone> & more"},"mark":"burn","target":"plain-4","status":"measured",` +
	`"offset":{"right_mm":-0.44,"up_mm":0.86,"distance_mm":0.97,"clock":"11:00","rings":0.485},` +
	`"uncertainty":{"covariance_mm2":[[0.00015,0],[0,0.00015]],"radius_mm":0.03,"coverage":0.95,` +
	`"budget":[{"source":"ring fit","evaluation":"A","u_mm":0.004}]},` +
	`"size":{"major_mm":3.8,"minor_mm":3.4,"axis_deg":12,"shape":"round"},` +
	`"verdict":{"limit_mm":2,"state":"inside","probability":0.9999,"rule":"inside from 95 %"},` +
	`"view":{"tilt_deg":9.9,"roll_deg":-3,"px_per_mm":22.8,"centre_px":[961.3,870],` +
	`"rings_seen":[{"diameter_mm":4,"arc":0.62,"rms_px":0.2}]},` +
	`"warnings":[{"code":"one-ring","text":"only one ring was seen: hold the phone squarely"}],"refusal":null}` + "\n"

// refusedLine is refused, written out likewise.
const refusedLine = `{"photo":{"file":"middle.jpg","sha256":"","bytes":0,"width":0,"height":0,"taken":"","camera":""},` +
	`"mark":"burn","target":"plain-4","status":"refused","offset":null,"uncertainty":null,"size":null,"verdict":null,"view":null,` +
	`"warnings":[],"refusal":{"code":"cut-off","text":"the target is cut off at the left: step back"}}`

func TestNDJSONIsTheFormatOnOneLine(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, WriteNDJSON(&b, example()))
	assert.Equal(t, exampleLine, b.String())
}

func TestListsThatAreNilAreWrittenAsEmpty(t *testing.T) {
	m := example()
	m.Warnings, m.Uncertainty.Budget, m.View.RingsSeen = nil, nil, nil
	var b bytes.Buffer
	require.NoError(t, WriteNDJSON(&b, m))
	for _, key := range []string{`"warnings":[]`, `"budget":[]`, `"rings_seen":[]`} {
		assert.Contains(t, b.String(), key)
	}
	assert.Nil(t, m.Uncertainty.Budget, "the caller's measurement must not change")
	b.Reset()
	require.NoError(t, WriteJSON(&b, nil))
	assert.Equal(t, "{\n  \"schema\": \"burngauge.measurements/1\",\n  \"measurements\": []\n}\n", b.String())
}

func TestMeasurementInsideAnotherDocumentHasItsLists(t *testing.T) {
	data, err := json.Marshal(struct{ Burn *Measurement }{&Measurement{Status: Refused}})
	require.NoError(t, err)
	assert.Contains(t, string(data), `"warnings":[]`)
}

func TestWhatIsWrittenIsReadBack(t *testing.T) {
	list := []Measurement{example(), refused()}
	list[1].Warnings = []Warning{}
	var b bytes.Buffer
	require.NoError(t, WriteJSON(&b, list))
	assert.True(t, strings.HasPrefix(b.String(), "{\n  \"schema\": \"burngauge.measurements/1\",\n  \"measurements\": [\n    {\n      \"photo\""))
	got, err := ReadMeasurements(&b)
	require.NoError(t, err)
	assert.Equal(t, list, got)
}

func TestNumbersThatAreNotFiniteAreRefusedAndNothingIsWritten(t *testing.T) {
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		m := example()
		m.Offset.Rings = bad
		var b bytes.Buffer
		err := WriteJSON(&b, []Measurement{refused(), m})
		assert.ErrorContains(t, err, `the burn of "rear-left.jpg"`)
		assert.ErrorContains(t, WriteNDJSON(&b, m), "unsupported value")
		assert.Zero(t, b.Len())
	}
}

func TestFilesThatAreNotOursAreRefused(t *testing.T) {
	list := `"measurements":[]}`
	one := func(m string) string { return `{"schema":"burngauge.measurements/1","measurements":[` + m + `]}` }
	whole := strings.TrimSpace(exampleLine)
	cases := map[string]string{
		``:                                       "not the JSON",
		`[`:                                      "not the JSON",
		`[]`:                                     "not the JSON",
		`null`:                                   "not the JSON",
		`{"schema":`:                             "not the JSON",
		`{` + list:                               `the schema is "", not "burngauge.measurements/1"`,
		`{"schema":7,` + list:                    `the schema is "", not`,
		`{"schema":"burngauge.report/1",` + list: "give a file from burngauge measure --json",
		`{"schema":"burngauge.measurements/2",` + list:              "use the program that wrote it",
		`{"schema":"burngauge.measurements/10",` + list:             "use the program that wrote it",
		`{"schema":"burngauge.measurements",` + list:                "use the program that wrote it",
		`{"schema":"burngauge.measurements/1.x",` + list:            "schema: ",
		`{"schema":"burngauge.measurements/1"}`:                     `the whole file: has no "measurements"`,
		`{"schema":"burngauge.measurements/1","measurements":{}}`:   "measurements: is an object, not a list",
		`{"schema":"burngauge.measurements/1",` + list + `{}`:       "more follows",
		`{"schema":"burngauge.measurements/1",` + list + `junk`:     "more follows",
		`{"schema":"burngauge.measurements/1","schema":"x",` + list: "Duplicate key",
		one(`null`):                  "measurements[0]: is null, not an object",
		one(`{"status":"measured"}`): `measurements[0]: has no "mark", "offset", "photo"`,
		one(strings.Replace(whole, `"measured"`, `"guessed"`, 1)):                      "status: is guessed, not one of measured refused unreadable",
		one(strings.Replace(whole, `"measured"`, `"refused"`, 1)):                      "measurements[0].offset: is an object, not null (and 1 more)",
		one(strings.Replace(whole, `"right_mm":-0.44`, `"right_mm":"left"`, 1)):        "measurements[0].offset.right_mm: is a string, not a number",
		one(strings.Replace(whole, `"right_mm":-0.44`, `"right_mm":1e999`, 1)):         "Number out of range",
		one(strings.Replace(whole, `"right_mm":-0.44`, `"Right_mm":-0.44`, 1)):         `measurements[0].offset: has no "right_mm"`,
		one(strings.Replace(whole, `"bytes":1`, `"bytes":1e300`, 1)):                   "cannot unmarshal",
		one(strings.Replace(whole, `"clock":"11:00"`, `"clock":"11 o\u2028clock"`, 1)): "measurements[0].offset.clock",
	}
	for text, says := range cases {
		_, err := ReadMeasurements(strings.NewReader(text))
		var read *ReadError
		require.True(t, errors.As(err, &read), "%s: %v", text, err)
		assert.Contains(t, err.Error(), says, text)
		assert.NotContains(t, err.Error(), "\n", text)
	}
}

func TestKeysOfALaterProgramArePassedOver(t *testing.T) {
	for _, schema := range []string{"burngauge.measurements/1", "burngauge.measurements/1.2"} {
		got, err := ReadMeasurements(strings.NewReader(`{"schema":"` + schema + `","new":1,"measurements":[{"newer":2,"Status":"measured",` + refusedLine[1:] + `]}`))
		require.NoError(t, err)
		require.Len(t, got, 1)
		assert.Equal(t, "cut-off", got[0].Refusal.Code)
		assert.Equal(t, Refused, got[0].Status, "a key that differs in case is another key")
	}
}

// failing is a full disk.
type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, io.ErrShortWrite }

func TestAFailingWriterIsReported(t *testing.T) {
	assert.ErrorIs(t, WriteJSON(failing{}, nil), io.ErrShortWrite)
	assert.ErrorIs(t, WriteNDJSON(failing{}, example()), io.ErrShortWrite)
	assert.ErrorIs(t, WriteTable(failing{}, []Measurement{example()}, Millimetres), io.ErrShortWrite)
}

// FuzzReadMeasurements: nothing panics, and what is read can be written, shown
// and read again.
func FuzzReadMeasurements(f *testing.F) {
	var b bytes.Buffer
	if err := WriteJSON(&b, []Measurement{example(), refused()}); err != nil {
		f.Fatal(err)
	}
	f.Add(b.Bytes())
	f.Add([]byte(`{"schema":"burngauge.measurements/1.7","measurements":[` + refusedLine + `]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		list, err := ReadMeasurements(bytes.NewReader(data))
		if err != nil {
			return
		}
		var out bytes.Buffer
		require.NoError(t, WriteTable(io.Discard, list, Inches))
		require.NoError(t, WriteJSON(&out, list))
		again, err := ReadMeasurements(&out)
		require.NoError(t, err)
		require.Len(t, again, len(list))
	})
}
