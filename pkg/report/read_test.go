package report

import (
	"errors"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestAReportIsReadBackAsWritten(t *testing.T) {
	path := filepath.Join(t.TempDir(), "report.json")
	want := sample()
	require.NoError(t, want.WriteFile(path))
	got, err := ReadFile(path)
	require.NoError(t, err)
	assert.True(t, got.DigestOK())
	got.kept = nil
	assert.Equal(t, want, got)
}

func TestListsOfAReportAreNeverNull(t *testing.T) {
	r := sample()
	r.Expected, r.Stations, r.Unassigned = nil, []Station{{Station: "middle"}}, nil
	text := string(encoded(t, r))
	for _, key := range []string{`"expected": []`, `"unassigned": []`, `"photos": []`, `"others": []`} {
		assert.Contains(t, text, key)
	}
	assert.Nil(t, r.Unassigned, "the caller's report must not change")
	r.Stations = nil
	assert.Contains(t, string(encoded(t, r)), `"stations": []`)
}

func TestReportsThatCannotBeUsedAreRefused(t *testing.T) {
	good := string(encoded(t, sample()))
	with := func(old, new string) string {
		out := strings.Replace(good, old, new, 1)
		require.NotEqual(t, good, out, old)
		return out
	}
	for _, c := range []struct{ text, says string }{
		{"", "not the JSON that burngauge survey -o writes"},
		{good[:len(good)/2], "unexpected EOF"},
		{"[]", "it is no object"},
		{good + "{}", "more follows after the end"},
		{with("burngauge.report/1", "burngauge.report/2"), `the schema is "burngauge.report/2" and this program reads "burngauge.report/1": use the program that wrote it, or survey the photos again`},
		{with("burngauge.report/1", "burngauge.measurements/1"), "give a file from burngauge survey -o"},
		{with(`"schema": "burngauge.report/1",`, ""), `the schema is ""`},
		{with(`"limit_mm": 2,`, ""), `the whole file: has no "limit_mm"`},
		{with(`"limit_mm": 2,`, `"limit_mm": -2,`), "limit_mm: "},
		{with(`"limit_mm": 2,`, `"limit_mm": 2, "limit_mm": 2,`), `Duplicate key: "limit_mm"`},
		{with(`"limit_mm": 2,`, `"limit_mm": 2, "later": 1e999,`), "Number out of range"},
		{with(`"limit_mm": 2,`, `"limit_mm": 2, "later": "`+"\xff"+`",`), "Invalid UTF-8"},
		{with(`2026-09-02T09:30:00+02:00`, `2026-02-30T09:30:00+02:00`), "created: "},
		{with(`2026-09-02T09:30:00+02:00`, `2026-09-02T09:30:00`), "created: "},
		{with(`"state": "incomplete"`, `"state": "fine"`), "verdict.state: is fine, not one of inside outside borderline incomplete"},
		{with(`"station": "middle"`, `"station": "rear-left"`), `the station "rear-left" stands in it twice`},
		{with(`"right_mm": -0.4375`, `"right_mm": null`), "stations[0].burn.offset.right_mm: is null, not a number"},
		{with(`"others": []`, `"others": [null]`), "stations[1].others[0]: is null, not an object"},
		{with("\"rings_mm\": [\n      4,", "\"rings_mm\": [\n      9,"), "rings_mm"},
	} {
		_, err := Read(strings.NewReader(c.text))
		var wrong *ReadError
		require.True(t, errors.As(err, &wrong), "%v", err)
		assert.Contains(t, err.Error(), c.says)
		assert.True(t, strings.HasPrefix(err.Error(), "report: "), err)
		assert.NotContains(t, err.Error(), "\n")
	}
}

func TestALaterMinorNumberIsReadAndKept(t *testing.T) {
	text := strings.Replace(string(encoded(t, sample())), SchemaReport, SchemaReport+".3", 1)
	assert.Contains(t, string(encoded(t, readText(t, []byte(text)))), `"schema": "burngauge.report/1.3"`)
}

func TestFilesThatCannotBeReadAreNamed(t *testing.T) {
	dir := t.TempDir()
	bad := filepath.Join(dir, "bad.json")
	require.NoError(t, os.WriteFile(bad, []byte("{}"), 0o600))
	for path, says := range map[string]string{
		bad:                             bad + `: the schema is ""`,
		filepath.Join(dir, "none.json"): "there is no such file: check the name",
		dir:                             "cannot be read (is a directory): check that it is a file",
	} {
		_, err := ReadFile(path)
		var wrong *ReadError
		require.True(t, errors.As(err, &wrong), "%v", err)
		assert.Equal(t, path, wrong.File)
		assert.Contains(t, err.Error(), says)
	}
	_, err := Read(iotest.ErrReader(io.ErrUnexpectedEOF))
	assert.ErrorIs(t, err, io.ErrUnexpectedEOF)
}

func TestWrongReportsAreNotWritten(t *testing.T) {
	path := filepath.Join(t.TempDir(), "report.json")
	require.NoError(t, os.WriteFile(path, []byte("old"), 0o600))
	for says, spoil := range map[string]func(*Report){
		`station "rear-left": writing the burn of "rear-left.jpg"`: func(r *Report) { r.Stations[0].Burn.Offset.UpMM = math.Inf(1) },
		`station "rear-left": writing the burn of "rear-left (2)`:  func(r *Report) { r.Stations[0].Others[0].Offset.UpMM = math.NaN() },
		`station "rear-left", beam from pointer`:                   func(r *Report) { r.Stations[0].BeamFromPointer.UpMM = math.NaN() },
		"unsupported value":                                        func(r *Report) { r.LimitMM = math.NaN() },
		"limit_mm: ":                                               func(r *Report) { r.LimitMM = 0 },
		"created: ":                                                func(r *Report) { r.Created = "today" },
		"schema: ":                                                 func(r *Report) { r.Schema = "burngauge.report/2" },
		"verdict.state: is , not one of":                           func(r *Report) { r.Verdict.State = "" },
		"stations[0].burn.photo.sha256":                            func(r *Report) { r.Stations[0].Burn.Photo.SHA256 = "ab" },
		`the station "middle" stands in it twice`:                  func(r *Report) { r.Stations[0].Station = "middle" },
		"rings_mm[1]":                                              func(r *Report) { r.Target.RingsMM = []float64{4, 3} },
	} {
		r := sample()
		spoil(r)
		err := r.WriteFile(path)
		assert.ErrorContains(t, err, says)
		var disk *WriteError
		assert.False(t, errors.As(err, &disk), "%v is not the disk's fault", err)
		assert.Nil(t, r.Integrity)
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.Equal(t, "old", string(data))
	}
}
