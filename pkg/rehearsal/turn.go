package rehearsal

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"burngauge.dev/burngauge/pkg/machine"
)

// Turn is one turn of one screw; positive is clockwise seen from its head.
type Turn struct {
	Mirror string  `json:"mirror"` // as the profile names it, or pointer for the red pointer's mount
	Screw  string  `json:"screw"`  // A, B or C
	Turns  float64 `json:"turns"`
}

// Mount is what three screws hold: a mirror, or the plate of the red pointer.
type Mount struct {
	Name   string // the mirror's, or PointerMount
	Screws machine.Screws
}

// PointerMount is the name of the red pointer's mount where others are called
// after their mirror.
const PointerMount = "pointer"

// Label is how people call the mount: "mirror 1", "pointer".
func (m Mount) Label() string {
	if m.Name == PointerMount {
		return m.Name
	}
	return "mirror " + m.Name
}

// mountsOf lists the mirrors' in the order of the beam and, last, the pointer's
// when the profile has one.
func mountsOf(p machine.Profile) (list []Mount) {
	for _, m := range p.Mirrors {
		list = append(list, Mount{m.Name, m.Screws})
	}
	if p.Pointer != nil {
		list = append(list, Mount{PointerMount, p.Pointer.Screws})
	}
	return list
}

// Mounts are all mounts whose screws can be turned: the mirrors' in the order of
// the beam and, when the profile has one, the red pointer's.
func (b *Bench) Mounts() []Mount { return slices.Clone(b.mounts) }

// TurnError says why a screw cannot be turned so. Nothing was turned.
type TurnError struct{ Text string }

// Error is one line, lower case.
func (e *TurnError) Error() string { return e.Text }

func turnErrorf(format string, args ...any) error { return &TurnError{fmt.Sprintf(format, args...)} }

// play is a screw with backlash: the plate follows the screw only when the
// screw has crossed the gap. This is the play operator of hysteresis (M. A. Krasnosel'skii,
// A. V. Pokrovskii, "Systems with Hysteresis", Springer 1989 [from memory]): each turn of
// the screw to s leaves the plate at
//
//	min(max(plate, s - gap), s).
//
// What it does depends on the order of the turns and not on their sum alone: up by t and
// back by t leaves the plate where it was only when t is below the gap.
type play struct {
	set   float64 // where the screw is, turns from the start
	plate float64 // where the plate is, in turns; set-gap <= plate <= set
	gap   float64
	start float64 // where the plate was at the start
}

// newPlay rests in its gap at the lean, 0 to 1: 1 was last turned clockwise, and
// the plate lies a gap behind the screw.
func newPlay(gap, lean float64) play {
	at := -gap * lean
	return play{plate: at, gap: gap, start: at}
}

func (p *play) turn(turns float64) {
	p.set += turns
	p.plate = min(max(p.plate, p.set-p.gap), p.set)
}

// moved is how far the plate has followed, in turns, from where it was at the start: the
// profile's nominal plane is that of the plate at the start, wherever in its gap it rested.
func (p play) moved() float64 { return p.plate - p.start }

// Turn turns one screw by so many turns.
func (b *Bench) Turn(mirror, screw string, turns float64) error {
	return b.TurnAll([]Turn{{mirror, screw, turns}})
}

// TurnAll turns screws one after the other, all of them or, when one cannot be,
// none. Errors are *TurnError.
func (b *Bench) TurnAll(list []Turn) error {
	trial, list := slices.Clone(b.screws), slices.Clone(list)
	for i, t := range list {
		m, s, err := b.find(t)
		if err != nil {
			return err
		}
		if err := b.allowed(t, trial[m][s].set); err != nil {
			return err
		}
		list[i].Mirror, list[i].Screw = b.mounts[m].Name, machine.ScrewNames[s]
		trial[m][s].turn(t.Turns)
	}
	b.screws = trial
	b.turns = append(b.turns, list...)
	return nil
}

// find says which screw is meant. A mirror "mirror 1" is the mirror "1".
func (b *Bench) find(t Turn) (mount, screw int, err error) {
	called := func(name string) int {
		return slices.IndexFunc(b.mounts, func(m Mount) bool { return m.Name == name })
	}
	mount = called(t.Mirror)
	if mount < 0 {
		mount = called(strings.TrimSpace(strings.TrimPrefix(t.Mirror, "mirror")))
	}
	if mount < 0 && strings.HasSuffix(t.Mirror, PointerMount) {
		return 0, 0, turnErrorf("the red pointer has no screws here: the machine's profile has no part pointer")
	}
	if mount < 0 {
		names := make([]string, len(b.mounts))
		for i, m := range b.mounts {
			names[i] = m.Name
		}
		return 0, 0, turnErrorf("there is no mirror %q: the machine has %s", t.Mirror, strings.Join(names, ", "))
	}
	screw = slices.Index(machine.ScrewNames[:], strings.ToUpper(t.Screw))
	if screw < 0 {
		return 0, 0, turnErrorf("there is no screw %q: a mount has A, B, C", t.Screw)
	}
	return mount, screw, nil
}

// travelSlack forgives the rounding of many small turns that end at the stop.
const travelSlack = 1e-9

// allowed checks one turn against the screw's travel; set is where it is.
func (b *Bench) allowed(t Turn, set float64) error {
	if math.IsNaN(t.Turns) || math.IsInf(t.Turns, 0) {
		return turnErrorf("%g is not a number of turns", t.Turns)
	}
	m, s, _ := b.find(t)
	mount := b.mounts[m]
	travel := mount.Screws.TravelTurns
	if math.Abs(set+t.Turns) <= travel+travelSlack {
		return nil
	}
	way, left := "clockwise", travel-set
	if t.Turns < 0 {
		way, left = "anticlockwise", travel+set
	}
	return turnErrorf("%s, screw %s has %.4g turns left %s, not %.4g: its travel is %g turns either way from the start, and it stands at %+.4g",
		mount.Label(), machine.ScrewNames[s], max(left, 0), way, math.Abs(t.Turns), travel, set)
}

// ParseScrew reads a screw's name as "mirror 1/A", "1/A" or "pointer/A".
func ParseScrew(name string) (mirror, screw string, err error) {
	i := strings.LastIndex(name, "/")
	if i < 0 {
		return "", "", turnErrorf(`%q names no screw: write mirror and screw, like "mirror 1/A"`, name)
	}
	return strings.TrimSpace(name[:i]), strings.TrimSpace(name[i+1:]), nil
}

// Turned is where a screw of one of Mounts stands, counted in turns from the start
// of the rehearsal.
func (b *Bench) Turned(mount, screw int) float64 { return b.screws[mount][screw].set }

// Turns are all turns so far, in order.
func (b *Bench) Turns() []Turn { return slices.Clone(b.turns) }
