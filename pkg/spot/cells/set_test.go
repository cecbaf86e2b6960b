package cells

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// drawn is the set of cells that a picture marks with '#'.
func drawn(rows ...string) Set {
	m := New(len(rows))
	for j, row := range rows {
		for i, c := range row {
			m.In[j*m.N+i] = c == '#'
		}
	}
	return m
}

// where is the set of cells for which a condition holds.
func where(n int, in func(i, j int) bool) Set {
	m := New(n)
	for k := range m.In {
		m.In[k] = in(k%n, k/n)
	}
	return m
}

// discSet holds the cells within r of the middle.
func discSet(n int, r float64) Set {
	c := float64(n-1) / 2
	return where(n, func(i, j int) bool { return math.Hypot(float64(i)-c, float64(j)-c) <= r })
}

// Against the definition: the least distance to any cell of the set.
func TestDistanceAgreesWithBruteForce(t *testing.T) {
	const n, tolCells = 23, 1e-9
	for seed := range uint64(4) {
		rng := rand.New(rand.NewPCG(seed, 1))
		m := where(n, func(int, int) bool { return rng.IntN(40) == 0 })
		m.In[7*n+11] = true
		for k, d := range m.Distance() {
			want := math.Inf(1)
			for c, in := range m.In {
				if in {
					want = min(want, math.Hypot(float64(k%n-c%n), float64(k/n-c/n)))
				}
			}
			require.InDelta(t, want, d, tolCells)
		}
	}
}

func TestGrownIsTheDiscRoundACell(t *testing.T) {
	m := New(21)
	m.In[10*21+10] = true
	assert.Equal(t, discSet(21, 4.2), m.Grown(4.2))
	assert.Equal(t, m, m.Grown(0))
}

func TestComplementTwiceIsTheSame(t *testing.T) {
	m := discSet(9, 3)
	assert.Equal(t, m, m.Complement().Complement())
	assert.Equal(t, 81-m.Count(), m.Complement().Count())
}

// A disc with a thin tail: opening keeps the disc and drops the tail.
func TestOpenedDropsWhatIsThin(t *testing.T) {
	disc := discSet(41, 9)
	m := Of(41, nil)
	copy(m.In, disc.In)
	for i := range 41 {
		m.In[20*41+i] = true // a line across the whole picture, one cell wide
	}
	opened := m.Opened(3)
	assert.False(t, opened.In[20*41+2])
	assert.False(t, opened.In[20*41+38])
	for k, in := range disc.Grown(0).In {
		if in && math.Hypot(float64(k%41-20), float64(k/41-20)) < 7 {
			assert.True(t, opened.In[k])
		}
	}
	thin := where(41, func(_, j int) bool { return j == 20 })
	assert.Zero(t, thin.Opened(3).Count())
}

func TestFilledFillsHolesAndNotBays(t *testing.T) {
	ring := drawn(
		".......",
		".#####.",
		".#...#.",
		".#.#.#.",
		".#...#.",
		".#####.",
		".......")
	assert.Equal(t, 25, ring.Filled().Count())
	bay := drawn(
		".......",
		".#####.",
		".#...#.",
		".#...#.",
		".#...#.",
		".#.###.",
		".......")
	assert.Equal(t, bay, bay.Filled())
}

// Holes are joined over sides, not over corners.
func TestFilledTakesACornerForClosed(t *testing.T) {
	m := drawn(
		".....",
		"..#..",
		".#.#.",
		"..#..",
		".....")
	assert.Equal(t, 5, m.Filled().Count())
}

func TestPartsAreJoinedOverSides(t *testing.T) {
	m := drawn(
		"##...",
		"#..#.",
		"..#..",
		".....",
		"###.#")
	parts := m.Parts()
	assert.Equal(t, [][]int{{0, 1, 5}, {8}, {12}, {20, 21, 22}, {24}}, parts)
	for _, part := range parts {
		for _, k := range part {
			assert.True(t, Of(m.N, part).In[k])
		}
	}
}

// The largest circle in a disc is the disc; in a bar it is as wide as the bar.
func TestInscribedIsTheLargestCircle(t *testing.T) {
	const tolCells = 0.6 // a cell's half diagonal
	assert.InDelta(t, 9.2, discSet(41, 9.2).Inscribed(), tolCells)
	bar := where(41, func(i, j int) bool { return i > 3 && i < 38 && j >= 15 && j < 26 })
	assert.InDelta(t, 5.5, bar.Inscribed(), tolCells)
}

func TestEdgeCellsTouchTheOutside(t *testing.T) {
	m := where(9, func(i, j int) bool { return i > 1 && i < 7 && j > 1 && j < 7 })
	edge := 0
	for k, in := range m.In {
		if in && m.Edge(k) {
			edge++
		}
	}
	assert.Equal(t, 16, edge) // the border of a square of five
}
