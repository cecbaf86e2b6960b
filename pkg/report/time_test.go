package report

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Times by hand: 18:30 in UTC+2 is 16:30 UTC.
func TestARoundsTimeIsThatOfItsLastPhoto(t *testing.T) {
	burn := func(taken string) *Measurement { return &Measurement{Photo: Photo{Taken: taken}} }
	for name, c := range map[string]struct {
		stations []Station
		want     string
	}{
		"no photo has a time": {[]Station{{Burn: burn("")}, {}}, "2026-11-20T09:00:00+02:00"},
		"the last counts":     {[]Station{{Burn: burn("2024-05-02T10:00:00+02:00")}, {Burn: burn("2024-05-02T09:30:00Z")}}, "2024-05-02T09:30:00Z"},
		"no offset":           {[]Station{{Burn: burn("2024-05-02T18:30:00")}}, "2024-05-02T16:30:00Z"},
		"a pointer's too":     {[]Station{{Burn: burn("2024-05-02T18:30:00"), Pointer: burn("2024-05-02T18:31:00")}}, "2024-05-02T16:31:00Z"},
		"others do not count": {[]Station{{Burn: burn("2024-05-02T18:30:00"), Others: []Measurement{*burn("2025-01-01T00:00:00Z")}}}, "2024-05-02T16:30:00Z"},
	} {
		r := &Report{Created: "2026-11-20T09:00:00+02:00", Stations: c.stations}
		got, err := r.Time()
		require.NoError(t, err, name)
		want, err := time.Parse(time.RFC3339, c.want)
		require.NoError(t, err)
		assert.True(t, got.Equal(want), "%s: %v", name, got)
	}
	_, err := (&Report{Created: "yesterday"}).Time()
	assert.Error(t, err)
}
