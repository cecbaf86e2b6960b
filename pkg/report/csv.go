package report

import (
	"encoding/csv"
	"fmt"
	"io"
	"strings"
)

// csvHeader names the columns of WriteCSV.
var csvHeader = []string{
	"station", "mark", "used", "photo", "sha256", "taken", "camera", "target", "status",
	"right_mm", "up_mm", "distance_mm", "clock", "rings",
	"radius_mm", "coverage", "covariance_right_mm2", "covariance_right_up_mm2", "covariance_up_mm2",
	"limit_mm", "state", "probability",
	"beam_from_pointer_right_mm", "beam_from_pointer_up_mm", "beam_from_pointer_radius_mm",
	"warnings", "code", "text",
}

// WriteCSV writes the report for spreadsheets and scripts (RFC 4180): a header,
// then a row for each station and mark. used is "yes" for the measurement that
// the station's verdict rests on and "no" for its others, for an expected
// station without a photo (status "missing") and for photos that belong to no
// station (status "unassigned"). Lengths are in mm, unrounded, with a point;
// a cell without a value is empty. code and text are a refusal's, or why a photo
// is unassigned; warnings are codes.
func WriteCSV(w io.Writer, r *Report) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	if err := out.WriteAll(append([][]string{csvHeader}, csvRows(r)...)); err != nil {
		return fmt.Errorf("writing the CSV: %w", err)
	}
	return nil
}

func csvRows(r *Report) (rows [][]string) {
	present := map[string]bool{}
	for _, s := range r.Stations {
		present[s.Station] = true
		if s.Burn != nil {
			rows = append(rows, csvRow(s.Station, "yes", *s.Burn, s.BeamFromPointer))
		}
		if s.Pointer != nil {
			rows = append(rows, csvRow(s.Station, "yes", *s.Pointer, nil))
		}
		for _, m := range s.Others {
			rows = append(rows, csvRow(s.Station, "no", m, nil))
		}
	}
	for _, name := range r.Expected {
		if !present[name] {
			rows = append(rows, csvRow(name, "no", Measurement{Status: "missing"}, nil))
		}
	}
	for _, u := range r.Unassigned {
		why := &Refusal{Text: u.Reason}
		rows = append(rows, csvRow("", "no", Measurement{Photo: u.Photo, Status: "unassigned", Refusal: why}, nil))
	}
	return rows
}

// csvRow has a cell for each name in csvHeader.
func csvRow(station, used string, m Measurement, parting *Parting) []string {
	row := []string{station, m.Mark, used, m.Photo.File, m.Photo.SHA256, m.Photo.Taken, m.Photo.Camera, m.Target, m.Status}
	row = append(row, offsetCells(m.Offset)...)
	row = append(row, uncertaintyCells(m.Uncertainty)...)
	if v := m.Verdict; v != nil {
		row = append(row, shortest(v.LimitMM), v.State, shortest(v.Probability))
	} else {
		row = append(row, "", "", "")
	}
	if parting != nil {
		row = append(row, shortest(parting.RightMM), shortest(parting.UpMM), shortest(parting.RadiusMM))
	} else {
		row = append(row, "", "", "")
	}
	var codes []string
	for _, warning := range m.Warnings {
		codes = append(codes, warning.Code)
	}
	row = append(row, strings.Join(codes, " "), "", "")
	if m.Refusal != nil {
		row[len(row)-2], row[len(row)-1] = m.Refusal.Code, m.Refusal.Text
	}
	for i := range row {
		row[i] = OneLine(row[i]) // encoding/csv would turn a lone line feed into CRLF
	}
	return row
}

func offsetCells(o *Offset) []string {
	if o == nil {
		return make([]string, 5)
	}
	return []string{shortest(o.RightMM), shortest(o.UpMM), shortest(o.DistanceMM), o.Clock, shortest(o.Rings)}
}

func uncertaintyCells(u *Uncertainty) []string {
	if u == nil {
		return make([]string, 5)
	}
	c := u.CovarianceMM2
	return []string{shortest(u.RadiusMM), shortest(u.Coverage), shortest(c[0][0]), shortest(c[0][1]), shortest(c[1][1])}
}
