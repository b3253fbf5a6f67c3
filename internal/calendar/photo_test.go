package calendar

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/words"
)

func TestPhoto(t *testing.T) {
	start := time.Date(2026, 6, 5, 11, 38, 0, 0, time.UTC)
	soon := Photo("bed 2", start, time.Minute, nil)
	assert.Equal(t, Event{Start: start.Add(time.Minute), Length: 5 * time.Minute, Summary: "Photograph bed 2, 1 min after shaking",
		Description: "The whole jar, from the glass foot to above the water, upright, in even light.\nDo not move the jar."}, soon)
	french, err := words.Find("fr")
	require.NoError(t, err)
	late := Photo("", start, 2*time.Hour, french)
	assert.Equal(t, "Photographier le bocal de terre, 2\u00a0h après l’agitation", late.Summary)
	assert.Equal(t, []time.Duration{10 * time.Minute}, late.Early)
}
