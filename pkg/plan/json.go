package plan

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
)

// maxBytes bounds a plan's file: a full one is a few KB.
const maxBytes = 4 << 20

// mostTurns bounds one turn of a plan that is read: beyond any screw's travel.
const mostTurns = 1000

// Encode writes the plan as JSON. Lists without entries are written as such, not
// as null.
func (p *Plan) Encode(w io.Writer) error {
	out := *p
	out.FireNext, out.Turns, out.Predicted = notNull(p.FireNext), notNull(p.Turns), notNull(p.Predicted)
	out.Findings, out.Cautions = notNull(p.Findings), notNull(p.Cautions)
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	if err := e.Encode(out); err != nil {
		return fmt.Errorf("writing the plan: %w", err)
	}
	return nil
}

func notNull[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}

// Decode reads a plan. Keys that this program does not know are passed over; a
// turn whose direction is not that of its sign is refused, since a person may have
// followed either, and so is a file over maxBytes. Errors are one line and say what to do.
func Decode(r io.Reader) (*Plan, error) {
	data, err := io.ReadAll(io.LimitReader(r, maxBytes+1))
	if err != nil {
		return nil, fmt.Errorf("reading the plan: %w", err)
	}
	if len(data) > maxBytes {
		return nil, fmt.Errorf("over %d MB: this is not a plan", maxBytes>>20)
	}
	p := new(Plan)
	if err := json.Unmarshal(data, p); err != nil {
		return nil, fmt.Errorf("not the JSON that mirrorplan plan -o writes (%w): give such a file", err)
	}
	if err := p.check(); err != nil {
		return nil, err
	}
	return p, nil
}

// check wants what a past round is learnt from.
func (p *Plan) check() error {
	// "/1.2" is read as "/1".
	if p.Schema != SchemaPlan && !strings.HasPrefix(p.Schema, SchemaPlan+".") {
		return fmt.Errorf("the schema is %q, not %q: give a file from mirrorplan plan -o", p.Schema, SchemaPlan)
	}
	if !isStatus(p.Status) {
		return fmt.Errorf("the status is %q, which no plan has: give a file from mirrorplan plan -o", p.Status)
	}
	for i, t := range p.Turns {
		if err := t.check(); err != nil {
			return fmt.Errorf("turns[%d]: %w", i, err)
		}
	}
	return nil
}

func (t Turn) check() error {
	switch {
	case t.Mirror == "" || t.Screw == "":
		return errors.New("it names no mirror and screw")
	case !(math.Abs(t.Turns) <= mostTurns):
		return fmt.Errorf("%g turns are beyond any screw", t.Turns)
	case t.Turns > 0 && t.Direction == Anticlockwise || t.Turns < 0 && t.Direction == Clockwise:
		return fmt.Errorf("%g turns are not %s: clockwise is positive", t.Turns, t.Direction)
	}
	return nil
}
