package ring

import (
	"fmt"
)

// Code names why there is no fit.
type Code string

// The refusals that finding the target can end in.
const (
	NoTarget     Code = "no-target"
	CutOff       Code = "cut-off"
	TooSmall     Code = "too-small"
	TooTilted    Code = "too-tilted"
	Blurred      Code = "blurred"
	Glare        Code = "glare"
	RingsUnclear Code = "rings-unclear"
	WrongTarget  Code = "wrong-target"
	IndexHidden  Code = "index-hidden"
)

// Refusal says why no plane was fitted: what is wrong, then what to do next.
type Refusal struct {
	Code Code
	Text string
}

func (r *Refusal) Error() string { return fmt.Sprintf("%s: %s", r.Code, r.Text) }

func (s *search) refuse(best look, opt Options) *Refusal {
	if best.fit == nil {
		return &Refusal{NoTarget, "nothing"}
	}
	if best.lines < 0.45 && !(best.rim > 0.5 && best.index.clear()) {
		return &Refusal{NoTarget, fmt.Sprintf("score %.2f", best.score())}
	}
	return nil
}

func (s *search) doubt(f *Fit) *Refusal { return nil }
