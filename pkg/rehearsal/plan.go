package rehearsal

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strings"
)

// schemaPlan is the format of a plan, without its version; maxPlanBytes bounds one.
const (
	schemaPlan   = "mirrorplan.plan/"
	planVersion  = "1"
	maxPlanBytes = 16 << 20
)

// Plan is what the rehearsal wants of a plan file.
type Plan struct {
	Machine string // name of the profile that it was made for, "" when it does not say
	Status  string // turn, nothing-to-do, fire-more or beyond-the-screws
	Turns   []Turn // in the order to do them
}

// ReadPlan reads the turns of a plan file (mirrorplan.plan/1). What else it holds
// is passed over.
func ReadPlan(r io.Reader) (Plan, error) {
	data, err := io.ReadAll(io.LimitReader(r, maxPlanBytes+1))
	if err != nil {
		return Plan{}, fmt.Errorf("read the plan: %w", err)
	}
	if len(data) > maxPlanBytes {
		return Plan{}, fmt.Errorf("over %d MB: this is not a plan", maxPlanBytes>>20)
	}
	var file struct {
		Schema  string `json:"schema"`
		Machine any    `json:"machine"`
		Status  string `json:"status"`
		Turns   []Turn `json:"turns"`
	}
	if err := json.Unmarshal(data, &file); err != nil {
		return Plan{}, fmt.Errorf("this is not a plan: %w", err)
	}
	if version, ok := strings.CutPrefix(file.Schema, schemaPlan); !ok || version != planVersion {
		return Plan{}, fmt.Errorf("schema is %q, not %s%s: give a plan that mirrorplan wrote", file.Schema, schemaPlan, planVersion)
	}
	for i, t := range file.Turns {
		if t.Mirror == "" || t.Screw == "" || math.IsInf(t.Turns, 0) {
			return Plan{}, fmt.Errorf("turns[%d] names no mirror and screw", i)
		}
	}
	return Plan{Machine: machineName(file.Machine), Status: file.Status, Turns: file.Turns}, nil
}

// machineName takes the machine's name whether it stands alone or among other facts.
func machineName(v any) string {
	switch m := v.(type) {
	case string:
		return m
	case map[string]any:
		name, _ := m["name"].(string)
		return name
	}
	return ""
}
