package machine

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// sound is a whole profile without a fault; the cases below change one thing.
const sound = `name: small
source: {at_mm: [700, 620, 40], direction: [-2, 0, 0]}
mirrors:
  - {name: "1", rides: frame, at_mm: [-40, 620, 40], normal: [1, 0, 1], up: [-1, 0, 1], clear_mm: 20, screws: &plate
      {A: {at_mm: [-18, 18]}, B: {at_mm: [18, 18]}, C: {at_mm: [-18, -18]}, pitch_mm: 0.5, clockwise: backward, travel_turns: 3, smallest_turn: 0.03125}}
  - {name: "2", rides: gantry, at_mm: [-40, 0, 120], normal: [3, 3, 0], up: [1, 0, 5], clear_mm: 20, screws: *plate}
target: {rides: head, at_mm: [0, 0, 120], normal: [-1, 0, 0], up: [0, 0, 1]}
stations: {far-end: [60, 560], middle: [450, 300]}
rehearsal: {twist_mm: 0, gains_percent: 5}
`

func with(old, new string) string {
	if !strings.Contains(sound, old) {
		panic("not in the sound profile: " + old)
	}
	return strings.Replace(sound, old, new, 1)
}

// faults are profiles that must be refused: the place that the message must
// start with and what it must say.
var faults = []struct{ yaml, place, says string }{
	{"", "name: ", "missing"},
	{"\xff\xfe", "", "UTF-8"},
	{"- 1", "1:1: ", "a profile is a list of keys"},
	{strings.Repeat("#", 70000), "", "over 64 KB"},
	{with("name: small\n", ""), "name: ", "missing"},
	{with("name: small", "name: [1]"), "1:7: name: ", "a word"},
	{with("name: small", "title: small"), "1:1: title: ", "no such key"},
	{with("name: small", `name: "a\tb"`), "1:7: name: ", "cannot be printed"},
	{with("[700, 620, 40]", "[700, 620]"), "2:17: source.at_mm: ", "[x, y, z]"},
	{with("[700, 620, 40]", "[700, .nan, 40]"), "2:17: source.at_mm: ", "NaN"},
	{with("[700, 620, 40]", "[700, .inf, 40]"), "2:17: source.at_mm: ", "+Inf"},
	{with("[700, 620, 40]", "[700, wide, 40]"), "2:23: source.at_mm[1]: ", "plain number"},
	{with("[700, 620, 40]", "700"), "2:17: source.at_mm: ", "list of numbers"},
	{with("[-2, 0, 0]", "[0, 0, 0]"), "2:44: source.direction: ", "points nowhere"},
	{with(", direction: [-2, 0, 0]", ""), "source.direction: ", "[x, y, z]"},
	{with("rides: frame", "rides: bed"), "mirrors[0].rides: ", `"bed": write frame`},
	{with("normal: [3, 3, 0]", "normal: [0, 0, 0]"), "mirrors[1].normal: ", "points nowhere"},
	{with("up: [1, 0, 5]", "up: [1, 1, 0]"), "mirrors[1].up: ", "along the normal"},
	{with("clear_mm: 20, screws: *plate", "clear_mm: -1, screws: *plate"), "mirrors[1].clear_mm: ", "not above 0"},
	{with("clear_mm: 20, screws: *plate", "clear_mm: .nan, screws: *plate"), "mirrors[1].clear_mm: ", "NaN is not above 0"},
	{with(`name: "2"`, `name: "1"`), "mirrors: ", `called "1"`},
	{with(`name: "2"`, `name: pointer`) + "pointer: {at_mm: [600, 620, 40], normal: [-1, 0, 1], up: [1, 0, 1], screws: *plate}\n", "mirrors: ", `called "pointer"`},
	{with(`name: "2", `, ""), "mirrors[1].name: ", "missing"},
	{with("B: {at_mm: [18, 18]}", "B: {at_mm: [-18, 2]}"), "mirrors[0].screws: ", "in a line"},
	{with("B: {at_mm: [18, 18]}", "B: {at_mm: [-18, 18]}"), "mirrors[0].screws: ", "in a line"},
	{with("B: {at_mm: [18, 18]}, ", ""), "mirrors[0].screws.B.at_mm: ", "[right, up]"},
	{with("B: {at_mm: [18, 18]}", "B: 3"), "mirrors[0].screws.B: ", "where the screw is"},
	{with("at_mm: [18, 18]", "at_mm: [18, 18], gain: 0"), "mirrors[0].screws.B.gain: ", "not from 0.2 to 5"},
	{with("at_mm: [18, 18]", "at_mm: [18, 18], gain: .nan"), "mirrors[0].screws.B.gain: ", "NaN"},
	{with("at_mm: [18, 18]", "at_mm: [18, 18], gain_u: 0.1"), "mirrors[0].screws.B.gain_u: ", "give both"},
	{with("at_mm: [18, 18]", "at_mm: [18, 18], gain: 1, gain_u: -1"), "mirrors[0].screws.B.gain_u: ", "not above 0"},
	{with("pitch_mm: 0.5", "pitch_mm: 0"), "mirrors[0].screws.pitch_mm: ", "not above 0"},
	{with("clockwise: backward", "clockwise: left"), "mirrors[0].screws.clockwise: ", `"left": write forward`},
	{with("travel_turns: 3", "travel_turns: 1e9"), "mirrors[0].screws.travel_turns: ", "up to 100"},
	{with("smallest_turn: 0.03125", "smallest_turn: 2"), "mirrors[0].screws.smallest_turn: ", "finest turn"},
	{with("screws: *plate", "screws: *mount"), "", `could not find alias "mount"`},
	{with("screws: *plate", "screws: 3"), "mirrors[1].screws: ", "keys with their values"},
	{with("mirrors:", "mirror:"), "3:1: mirror: ", "no such key"},
	{"name: a\nsource: {at_mm: [0, 0, 0], direction: [1, 0, 0]}\n", "mirrors: ", "missing"},
	{with("far-end: [60, 560]", "far-end: [60]"), "stations.far-end: ", "[x, y]"},
	{with("far-end: [60, 560]", "far-end: [60, .nan]"), "stations.far-end: ", "NaN"},
	{with("far-end: [60, 560]", "../up: [60, 560]"), "stations: ", "lower case"},
	{with("far-end: [60, 560]", "middle: [60, 560]"), "", "already defined"},
	{with("{far-end: [60, 560], middle: [450, 300]}", "{}"), "stations: ", "missing"},
	{with("twist_mm: 0", "twist_mm: -1"), "rehearsal.twist_mm: ", "not from 0"},
	{with("twist_mm: 0", "twist_mm: .nan"), "rehearsal.twist_mm: ", "NaN"},
	{with("twist_mm", "bend_mm"), "bend_mm: ", "no such key"},
	{with("name: small", "name: !!str small"), "1:7: ", "tags"},
	{sound + "---\n" + sound, "", "only one machine profile to a file"},
	{with("[3, 3, 0]", strings.Repeat("[", 20)), "", "nested too deep"},
	{"name: &n {a: *n}", "", "within an anchored value"},
	{"name: &n a\nmirrors: [" + strings.Repeat("*n, ", 65) + "*n]", "", "at most 64"},
}

