package rehearsal

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"

	"burngauge.dev/burngauge/pkg/machine"
)

// SchemaBench names the format of a bench's state.
const SchemaBench = "rehearse.bench/1"

// maxStateBytes bounds a state that is read: thousands of turns fit.
const maxStateBytes = 16 << 20

// Fire is one round of test fires.
type Fire struct {
	Round    int      `json:"round"`    // from 1; it rises when screws were turned in between
	Turns    int      `json:"turns"`    // how many single turns had been made
	Stations []string `json:"stations"` // fired at, in the profile's order
}

// Round is the number that firing now belongs to: one fire-measure-turn pass.
func (b *Bench) Round() int {
	if len(b.fires) == 0 {
		return 1
	}
	last := b.fires[len(b.fires)-1]
	if last.Turns < len(b.turns) {
		return last.Round + 1
	}
	return last.Round
}

// NoteFire keeps that the stations were fired at. Photos do not depend on it.
func (b *Bench) NoteFire(stations []string) {
	b.fires = append(b.fires, Fire{Round: b.Round(), Turns: len(b.turns), Stations: slices.Clone(stations)})
}

// Fires are all fires so far, in order.
func (b *Bench) Fires() []Fire { return slices.Clone(b.fires) }

// stateFile is the bench as it is kept. Where the screws stand follows from the turns.
type stateFile struct {
	Schema  string `json:"schema"`
	About   string `json:"about"`
	Seed    uint64 `json:"seed"`
	Level   Level  `json:"level"`
	Machine string `json:"machine"` // the profile's YAML
	Hidden  Faults `json:"hidden"`
	Turns   []Turn `json:"turns"`
	Fires   []Fire `json:"fires"`
}

const aboutState = "a simulated machine, written by rehearse; what is hidden stands here: do not read on if you are the one to align it"

// Save writes the bench's state as JSON. profile is the YAML that b.Profile was read from.
func (b *Bench) Save(w io.Writer, profile []byte) error {
	text, err := json.MarshalIndent(stateFile{SchemaBench, aboutState, b.Seed, b.Level, string(profile), b.Hidden, b.turns, b.fires}, "", "  ")
	if err != nil {
		return fmt.Errorf("encode the bench: %w", err)
	}
	_, err = w.Write(append(text, '\n'))
	return err
}

// Restore reads what Save wrote, and the profile's YAML.
func Restore(r io.Reader) (*Bench, []byte, error) {
	data, err := io.ReadAll(io.LimitReader(r, maxStateBytes+1))
	if err != nil {
		return nil, nil, fmt.Errorf("read the bench: %w", err)
	}
	if len(data) > maxStateBytes {
		return nil, nil, fmt.Errorf("over %d MB: this is not a bench", maxStateBytes>>20)
	}
	var f stateFile
	if err := json.Unmarshal(data, &f); err != nil {
		return nil, nil, fmt.Errorf("this is not a bench: %w", err)
	}
	if f.Schema != SchemaBench {
		return nil, nil, fmt.Errorf("schema %q is not %s: the bench was written by another version", f.Schema, SchemaBench)
	}
	b, err := f.bench()
	return b, []byte(f.Machine), err
}

// bench builds the bench and turns its screws as they were turned.
func (f stateFile) bench() (*Bench, error) {
	p, err := machine.Parse("machine.yaml", []byte(f.Machine))
	if err != nil {
		return nil, err
	}
	if err := f.Hidden.fit(p); err != nil {
		return nil, err
	}
	if _, err := ParseLevel(string(f.Level)); err != nil {
		return nil, err
	}
	b := Assemble(p, f.Seed, f.Hidden)
	b.Level = f.Level
	if err := b.TurnAll(f.Turns); err != nil {
		return nil, fmt.Errorf("the turns that were made cannot be made again: %w", err)
	}
	for _, fire := range f.Fires {
		if fire.Turns < 0 || fire.Turns > len(f.Turns) {
			return nil, fmt.Errorf("fire after %d turns, of %d", fire.Turns, len(f.Turns))
		}
	}
	b.fires = f.Fires
	return b, nil
}

// Bounds of what a state may hide: beyond them a beam cannot be followed, and nothing that
// NewBench draws comes near.
const (
	longestLeg   = 10 // times the profile's
	steepestTilt = 45 // degrees
	thickestTape = 5  // mm: no spec of a target has more
)

// fit checks that the faults belong to the profile and are numbers that a ray can be traced with.
func (f Faults) fit(p machine.Profile) error {
	if len(f.Mirrors) != len(p.Mirrors) || len(f.Legs) != len(p.Mirrors)+1 {
		return fmt.Errorf("the bench hides faults of %d mirrors and %d legs, its machine has %d mirrors", len(f.Mirrors), len(f.Legs), len(p.Mirrors))
	}
	for i, leg := range f.Legs {
		if !(leg > 0 && leg < longestLeg) {
			return fmt.Errorf("the bench hides a leg %d that is %g times as long as it should be", i+1, leg)
		}
	}
	if !(f.TapeMM >= 0 && f.TapeMM <= thickestTape) {
		return fmt.Errorf("the bench hides tape %g mm high", f.TapeMM)
	}
	if f.PointerScrews != nil && p.Pointer == nil {
		return errors.New("the bench hides faults of a pointer's screws, its machine has none")
	}
	if f.PointerScrews != nil && !f.PointerScrews.possible() {
		return errors.New("the bench hides an impossible screw at the pointer")
	}
	for i, m := range f.Mirrors {
		if !m.possible() {
			return fmt.Errorf("the bench hides an impossible screw at mirror %d", i+1)
		}
		if math.Hypot(m.TiltDeg[0], m.TiltDeg[1]) > steepestTilt {
			return fmt.Errorf("the bench hides a mirror %d that is tilted out of its mount", i+1)
		}
	}
	return nil
}

// possible reports screws that a plate can be moved with.
func (f ScrewFaults) possible() bool {
	for j := range 3 {
		if !(f.Gain[j] > 0 && f.BacklashTurns[j] >= 0 && f.Lean[j] >= 0 && f.Lean[j] <= 1) {
			return false
		}
	}
	return true
}
