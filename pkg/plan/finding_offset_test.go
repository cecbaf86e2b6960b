package plan

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/machine"
	"burngauge.dev/burngauge/pkg/rehearsal"
	"burngauge.dev/burngauge/pkg/report"
)

// misplaced is the starter with one part somewhere else than its profile says.
type misplaced struct {
	part string
	by   machine.Vec
}

// move moves a part: the tube, a mirror's mount by its name, or the head.
func (a misplaced) move(p machine.Profile) machine.Profile {
	p.Mirrors = slices.Clone(p.Mirrors)
	at := &p.Source.AtMM
	switch {
	case a.part == "head":
		at = &p.Target.AtMM
	case a.part != "tube":
		at = &p.Mirrors[p.Mirror(a.part)].AtMM
	}
	*at = at.Add(a.by)
	return p
}

// surveyed are the spots of a machine that is so, on the simulated machine.
func surveyed(p machine.Profile) *rehearsal.Bench {
	return rehearsal.Assemble(p, 1, rehearsal.NoFaults(p))
}

var lengthAndWay = regexp.MustCompile(`(\d+\.\d+) mm (to the left|to the right|to the front|to the rear|down|up|left|right)`)

// moves reads one way out of a finding, by part. On the head left and right are the
// target's: with the starter right is the front.
func moves(t *testing.T, way string) (list []misplaced) {
	t.Helper()
	axes := map[string]machine.Vec{
		"to the left": {-1, 0, 0}, "to the right": {1, 0, 0}, "to the front": {0, -1, 0}, "to the rear": {0, 1, 0}, "down": {0, 0, -1}, "up": {0, 0, 1},
		"left": {0, 1, 0}, "right": {0, -1, 0},
	}
	part := ""
	for _, words := range strings.Split(way, " and ") {
		for _, name := range []string{"the tube", "mirror 1", "mirror 2", "mirror 3", "the head"} {
			if strings.Contains(words, name) {
				part = strings.TrimPrefix(strings.TrimPrefix(name, "the "), "mirror ")
			}
		}
		found := lengthAndWay.FindStringSubmatch(words)
		require.NotNil(t, found, way)
		mm, err := strconv.ParseFloat(found[1], 64)
		require.NoError(t, err)
		list = append(list, misplaced{part, axes[found[2]].Times(mm)})
	}
	return list
}

// A part that sits elsewhere than it should shifts all spots alike. The finding says how
// far to move what, and each of the ways it names, done on the simulated machine, brings
// every spot to the centre. By hand for the starter: a tube too high comes out at the
// target's left, one too far to the rear below, and a first mirror too high does the
// tube's opposite.
func TestAConstantOffsetSaysWhatToMoveHowFarAndWhichWay(t *testing.T) {
	for _, c := range []struct {
		misplaced
		lies, way string
	}{
		{misplaced{"tube", machine.Vec{0, 0, 3}}, "3.00 mm left", "the tube 3.00 mm down"},
		{misplaced{"tube", machine.Vec{0, 3, 0}}, "3.00 mm down", "the tube 3.00 mm to the front"},
		{misplaced{"tube", machine.Vec{0, -5, 5}}, "5.00 mm left and 5.00 mm up", "the tube 5.00 mm to the rear and 5.00 mm down"},
		{misplaced{"2", machine.Vec{0, 0, 3}}, "3.00 mm up", "mirror 2 with its mount 3.00 mm down"},
		{misplaced{"3", machine.Vec{3, 0, 0}}, "3.00 mm left", "mirror 3 with its mount 3.00 mm to the front"},
		{misplaced{"1", machine.Vec{0, 0, 3}}, "3.00 mm right", "mirror 3 with its mount 3.00 mm to the rear"},
		{misplaced{"head", machine.Vec{0, 0, -4}}, "4.00 mm up", "the head with the target in it 4.00 mm up"},
	} {
		t.Run(fmt.Sprint(c.part, c.by), func(t *testing.T) {
			broken := c.move(machine.Default())
			p := made(t, Request{Report: exactly(surveyed(broken))})
			f := finding(t, p, "constant-offset")
			assert.Contains(t, f.Text, "an offset of "+c.lies+" in common")
			assert.Contains(t, f.Text, c.way)
			_, list, found := strings.Cut(f.Text, "new plan: ")
			require.True(t, found)
			ways := strings.Split(strings.TrimSuffix(list, "."), "; or ")
			require.Len(t, ways, 3, "tube, mirrors, head")
			for _, way := range ways {
				mended := broken
				for _, m := range moves(t, way) {
					mended = m.move(mended)
				}
				assert.Less(t, farthest(surveyed(mended)), 0.02, way)
			}
		})
	}
}

// What turning a mirror's screws takes away asks for no move; nor does the next step by
// hand, which leaves other mirrors for later.
func TestWhatScrewsCureIsNoConstantOffset(t *testing.T) {
	faults := rehearsal.NoFaults(machine.Default())
	faults.Mirrors[0].TiltDeg = [2]float64{0.12, -0.15}
	faults.Mirrors[2].TiltDeg = [2]float64{-0.1, 0.1}
	r := read(rehearsal.Assemble(machine.Default(), 1, faults))
	for _, style := range []string{StyleWhole, StyleWalk} {
		p := made(t, Request{Report: r, Style: style})
		assert.Equal(t, StatusTurn, p.Status)
		assert.NotContains(t, codes(p), "constant-offset", style)
	}
}

// exactly is a survey without a reading's noise.
func exactly(b *rehearsal.Bench) (r *report.Report) {
	spot := b.Spots()
	r = spots(func(x, y float64) (float64, float64) { return math.NaN(), math.NaN() })
	for i := range r.Stations {
		r.Stations[i].Burn = mark(spot[i].RightMM, spot[i].UpMM)
	}
	return r
}
