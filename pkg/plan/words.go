package plan

import (
	"fmt"
	"math"
	"strings"
)

// Names of directions, negative and positive.
var (
	onTarget  = [2][2]string{{"left", "right"}, {"down", "up"}}                                                // as one faces the target
	fromBurn  = [2][2]string{{"left", "right"}, {"below", "above"}}                                            // on the target, seen from the burn
	onMachine = [3][2]string{{"to the left", "to the right"}, {"to the front", "to the rear"}, {"down", "up"}} // as one stands in front of the machine
)

func side(v float64, names [2]string) string {
	if v < 0 {
		return names[0]
	}
	return names[1]
}

// wordMM is how small a displacement is left out beside the other direction's: chosen,
// a fortieth of the usual limit.
const wordMM = 0.05

// inWords is a displacement in words, "0.80 mm left and 0.20 mm up". What is rounded
// away beside the other direction is left out.
func inWords(v [2]float64, names [2][2]string) string {
	var parts []string
	for a := range v {
		if math.Abs(v[a]) >= wordMM || math.Abs(v[a]) >= math.Abs(v[1-a]) {
			parts = append(parts, fmt.Sprintf("%.2f mm %s", math.Abs(v[a]), side(v[a], names[a])))
		}
	}
	return strings.Join(parts, " and ")
}

// withUncertainty is a displacement with its uncertainty, "0.80 ± 0.14 mm left and
// 0.02 ± 0.14 mm up"; ± is two standard uncertainties u.
func withUncertainty(v, u [2]float64) string {
	var parts [2]string
	for a := range v {
		parts[a] = fmt.Sprintf("%.2f ± %.2f mm %s", math.Abs(v[a]), 2*u[a], side(v[a], onTarget[a]))
	}
	return parts[0] + " and " + parts[1]
}
