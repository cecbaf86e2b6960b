package report

import (
	"bytes"
	"encoding/json"
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/needs"
)

// otherReader reads CSV by Python's csv module, strictly, and counts the line
// ends that RFC 4180 wants.
const otherReader = `
import csv, io, json, sys
data = sys.stdin.buffer.read()
text = data.decode("utf-8")
rows = list(csv.DictReader(io.StringIO(text, newline=""), strict=True))
print(json.dumps({"rows": rows, "crlf": text.count("\r\n"), "lf": text.count("\n"), "end": text.endswith("\r\n")}))
`

func TestCSVIsReadByAnotherProgram(t *testing.T) {
	interpreter := needs.Python(t, "csv", "python3")
	r := sample()
	r.Stations[0].Burn.Photo.Camera = `a "phone", new` + "\nline"
	r.Stations[0].Burn.Offset.RightMM = 0.30000000000000004
	var b bytes.Buffer
	require.NoError(t, WriteCSV(&b, r))
	command := exec.Command(interpreter, "-c", otherReader)
	command.Stdin = &b
	out, err := command.Output()
	require.NoError(t, err)
	var got struct {
		Rows     []map[string]*string
		CRLF, LF int
		End      bool
	}
	require.NoError(t, json.Unmarshal(out, &got))
	require.Len(t, got.Rows, 7)
	assert.True(t, got.End)
	assert.Equal(t, 8, got.CRLF)
	assert.Equal(t, 8, got.LF, "no line feed without its carriage return")
	for i, want := range []string{
		"rear-left burn yes rear-left.jpg measured", "rear-left pointer yes rear-left.jpg measured", "rear-left burn no rear-left (2).jpg measured",
		"middle burn yes middle.jpg refused", "front-right burn yes front-right.jpg measured", "front-left  no  missing", "  no cat.jpg unassigned",
	} {
		require.Len(t, got.Rows[i], len(csvHeader))
		for key, cell := range got.Rows[i] {
			require.NotNil(t, cell, key)
		}
		assert.Equal(t, want, strings.Join(columns(got.Rows[i], "station", "mark", "used", "photo", "status"), " "))
	}
	burn := got.Rows[0]
	assert.Equal(t, []string{`a "phone", new` + "\uFFFDline", "0.30000000000000004", "0.875", "0.00015625000000000003", "-0.9375", "0.625"},
		columns(burn, "camera", "right_mm", "up_mm", "covariance_up_mm2", "beam_from_pointer_right_mm", "beam_from_pointer_up_mm"))
	assert.Equal(t, []string{"", "", "cut-off", "the target is cut off at the left: step back"}, columns(got.Rows[3], "right_mm", "state", "code", "text"))
	assert.Equal(t, []string{"one-ring", "outside"}, columns(got.Rows[4], "warnings", "state"))
	assert.Equal(t, []string{"the name holds no station"}, columns(got.Rows[6], "text"))
}

// columns are some of a row's cells.
func columns(row map[string]*string, names ...string) (out []string) {
	for _, name := range names {
		out = append(out, *row[name])
	}
	return out
}

func TestAFullDiskIsAnErrorOfCSVAndTable(t *testing.T) {
	assert.Error(t, WriteCSV(failing{}, sample()))
	assert.Error(t, WriteStations(failing{}, sample(), Millimetres))
}
