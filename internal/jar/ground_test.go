package jar

import (
	"bytes"
	"context"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/reading"
	"mudline/internal/testkit"
	"mudline/texture/feel"
)

// A reading with all that stands beside it keeps to the schema.
func TestHandsAndMeaningStandInTheReading(t *testing.T) {
	files, rec := rendered(t, "open-05") // a sandy loam
	rec.Hand = &feel.Observation{Hands: feel.Practised, StonesOut: feel.Yes, Moistened: feel.Yes, Kneaded: feel.Yes, Grit: feel.Strong,
		Sticky: feel.None, Ball: feel.WeakBall, Failure: feel.FallsApart, RibbonsMM: []float64{12, 15, 18}, Smell: feel.Sour}
	rec.Crop, rec.RootingDepthMM = "tomato", 500
	opened := openEach(t, files, rec)
	res, err := Combine(context.Background(), opened, rec, Options{})
	require.NoError(t, err)
	r := res.Reading
	require.NotNil(t, r.Hand)
	assert.NotEqual(t, "disagree", r.Hand.Verdict, "what a sandy loam feels like")
	require.NotNil(t, r.Hand.Joint)
	require.NotNil(t, r.Meaning)
	assert.Equal(t, "tomato", r.Meaning.Bed.Crop)
	assert.Equal(t, 500.0, r.Meaning.Bed.RootingDepthMM)
	assert.Equal(t, "waterlogging", r.Meaning.Lines[0].Topic, "it shows in the smell")
	assert.NotEmpty(t, r.Soils)
	assert.NotEmpty(t, r.Expected)
	require.NotNil(t, r.Colours)
	said(t, &r)

	var b bytes.Buffer
	require.NoError(t, r.Encode(&b))
	s := testkit.Schema(t, reading.Schema)
	v, err := jsonschema.UnmarshalJSON(&b)
	require.NoError(t, err)
	require.NoError(t, s.Validate(v))

	rec.Hand = &feel.Observation{Hands: feel.Practised, Grit: feel.None, Smooth: feel.Some, Sticky: feel.Strong, Ball: feel.FirmBall,
		Failure: feel.Deforms, RibbonsMM: []float64{70, 80, 85, 90, 75}}
	res, err = Combine(context.Background(), opened, rec, Options{})
	require.NoError(t, err)
	assert.Equal(t, "disagree", res.Reading.Hand.Verdict, "what a clay feels like")
	assert.Nil(t, res.Reading.Hand.Joint)
	assert.NotEmpty(t, res.Reading.Hand.Reasons)
	assert.Equal(t, r.Fractions, res.Reading.Fractions, "neither corrects the other")
}

// Soil that smells of fuel is put down: nobody is told to shake it again, or to feel it.
func TestSoilThatSmellsOfFuelIsNotShakenAgain(t *testing.T) {
	files, rec := rendered(t, "open-11")
	opened := openEach(t, files, rec)
	res, err := Combine(context.Background(), opened, rec, Options{})
	require.NoError(t, err)
	require.NotNil(t, res.Reading.NextPhoto)
	rec.Hand = &feel.Observation{Smell: feel.Fuel}
	res, err = Combine(context.Background(), opened, rec, Options{})
	require.NoError(t, err)
	assert.Nil(t, res.Reading.NextPhoto)
	assert.Equal(t, "jar.hand-put-down", res.Reading.Hand.TextSaid.Key)
}
