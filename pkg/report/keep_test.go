package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// odd is a number that no float64 holds, and whose text must survive.
const odd = "12345678901234567890.10"

// decorated is the sample's file with a key of its own in every object, which
// names the place; the decorating is done on encoding/json's maps, not by the
// code under test.
func decorated(t testing.TB) (file []byte, places []string) {
	var doc any
	d := json.NewDecoder(bytes.NewReader(encoded(t, sample())))
	d.UseNumber()
	require.NoError(t, d.Decode(&doc))
	var walk func(v any, at string)
	walk = func(v any, at string) {
		switch v := v.(type) {
		case map[string]any:
			for key, inner := range v {
				walk(inner, at+"/"+key)
			}
			v["x_"+at] = map[string]any{"later": []any{json.Number(odd), "<&>", nil}}
			places = append(places, "x_"+at)
		case []any:
			for i, inner := range v {
				walk(inner, fmt.Sprintf("%s/%d", at, i))
			}
		}
	}
	walk(doc, "")
	file, err := json.Marshal(doc)
	require.NoError(t, err)
	return file, places
}

// everyKey lists key=value texts of a document, numbers as they are written,
// but for the digest, in order of their names.
func everyKey(t testing.TB, data []byte) (out []string) {
	var walk func(v any, at string)
	walk = func(v any, at string) {
		switch v := v.(type) {
		case map[string]any:
			for key, inner := range v {
				walk(inner, at+"/"+key)
			}
		case []any:
			for i, inner := range v {
				walk(inner, fmt.Sprintf("%s/%d", at, i))
			}
		default:
			if at != "/integrity/digest" {
				out = append(out, fmt.Sprintf("%s=%v", at, v))
			}
		}
	}
	var doc any
	d := json.NewDecoder(bytes.NewReader(data))
	d.UseNumber()
	require.NoError(t, d.Decode(&doc))
	walk(doc, "")
	slices.Sort(out)
	return out
}

func readText(t testing.TB, text []byte) *Report {
	r, err := Read(bytes.NewReader(text))
	require.NoError(t, err)
	return r
}

func TestUnknownKeysSurviveAtEveryLevel(t *testing.T) {
	file, places := decorated(t)
	// One of each: report, tool, job, target, index, station, measurement with
	// its parts, parting, unassigned, verdict, integrity.
	require.Greater(t, len(places), 50)
	r := readText(t, file)
	written := encoded(t, r)
	assert.Equal(t, everyKey(t, file), everyKey(t, written))
	assert.Equal(t, strings.Count(string(file), odd), strings.Count(string(written), odd))
	assert.True(t, readText(t, written).DigestOK())
}

func TestKeysStandInTheOrderOfTheFormat(t *testing.T) {
	file, _ := decorated(t)
	text := string(encoded(t, readText(t, file)))
	require.True(t, strings.HasPrefix(text, "{\n  \"schema\": \"burngauge.report/1\",\n  \"created\": "), text[:80])
	last := -1
	for _, key := range []string{"schema", "created", "tool", "job", "target", "limit_mm", "rule", "expected", "stations", "unassigned", "verdict", "integrity", "x_"} {
		at := strings.Index(text, "\n  \""+key+"\": ")
		assert.Greater(t, at, last, key)
		last = at
	}
}

// has reports whether the written report holds the decoration of that place.
func has(t *testing.T, r *Report, place string) bool {
	return strings.Contains(string(encoded(t, r)), `"x_`+place+`"`)
}

func TestChangedFieldsWinAndKeepTheirNeighbours(t *testing.T) {
	file, _ := decorated(t)
	r := readText(t, file)
	r.Job.Reference = "J-18"
	r.Stations[0].Burn.Offset.RightMM = -0.5
	r.Stations[0].Burn.Verdict.State = "borderline"
	again := readText(t, encoded(t, r))
	assert.Equal(t, "J-18", again.Job.Reference)
	assert.Equal(t, -0.5, again.Stations[0].Burn.Offset.RightMM)
	assert.Equal(t, "borderline", again.Stations[0].Burn.Verdict.State)
	for _, place := range []string{"/job", "/stations/0/burn/offset", "/stations/0/burn/verdict"} {
		assert.True(t, has(t, again, place), place)
	}
}

func TestWhatIsTakenOutIsGoneWithItsKeys(t *testing.T) {
	file, _ := decorated(t)
	r := readText(t, file)
	r.Stations = r.Stations[1:]
	r.Unassigned = nil
	again := readText(t, encoded(t, r))
	require.Len(t, again.Stations, 2)
	assert.Empty(t, again.Unassigned)
	assert.False(t, has(t, again, "/stations/0"))
	assert.False(t, has(t, again, "/stations/0/burn/offset"))
	assert.False(t, has(t, again, "/unassigned/0"))
	assert.True(t, has(t, again, "/stations/1"))
	assert.True(t, has(t, again, "/stations/2/burn/photo"))

	r = readText(t, file)
	r.Stations[0].Pointer, r.Stations[0].BeamFromPointer = nil, nil
	again = readText(t, encoded(t, r))
	assert.Nil(t, again.Stations[0].Pointer)
	assert.False(t, has(t, again, "/stations/0/pointer"))
	assert.False(t, has(t, again, "/stations/0/beam_from_pointer"))
	assert.True(t, has(t, again, "/stations/0/burn"))
}

