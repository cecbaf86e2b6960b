package ellipse

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"burngauge.dev/burngauge/pkg/conic"
)

// A place of the small picture stands for the middle of its block.
func TestFullUndoesTheReduction(t *testing.T) {
	el := full(conic.Ellipse{X: 10, Y: 0, A: 5, B: 4, Theta: 0.3}, 3)
	assert.Equal(t, conic.Ellipse{X: 31, Y: 1, A: 15, B: 12, Theta: 0.3}, el)
}
