package survey

import (
	"encoding/json"
	"os"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/text/unicode/norm"
)

func stations(t *testing.T, expected ...string) *Stations {
	t.Helper()
	s, err := NewStations(expected...)
	require.NoError(t, err)
	return s
}

// What phones, computers and people write.
func TestStationsAreFoundByTheNamesThatPeopleWrite(t *testing.T) {
	cases := map[string]string{
		"rear-left.jpg": "rear-left", "Rear Left (2).JPG": "rear-left", "Rear Left.JPG": "rear-left",
		"rear_left.jpeg": "rear-left", "rear-left 1.HEIC": "rear-left", "rearleft.jpg": "rear-left",
		"RearLeft3.jpg": "rear-left", "REAR_LEFT.JPG": "rear-left", "left rear.png": "rear-left",
		"leftRear.jpg": "rear-left", "back left.jpg": "rear-left", "BackLeft.jpg": "rear-left",
		"leftback.jpg": "rear-left", "RL.jpg": "rear-left", "rl 2.jpg": "rear-left", "IMG_1234 RL.jpg": "rear-left",
		"rear-left - Copy.jpg": "rear-left", "rear-left copy 2.jpg": "rear-left", "rear left.jpg.jpeg": "rear-left",
		"rear--left__01.jpg": "rear-left", "rear, left corner.jpg": "rear-left", "rear side left.jpg": "rear-left",
		"FrontRight.jpg": "front-right", "front_left.jpg": "front-left", "FR-3.jpg": "front-right",
		"2026-09-02 front right.jpg": "front-right", "IMG_20260902_091411_front_right.jpg": "front-right",
		"WO-0914 front right after turn 2.jpg": "front-right", "20260902front-right.jpg": "front-right",
		"rear-right (2).jpg": "rear-right", "rear-right(2).jpg": "rear-right", "rr.heic": "rear-right",
		"middle.jpeg": "middle", "IMG_1234 middle.jpg": "middle", "centre.jpg": "middle", "center (1).jpg": "middle",
		"Centré.jpg": "middle", "ＭＩＤＤＬＥ.jpg": "middle", "IMGMiddle.jpg": "middle", "mid.jpg": "middle",
		"rear left rear left.jpg": "rear-left", "middle_centre.jpg": "middle",
	}
	s := stations(t)
	for file, want := range cases {
		for _, form := range []string{file, norm.NFD.String(file)} {
			got, reason := s.ByName(form)
			assert.Equal(t, want, got, "%s: %s", form, reason)
		}
	}
}

func TestAStationIsNeverGuessed(t *testing.T) {
	s := stations(t)
	for _, file := range []string{
		"IMG_0042.jpg", "left.jpg", "rear.jpg", "front rear left.jpg", "rear-left front-right.jpg",
		"left right.jpg", "middle left.jpg", "rear-left before front.jpg", "bright.jpg", "leftover.jpg", "frontier left.jpg",
		"LR.jpg", "BL.jpg", "TL.jpg", "top left.jpg", "lower right.jpg", "M.jpg", "job FR.jpg", "rl fr.jpg",
		"rear view, mirror left.jpg", "rear light.jpg", ".jpg", "2026-09-02.jpg", "tyre-left.jpg", "mid rear.jpg",
	} {
		got, reason := s.ByName(file)
		assert.Empty(t, got, file)
		assert.Contains(t, reason, "--assign STATION=", file)
	}
}

func TestTheReasonSaysWhatWasReadAndWhatToRun(t *testing.T) {
	s := stations(t)
	_, reason := s.ByName("IMG_0042.jpg")
	assert.Equal(t, "its name holds no station: rename it, or give --assign STATION=IMG_0042.jpg", reason)
	_, reason = s.ByName("left side.jpg")
	assert.Equal(t, `its name says "left", which is not the name of one station: rename it, or give --assign STATION="left side.jpg"`, reason)
}