func TestAFaultIsNamedWithItsPlaceAndKey(t *testing.T) {
	for _, c := range faults {
		_, err := Parse("mine.yaml", []byte(c.yaml))
		var fault *ProfileError
		require.True(t, errors.As(err, &fault), "%q gave %v", c.yaml, err)
		text := err.Error()
		require.True(t, strings.HasPrefix(text, "machine profile mine.yaml: "), text)
		assert.Contains(t, text, c.place)
		assert.Contains(t, text, c.says)
		assert.NotContains(t, text, "\n")
	}
}

func TestParseNormalisesAndKeepsTheOrder(t *testing.T) {
	p, err := Parse("mine.yaml", []byte(sound))
	require.NoError(t, err)
	const tol = 1e-12
	assert.Equal(t, Vec{-1, 0, 0}, p.Source.Direction)
	second := p.Mirrors[1]
	assert.InDelta(t, math.Sqrt(0.5), second.Normal[0], tol)
	assert.InDelta(t, 1, second.Up.Norm(), tol)
	assert.InDelta(t, 0, second.Up.Dot(second.Normal), tol)
	// By hand: (1,0,5) less its part along (1,1,0)/√2 is (1/2,-1/2,5), of length √25.5.
	assert.InDelta(t, 0.5/math.Sqrt(25.5), second.Up[0], tol)
	assert.InDelta(t, 5/math.Sqrt(25.5), second.Up[2], tol)
	assert.Equal(t, p.Mirrors[0].Screws, second.Screws, "an alias stands for the same screws")
	assert.False(t, second.Screws.Forward)
	assert.Equal(t, -0.5, second.Screws.Advance())
	assert.Equal(t, []Station{{"far-end", 60, 560}, {"middle", 450, 300}}, p.Stations)
	require.NotNil(t, p.Faults.TwistMM)
	assert.Zero(t, *p.Faults.TwistMM)
	assert.Nil(t, p.Faults.LengthsPercent)
}

