package texture

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestLinesDoNotLeap: the height expected of a line changes little where the soil
// does, even where two steps in the deposit are alike.
func TestLinesDoNotLeap(t *testing.T) {
	const late = 172800.0
	furthest := 0.0
	for _, soil := range [][3]float64{{0.15, 0.65, 0.2}, {0.2, 0.5, 0.3}, {0.1, 0.45, 0.45}, {0.4, 0.4, 0.2}} {
		before := math.NaN()
		for flocs := 0.2; flocs < 0.95; flocs += 0.001 {
			j, _ := evenJar(soil[0], soil[1], soil[2], flocs, 300)
			j.Settle(late + 1)
			h := j.At(late)
			if !math.IsNaN(before) {
				furthest = math.Max(furthest, math.Abs(h.SiltTopMM-before))
			}
			before = h.SiltTopMM
		}
	}
	assert.Less(t, furthest, 0.6)
}

// TestUnsureLines: between two clean layers the line is sure; where a step is seen
// twice, it is the mean of both and as unsure as they lie apart.
func TestUnsureLines(t *testing.T) {
	clean := divide{line: 0.5}
	clean.add(10, 0, 1)
	clean.add(10, 1, 1)
	mm, sd := clean.height()
	assert.InDelta(t, 10, mm, 0.01)
	assert.Less(t, sd, 0.3)

	twice := divide{line: 0.5}
	twice.add(10, 0, 1)
	twice.add(4, 1, 1) // a band of the upper kind
	twice.add(4, 0, 1)
	twice.add(10, 1, 1)
	mm, sd = twice.height()
	assert.InDelta(t, 14, mm, 0.05)
	assert.InDelta(t, 4, sd, 0.1)
}
