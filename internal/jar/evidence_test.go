package jar

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/layers"
	"mudline/texture"
)

// TestAdoptShowsWhatIsReckonedWith: a candidate that is plainly a line is shown as
// it; a toss-up changes nothing, nor does any a line that a person placed.
func TestAdoptShowsWhatIsReckonedWith(t *testing.T) {
	shotOf := func() *seen {
		return &seen{shown: shown{layers: layers.Reading{
			SandTop:    &layers.Boundary{HeightMM: 12, SDMM: 0.5, Confidence: 0.9},
			Candidates: []layers.Candidate{{HeightMM: 12, SandOdds: 0.4}, {HeightMM: 17, SDMM: 0.8, WidthMM: 2, SandOdds: 0.5, SiltOdds: 0.1}, {HeightMM: 30, SDMM: 2, SiltOdds: 0.6}}}}}
	}
	sand := texture.Placed{Line: texture.SandTopLine, Candidate: 1, Probability: 0.9}
	silt := texture.Placed{Line: texture.SiltTopLine, Candidate: 2, Probability: 0.8}

	s := shotOf()
	adopt([]*seen{s}, []texture.Placed{sand, silt})
	assert.Equal(t, &layers.Boundary{HeightMM: 17, SDMM: 0.8, WidthMM: 2, Confidence: 0.9}, s.shown.layers.SandTop)
	require.NotNil(t, s.shown.layers.SiltTop)
	assert.Equal(t, 30.0, s.shown.layers.SiltTop.HeightMM)

	s, sand.Probability = shotOf(), 0.55
	adopt([]*seen{s}, []texture.Placed{sand})
	assert.Equal(t, 12.0, s.shown.layers.SandTop.HeightMM)

	s, sand.Probability = shotOf(), 0.95
	s.shown.layers.SandTop.Stated = true
	adopt([]*seen{s}, []texture.Placed{sand})
	assert.Equal(t, 12.0, s.shown.layers.SandTop.HeightMM)
}
