package jar

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/reading"
	"mudline/texture"
	"mudline/texture/feel"
)

// around is a cloud of soils about a middle, as a jar leaves one.
func around(sand, clay float64) []texture.Fractions {
	var out []texture.Fractions
	for i := range 200 {
		a, r := 2.4*float64(i), 0.6*math.Sqrt(float64(i)) // a sunflower: up to 8 points off, evenly
		s, c := sand+r*math.Cos(a), clay+r*math.Sin(a)
		out = append(out, texture.Fractions{Sand: s, Silt: 100 - s - c, Clay: c})
	}
	return out
}

func loamy() *feel.Observation {
	return &feel.Observation{Hands: feel.Practised, StonesOut: feel.Yes, Moistened: feel.Yes, Kneaded: feel.Yes, Smell: feel.Earthy,
		Grit: feel.Some, Smooth: feel.Some, Sticky: feel.Some, Ball: feel.FirmBall, Failure: feel.Cracks, RibbonsMM: []float64{18, 20, 25, 21, 22}}
}

func TestHandAgrees(t *testing.T) {
	soils := around(40, 20)
	h := handOf(loamy(), texture.USDA, soils, feel.Jar{Soils: soils, RulerClay: math.NaN()})
	require.NotNil(t, h)
	assert.Equal(t, "agree", h.Verdict)
	assert.Equal(t, "loam", h.Classes[0].Name)
	assert.Empty(t, h.Reasons)
	assert.Contains(t, h.Said, reading.Said{Key: "ribbons", Value: "18 mm (0.709 in), 20 mm (0.787 in), 25 mm (0.984 in), 21 mm (0.827 in), 22 mm (0.866 in)"})
	assert.Contains(t, h.Said, reading.Said{Key: "smell", Value: "earthy"})
	assert.InDelta(t, 21.2, h.RibbonMM.Mean, 1e-9)
	assert.InDelta(t, math.Sqrt((3.2*3.2+1.2*1.2+3.8*3.8+0.2*0.2+0.8*0.8)/4), *h.RibbonMM.SD, 1e-9)
	require.NotNil(t, h.Joint)
	f := h.Joint.Fractions
	assert.InDelta(t, 100, f.Sand.Percent+f.Silt.Percent+f.Clay.Percent, 1e-9)
	assert.Equal(t, "loam", h.Joint.Class.Name)
	assert.True(t, f.Clay.Low < f.Clay.Percent && f.Clay.Percent < f.Clay.High)
}

// Where they disagree neither overrides the other: no joint, and it says so.
func TestHandDisagrees(t *testing.T) {
	soils := around(20, 55)
	o := loamy()
	o.StonesOut = feel.No
	h := handOf(o, texture.USDA, soils, feel.Jar{Soils: soils, RulerClay: 70})
	assert.Equal(t, "disagree", h.Verdict)
	assert.Less(t, *h.Probability, 0.1)
	assert.Nil(t, h.Joint)
	assert.Regexp(t, `Your hands feel about [34]\d points less clay\. Both stand as they are`, h.Text)
	require.NotEmpty(t, h.Reasons)
	assert.Equal(t, "stones", h.Reasons[0].Code)
	assert.NotEmpty(t, h.Reasons[0].Remedy)
}

func TestHandAsksBack(t *testing.T) {
	soils := around(40, 20)
	o := loamy()
	o.Ball, o.Failure = feel.NoBall, ""
	h := handOf(o, texture.USDA, soils, feel.Jar{Soils: soils})
	require.Len(t, h.Questions, 1)
	assert.Contains(t, h.Questions[0], "no ball")
	assert.Empty(t, h.Verdict)
	assert.Nil(t, h.Probability)
	assert.Nil(t, h.Joint)
	assert.Nil(t, h.Clay)
	assert.Empty(t, h.Classes)
	assert.NotEmpty(t, h.Said, "what was said is kept")
}

func TestHandWithoutAJarOrAnswers(t *testing.T) {
	assert.Nil(t, handOf(nil, texture.USDA, nil, feel.Jar{}))
	assert.Nil(t, handOf(&feel.Observation{}, texture.USDA, nil, feel.Jar{}))
	h := handOf(loamy(), texture.USDA, nil, feel.Jar{})
	assert.Empty(t, h.Verdict)
	assert.NotNil(t, h.Clay)
	assert.Contains(t, h.Text, "stands alone")
	h = handOf(&feel.Observation{Smell: feel.Sour}, texture.USDA, around(40, 20), feel.Jar{Soils: around(40, 20)})
	assert.Nil(t, h.Clay)
	assert.Empty(t, h.Verdict)
	assert.Contains(t, h.Text, "says nothing about the texture")
}

// Hands go by the USDA limits; the joint fractions are those of the system.
func TestHandInAnotherSystem(t *testing.T) {
	usda := around(40, 20)
	soils := make([]texture.Fractions, len(usda))
	for i, f := range usda {
		soils[i] = texture.Fractions{Sand: f.Sand + 15, Silt: f.Silt - 15, Clay: f.Clay}
	}
	h := handOf(loamy(), texture.International, soils, feel.Jar{Soils: usda})
	require.NotNil(t, h.Joint)
	assert.Equal(t, "agree", h.Verdict)
	assert.InDelta(t, 55, h.Joint.Fractions.Sand.Percent, 5)
	assert.Equal(t, "international", h.Joint.Class.System)
	assert.Nil(t, h.Classes, "hands alone are known by 50 um")
}
