package main

import (
	"encoding/json"
	"io"

	"burngauge.dev/burngauge/pkg/machine"
)

// schemaResponse names the format of `machine check --json`.
const schemaResponse = "mirrorplan.response/1"

type (
	// responseFile is what `machine check --json` writes.
	responseFile struct {
		Schema   string        `json:"schema"`
		Nominal  []nominalSpot `json:"nominal"`
		Response []screwEffect `json:"response"`
	}
	// nominalSpot is where the beam lands when everything is as the profile says.
	nominalSpot struct {
		Station string  `json:"station"`
		RightMM float64 `json:"right_mm"`
		UpMM    float64 `json:"up_mm"`
	}
	// screwEffect is what a whole turn would do if it went on as it begins: the
	// derivative at zero turns.
	screwEffect struct {
		Station        string  `json:"station"`
		Mirror         string  `json:"mirror"`
		Screw          string  `json:"screw"`
		RightMMPerTurn float64 `json:"right_mm_per_turn"`
		UpMMPerTurn    float64 `json:"up_mm_per_turn"`
	}
)

// writeResponse writes the response as JSON.
func writeResponse(w io.Writer, r *machine.Response) error {
	file := responseFile{Schema: schemaResponse, Nominal: []nominalSpot{}, Response: []screwEffect{}}
	for i, station := range r.Stations {
		file.Nominal = append(file.Nominal, nominalSpot{station, r.Nominal[i][0], r.Nominal[i][1]})
		for j, s := range r.Screws {
			file.Response = append(file.Response, screwEffect{station, s.Mirror, s.Screw, r.PerTurn[i][j][0], r.PerTurn[i][j][1]})
		}
	}
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(file)
}