// A new station between the old ones must not take the keys of its place.
func TestStationsAreMatchedByName(t *testing.T) {
	file, _ := decorated(t)
	r := readText(t, file)
	added := Station{Station: "spare", Burn: mark("spare.jpg", "burn", 0.1, 0.1, 0.01)}
	r.Stations = slices.Insert(r.Stations, 0, added)
	slices.Reverse(r.Stations)
	var doc struct{ Stations []map[string]any }
	require.NoError(t, json.Unmarshal(encoded(t, r), &doc))
	wants := map[string]string{"rear-left": "x_/stations/0", "middle": "x_/stations/1", "front-right": "x_/stations/2"}
	for _, s := range doc.Stations {
		want, old := wants[s["station"].(string)]
		for key := range s {
			if strings.HasPrefix(key, "x_") {
				assert.Equal(t, want, key)
			}
		}
		_, there := s[want]
		assert.Equal(t, old, there, s["station"])
	}
}

// The better photo turns out to be the other one: each keeps its own keys.
func TestKeysOfAMeasurementMoveWithIt(t *testing.T) {
	file, _ := decorated(t)
	r := readText(t, file)
	s := &r.Stations[0]
	burn, other := *s.Burn, s.Others[0]
	s.Burn, s.Others = &other, []Measurement{burn}
	var doc struct {
		Stations []struct {
			Burn   map[string]any
			Others []map[string]any
		}
	}
	require.NoError(t, json.Unmarshal(encoded(t, r), &doc))
	assert.Contains(t, doc.Stations[0].Burn, "x_/stations/0/others/0")
	assert.NotContains(t, doc.Stations[0].Burn, "x_/stations/0/burn")
	assert.Contains(t, doc.Stations[0].Others[0], "x_/stations/0/burn")

	// And to another station, when the photo was filed wrongly.
	r = readText(t, file)
	r.Stations[1].Station, r.Stations[1].Burn = "front-left", r.Stations[2].Burn
	r.Stations = r.Stations[:2]
	require.NoError(t, json.Unmarshal(encoded(t, r), &doc))
	assert.Contains(t, doc.Stations[1].Burn, "x_/stations/2/burn")
}

func TestTheDocumentThatWasReadDoesNotChange(t *testing.T) {
	file, _ := decorated(t)
	r := readText(t, file)
	first := encoded(t, r)
	kept := *r
	kept.Stations = nil
	encoded(t, &kept)
	assert.Equal(t, string(first), string(encoded(t, r)))
}

// A later program may have keys that differ from ours only in case, which
// encoding/json would put into our fields.
func TestKeysThatDifferInCaseAreOthers(t *testing.T) {
	text := strings.Replace(string(encoded(t, sample())), `"limit_mm": 2,`, `"limit_mm": 2, "LIMIT_MM": 9, "Stations": [],`, 1)
	r := readText(t, []byte(text))
	assert.Equal(t, 2.0, r.LimitMM)
	assert.Len(t, r.Stations, 3)
	assert.Contains(t, string(encoded(t, r)), `"LIMIT_MM": 9`)
}

func FuzzReadKeepsEverything(f *testing.F) {
	file, _ := decorated(f)
	f.Add(file)
	f.Add(encoded(f, sample()))
	f.Add(bytes.Replace(file, []byte(`"bytes":1`), []byte(`"bytes":1.0e0`), 1))
	f.Add(bytes.Replace(file, []byte(`burngauge.report/1`), []byte(`burngauge.report/1.4`), 1))
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := Read(bytes.NewReader(data))
		if err != nil {
			require.NotContains(t, err.Error(), "\n")
			return
		}
		before, err := r.Digest()
		require.NoError(t, err)
		written := encoded(t, r)
		again := readText(t, written)
		require.True(t, again.DigestOK())
		require.Equal(t, before, again.Integrity.Digest)
		require.Equal(t, rawCanonical(t, data), rawCanonical(t, written))
		require.NoError(t, WriteStations(&bytes.Buffer{}, r, Inches))
		require.NoError(t, WriteCSV(&bytes.Buffer{}, r))
		r.Judge()
	})
}

// FuzzKeysOfLaterPrograms puts any key with any value into any object of a
// report: it is kept where it stands, or the report is refused.
func FuzzKeysOfLaterPrograms(f *testing.F) {
	f.Add("x", `{"a":[1,-0,1E+2,0.1e-7,"\\u20ac"]}`, 3)
	f.Add("Schema", "null", 0)
	f.Add("station", `"rear-left"`, 9)
	f.Add("others", `[[{}]]`, 1)
	f.Add("burn", `{"mark":1,"photo":[]}`, 2)
	f.Add("\u017fchema", `"k"`, 0) // a long s, which encoding/json folds to s
	good := string(encoded(f, sample()))
	objects := strings.Count(good, "{\n")
	f.Fuzz(func(t *testing.T, key, value string, at int) {
		if !json.Valid([]byte(value)) {
			return
		}
		name, err := json.Marshal(key)
		require.NoError(t, err)
		parts := strings.SplitAfter(good, "{\n")
		place := int(uint(at) % uint(objects))
		parts[place] += string(name) + ":" + value + ","
		text := []byte(strings.Join(parts, ""))
		r, err := Read(bytes.NewReader(text))
		if err != nil {
			require.NotContains(t, err.Error(), "\n")
			return
		}
		written := encoded(t, r)
		require.Equal(t, everyKey(t, text), everyKey(t, written))
		require.Equal(t, rawCanonical(t, text), rawCanonical(t, written))
		require.True(t, readText(t, written).DigestOK())
	})
}
