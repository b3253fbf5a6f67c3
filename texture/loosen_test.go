package texture

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// The last photo is of another jar: the soil has sunk by a third since the second.
func TestContradictingTopsAreNotReadSurely(t *testing.T) {
	obs := threePhotos()
	for i := range obs {
		obs[i].SandTop, obs[i].SiltTop = nil, nil
	}
	right := mustInvert(t, obs, usualSetup())
	assert.Equal(t, 1.0, right.Misfit)
	obs[2].DepositTop = height(20, 0.8)
	wrong := mustInvert(t, obs, usualSetup())
	assert.Greater(t, wrong.Misfit, 5.0)
	assert.NotEmpty(t, wrong.Surprises)
	assert.GreaterOrEqual(t, wrong.EffectiveDraws, 0.99*leastDraws)
	assert.Greater(t, wrong.Sand.High-wrong.Sand.Low, right.Sand.High-right.Sand.Low)
}

func TestFewDrawsAreEvenedOut(t *testing.T) {
	s := make([]sample, 200)
	for i := range s {
		s[i].weight = 1e-4
	}
	s[7].weight, s[8].weight = 0.9, 0.0802
	evenOut(s)
	assert.InDelta(t, leastDraws, effective(s), 0.01)
	assert.Greater(t, s[7].weight, s[8].weight, "the order stays")
	assert.Greater(t, s[8].weight, s[9].weight)
	before := s[7].weight
	evenOut(s)
	assert.InDelta(t, before, s[7].weight, 1e-3, "enough are left alone")
}
