package report

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/reading"
)

func TestHandsGoldens(t *testing.T) {
	estimate := func(v, low, high float64) reading.Estimate {
		return reading.Estimate{Percent: v, Low: low, High: high}
	}
	classes := []reading.OtherClass{{Name: "loam", Probability: 0.61}, {Name: "sandy loam", Probability: 0.2}, {Name: "clay loam", Probability: 0.12}, {Name: "silt loam", Probability: 0.07}}
	agree := reading.Hand{Said: []reading.Said{{Key: "ball", Value: "firm"}}, Classes: classes, Clay: &reading.Range{Value: 19, Low: 12, High: 27},
		Verdict: "agree", Probability: reading.Ptr(0.64), Text: "Your hands and the jar agree: of 100 handfuls of the soil that the jar shows, 64 would feel as far off as yours or farther.",
		Joint: &reading.Joint{Fractions: reading.Fractions{Sand: estimate(41, 34, 48), Silt: estimate(39, 32, 46), Clay: estimate(20, 15, 25)},
			Class: &reading.Class{System: "usda", Name: "loam", Probability: 0.93}}}
	disagree := agree
	disagree.Joint, disagree.Verdict, disagree.Probability = nil, "disagree", reading.Ptr(0.03)
	disagree.Text = "Your hands and the jar do not agree: of 100 handfuls of the soil that the jar shows, 3 would feel as far off as yours or farther. Your hands feel about 22 points less clay. Both stand as they are: neither corrects the other."
	disagree.Reasons = []reading.HandReason{
		{Code: "stones", Text: "Stones and roots cut a ribbon short and feel like sand.", Remedy: "Pick out stones and roots, and press five ribbons again."},
		{Code: "too_dry", Text: "Soil that is too dry breaks early, so ribbons come out short.", Remedy: "Add water drop by drop until the soil is like putty, and press five ribbons again."},
		{Code: "other_soil", Text: "Not shown.", Remedy: "Not shown."}}
	asked := reading.Hand{Text: "The hand test raises a question, so nothing is concluded from it yet.",
		Questions: []string{"You said grit above all, but also smooth above all: only one of them can be felt above all. Which is it? Wet a pinch until it runs, and rub it in the palm again."}}
	for name, h := range map[string]reading.Hand{"hand-agree.txt": agree, "hand-disagree.txt": disagree, "hand-asked.txt": asked} {
		var b bytes.Buffer
		Options{}.hands(&b, reading.Reading{Hand: &h})
		path := filepath.Join("testdata", name)
		if os.Getenv("MUDLINE_UPDATE") != "" {
			require.NoError(t, os.WriteFile(path, b.Bytes(), 0o644))
		}
		want, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.Equal(t, string(want), b.String(), "%s", name)
	}
	var b bytes.Buffer
	Options{}.hands(&b, reading.Reading{})
	assert.Empty(t, b.String())
}
