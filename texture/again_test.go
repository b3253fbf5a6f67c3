package texture

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestStartingFromTheLastReading: of the same jar the answer stays; a line dragged by
// little moves it by little and steadily, where fresh draws would jump.
func TestStartingFromTheLastReading(t *testing.T) {
	obs, setup := exact(usualTruth())
	whole := mustInvert(t, obs, setup)
	setup.From = &whole
	apart := func(a, b Result) float64 {
		return max(math.Abs(a.Sand.Value-b.Sand.Value), math.Abs(a.Silt.Value-b.Silt.Value), math.Abs(a.Clay.Value-b.Clay.Value))
	}
	before := mustInvert(t, obs, setup)
	assert.Less(t, apart(whole, before), 0.5)
	assert.Nil(t, before.Next, "left out while a line is dragged")
	first := before
	sand, depth := obs[2].SandTop.Share, setup.WaterDepthMM
	for d := 0.1; d < 1; d += 0.1 {
		obs[2].SandTop = &Height{sand + d/depth, obs[2].SandTop.SD}
		now := mustInvert(t, obs, setup)
		assert.Less(t, apart(now, before), 0.75, "%.1f mm", d)
		before = now
	}
	assert.Greater(t, before.Sand.Value, first.Sand.Value-0.1)
}

// TestALineDraggedFar: where the last draws cannot follow a line, the answer is that
// of a reading made afresh.
func TestALineDraggedFar(t *testing.T) {
	obs, setup := exact(usualTruth())
	whole := mustInvert(t, obs, setup)
	for i := range obs {
		obs[i].SandTop = &Height{obs[i].SandTop.Share / 2, 0.5 / setup.WaterDepthMM}
	}
	fresh := mustInvert(t, obs, setup)
	setup.From = &whole
	again := mustInvert(t, obs, setup)
	assert.InDelta(t, fresh.Sand.Value, again.Sand.Value, 3)
	assert.Less(t, again.Sand.Value, whole.Sand.Value-8)
}
