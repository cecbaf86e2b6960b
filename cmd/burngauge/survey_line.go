package main

import (
	"bytes"
	"encoding/json"

	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/terminal"
)

// place is what a line of `survey --ndjson` has before the measurement's own
// keys, so that it stands alone wherever it is sent.
type place struct {
	Station string      `json:"station"` // "" when the name holds none
	Folder  string      `json:"folder"`  // as it was given
	Job     *report.Job `json:"job"`     // null when nothing is known of it
}

// writeLines writes each measurement on a line of its own.
func (j *surveyJob) writeLines(station string, marks []report.Measurement) error {
	at := place{Station: station, Folder: j.folder}
	if j.job != (report.Job{}) {
		at.Job = &j.job
	}
	for _, m := range marks {
		line, err := joinObjects(at, m)
		if err != nil {
			return err
		}
		if _, err := j.streams.Out.Write(line); err != nil {
			return terminal.NotWritten(err)
		}
	}
	return nil
}

// joinObjects is one line of JSON with the keys of both, first's first. A
// measurement encodes itself, so it cannot be embedded.
func joinObjects(first any, second report.Measurement) ([]byte, error) {
	var head, tail bytes.Buffer
	encoder := json.NewEncoder(&head)
	encoder.SetEscapeHTML(false)
	if err := encoder.Encode(first); err != nil {
		return nil, err
	}
	if err := report.WriteNDJSON(&tail, second); err != nil {
		return nil, err
	}
	line := bytes.TrimSuffix(head.Bytes(), []byte("}\n"))
	line = append(line, ',')
	return append(line, tail.Bytes()[1:]...), nil
}