func TestStationsOfOnesOwnAreMatchedTheSameWay(t *testing.T) {
	cases := []struct {
		expected   []string
		file, want string
	}{
		{[]string{"north-west", "SE"}, "NorthWest (3).jpg", "north-west"},
		{[]string{"north-west", "SE"}, "northwest.jpg", ""}, // no list of words says where to cut
		{[]string{"northwest"}, "North West 2.jpg", "northwest"},
		{[]string{"p1", "p2"}, "P 1.jpg", "p1"},
		{[]string{"p1", "p2"}, "p1 (2).jpg", "p1"},
		{[]string{"p1", "p2"}, "p1-2.jpg", ""}, // both
		{[]string{"p1", "p2"}, "p1_077.jpg", "p1"},
		{[]string{"p1", "p2"}, "p10.jpg", ""},
		{[]string{"p1", "p2"}, "p02.jpg", ""},
		{[]string{"inlet", "mirror-2"}, "IMG_0042 inlet.jpg", "inlet"},
		{[]string{"1-2", "2-1"}, "2-1.jpg", "2-1"},
		{[]string{"RL", "FR"}, "rear-left.jpg", "RL"},
		{[]string{"RL", "FR"}, "RL.jpg", "RL"},
		{[]string{"left", "rear-left"}, "left.jpg", "left"},
		{[]string{"left", "rear-left"}, "rear left.jpg", "rear-left"},
		{[]string{"left", "right"}, "rear left.jpg", "rear-left"}, // known, though not expected
		{[]string{"middle"}, "front right.jpg", "front-right"},
		{[]string{"nozzle"}, "rear nozzle.jpg", ""},
	}
	for _, c := range cases {
		got, reason := stations(t, c.expected...).ByName(c.file)
		assert.Equal(t, c.want, got, "%v %s: %s", c.expected, c.file, reason)
	}
}

func TestStationsThatReadAlikeAreRefused(t *testing.T) {
	for _, list := range [][]string{{"rear-left", "Left Rear"}, {"a", "A"}, {"middle", "centre"}, {"RL", "rear-left"}, {"a", " - "}, {""}} {
		_, err := NewStations(list...)
		assert.Error(t, err, "%v", list)
	}
}

func TestAssignTakesAnySpelling(t *testing.T) {
	s := stations(t, "rear-left", "P1")
	for spelling, want := range map[string]string{"rear-left": "rear-left", "Rear Left": "rear-left", "RL": "rear-left", "p1": "P1", "centre": "middle"} {
		got, ok := s.Named(spelling)
		assert.True(t, ok, spelling)
		assert.Equal(t, want, got)
	}
	_, ok := s.Named("rear-lft")
	assert.False(t, ok)
}

// The fixture's truth.json says which station each photo was made for.
func TestTheRoundOfTheFixturesIsSorted(t *testing.T) {
	data, err := os.ReadFile("../../fixtures/survey/truth.json")
	require.NoError(t, err)
	var truth struct {
		Photos []struct {
			Photo   string
			Station string
		}
	}
	require.NoError(t, json.Unmarshal(data, &truth))
	require.NotEmpty(t, truth.Photos)
	for _, p := range truth.Photos {
		got, _ := stations(t).ByName(p.Photo)
		assert.Equal(t, p.Station, got, p.Photo)
	}
}

func FuzzByName(f *testing.F) {
	for _, name := range []string{"Rear Left (2).JPG", "IMG_1234 RL.jpg", "ｒｅａｒ left.heic", "", "\xff.jpg", "(2).jpg", "a/b/left rear.png"} {
		f.Add(name, "rear-left,p1,é")
	}
	f.Fuzz(func(t *testing.T, file, expected string) {
		if len(expected) > 60 || len(file) > 255 { // what a command line and a file system would pass
			return
		}
		s, err := NewStations(strings.Split(expected, ",")...)
		if err != nil {
			return
		}
		name, reason := s.ByName(file)
		again, _ := s.ByName(file)
		require.Equal(t, name, again)
		require.NotEqual(t, name == "", reason == "")
		if name != "" {
			require.Contains(t, s.Known(), name)
		}
		for _, one := range s.Expected() { // a station's own name names it
			if utf8.ValidString(one) && !strings.ContainsAny(one, "./()") {
				found, ok := s.Named(one)
				require.True(t, ok)
				require.Equal(t, one, found)
			}
		}
	})
}