// The frames as the format defines them, worked by hand for the starter profile.
func TestFramesOfTheStarterProfile(t *testing.T) {
	p := Default()
	require.Len(t, p.Mirrors, 3)
	require.Len(t, p.Stations, 5)
	const tol = 1e-12
	near := func(want, got Vec) { assert.InDelta(t, 0, want.Sub(got).Norm(), tol) }
	h := math.Sqrt(0.5)
	// Mirror 3 faces right and rear, its back is seen looking that way: right is right and front.
	near(Vec{h, -h, 0}, p.Mirrors[2].Right())
	// Mirror 1 faces right and up, its up is left and up: from behind, right is the front.
	near(Vec{0, -1, 0}, p.Mirrors[0].Right())
	// The target is faced looking to the right: right is the front.
	near(Vec{0, -1, 0}, p.Target.Right())
	rear, ok := p.Station("rear-right")
	require.True(t, ok)
	near(Vec{-40, 560, 120}, rear.At(p.Mirrors[2].Rides, p.Mirrors[2].AtMM))
	near(Vec{840, 560, 120}, rear.At(p.Target.Rides, p.Target.AtMM))
	near(p.Mirrors[0].AtMM, rear.At(p.Mirrors[0].Rides, p.Mirrors[0].AtMM))
	assert.Equal(t, 1, p.Mirror("2"))
	assert.Equal(t, -1, p.Mirror("4"))
}

// The law of reflection, the angles of incidence and reflection equal and in one plane,
// turns the part of d along the normal n round and leaves the rest: r = d - 2(d·n)n. It
// takes the starter's beam from the middle of each mirror to the next.
func TestStarterMirrorsHandTheBeamOn(t *testing.T) {
	p := Default()
	for _, station := range p.Stations {
		at, d := p.Source.AtMM, p.Source.Direction
		for _, m := range p.Mirrors {
			here := station.At(m.Rides, m.AtMM)
			assert.InDelta(t, 0, here.Sub(at).Cross(d).Norm(), 1e-9, "mirror %s, %s", m.Name, station.Name)
			assert.Negative(t, d.Dot(m.Normal), "the beam meets the reflecting side of mirror %s", m.Name)
			at, d = here, d.Sub(m.Normal.Times(2*d.Dot(m.Normal)))
		}
		end := station.At(p.Target.Rides, p.Target.AtMM)
		assert.InDelta(t, 0, end.Sub(at).Cross(d).Norm(), 1e-9)
	}
}

func TestLoadNamesAFileThatIsNotThere(t *testing.T) {
	_, _, err := Load("nowhere.yaml")
	assert.EqualError(t, err, `machine profile "nowhere.yaml": there is no such file`)
	_, _, err = Load(t.TempDir())
	assert.ErrorContains(t, err, "this is a folder")
}

// FuzzParse: no input may panic, every error is a ProfileError of one line, and
// a profile that passes obeys the rules that others build on.
func FuzzParse(f *testing.F) {
	f.Add([]byte(sound))
	f.Add(StarterYAML())
	for _, c := range faults {
		f.Add([]byte(c.yaml))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := Parse("fuzz.yaml", data)
		if err != nil {
			var fault *ProfileError
			require.True(t, errors.As(err, &fault))
			require.NotContains(t, err.Error(), "\n")
			return
		}
		require.NotEmpty(t, p.Stations)
		_, err = Parse("again.yaml", p.YAML())
		require.NoError(t, err, "what is written reads back")
		p.Check() // whatever the geometry, it answers and does not panic
		for _, m := range p.Mirrors {
			require.InDelta(t, 1, m.Normal.Norm(), 1e-9)
			require.InDelta(t, 1, m.Up.Norm(), 1e-9)
			require.InDelta(t, 0, m.Up.Dot(m.Normal), 1e-9)
			require.InDelta(t, 1, m.Right().Norm(), 1e-9)
			require.True(t, m.ClearMM > 0 && m.Screws.PitchMM > 0 && m.Screws.TravelTurns > 0)
		}
	})
}
