package jar

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/reading"
	"mudline/internal/record"
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

// In the last photo, as if it were of another jar, the soil stands far below where it
// stood two days before: no soil sinks so.
func TestLinesThatContradictEachOtherGiveNoPercentages(t *testing.T) {
	files, rec := rendered(t, "open-13")
	lower := func(mm float64) {
		rec.Edit(files[2].Name, func(p *record.Photo) { p.Lines.DepositTop = &record.Line{Value: mm, MM: true} })
	}
	lower(20)
	got, err := Analyse(context.Background(), files, rec, Options{})
	require.NoError(t, err)
	assert.Nil(t, got.Reading.Fractions)
	assert.Equal(t, reading.LinesContradict, got.Reading.Warnings[0].Code)
	assert.NotNil(t, got.Reading.ByThickness, "the heights are told all the same")
	lower(38)
	got, err = Analyse(context.Background(), files, rec, Options{})
	require.NoError(t, err)
	assert.NotNil(t, got.Reading.Fractions)
}

// What a ruler says must be what the lines that are shown say.
func TestTheRulerGoesByTheLinesShown(t *testing.T) {
	files, rec := rendered(t, "open-11")
	got, err := Analyse(context.Background(), files, rec, Options{})
	require.NoError(t, err)
	last, ruler := got.Reading.Photos[len(files)-1].HeightsMM, got.Reading.ByThickness
	require.NotNil(t, last.SiltTop, "the silt's top is a boundary that physics took for it")
	require.NotNil(t, ruler.Silt)
	assert.InDelta(t, 100*(last.SiltTop.Value-last.SandTop.Value)/last.DepositTop.Value, *ruler.Silt, 1e-6)
	assert.InDelta(t, 100*last.SandTop.Value/last.DepositTop.Value, *ruler.Sand, 1e-6)
	assert.NotEqual(t, "soil.no-ruler", got.Reading.WhySaid.Key)
}
