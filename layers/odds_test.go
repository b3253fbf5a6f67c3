package layers

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A conditional logit against its formula: exp(w.x) over the sum, nowhere too.
func TestSandOdds(t *testing.T) {
	marks := []mark{{z: 5}, {z: 9}}
	marks[0].traits[0], marks[1].traits[1] = 2, 1
	w := [sandTraits]float64{0.5, -1}
	none := sandOdds(marks, &w, 0.25)
	all := math.Exp(1) + math.Exp(-1) + math.Exp(0.25)
	assert.InDelta(t, math.Exp(1)/all, marks[0].odds, 1e-12)
	assert.InDelta(t, math.Exp(-1)/all, marks[1].odds, 1e-12)
	assert.InDelta(t, math.Exp(0.25)/all, none, 1e-12)
	assert.Equal(t, 1.0, sandOdds(nil, &w, 3), "nothing to see")
}

// Two bells of known place, spread and weight come back as two modes.
func TestModes(t *testing.T) {
	s := slope{lo: 2, step: 0.4}
	var p []float64
	for z := s.lo; z < 60; z += s.step {
		s.traits = append(s.traits, [siltTraits]float64{})
		bell := func(at, sd float64) float64 {
			return math.Exp(-0.5*sq((z-at)/sd)) / (sd * math.Sqrt(2*math.Pi)) * s.step
		}
		p = append(p, 0.3*bell(15, 1.5)+0.5*bell(40, 2.5))
	}
	modes := modesOf(&s, p, 100)
	require.GreaterOrEqual(t, len(modes), 2)
	assert.InDelta(t, 40, modes[0].z, 0.2)
	assert.InDelta(t, math.Hypot(2.5, 0.8), modes[0].sd, 0.1)
	assert.InDelta(t, 0.5, modes[0].odds, 0.01)
	assert.InDelta(t, 15, modes[1].z, 0.2)
	assert.InDelta(t, 0.3, modes[1].odds, 0.01)
}

// What is handed on of a made-up jar: its true boundaries among the likeliest
// candidates, odds that are probabilities, in every photo, and the shades of the
// late one with the colours the layers were drawn in.
func TestCandidatesAndShades(t *testing.T) {
	got, err := Read(settling(nil))
	require.NoError(t, err)
	for i, r := range got {
		require.NotEmpty(t, r.Candidates, "photo %d", i+1)
		sand, silt, below := 0.0, 0.0, 0.0
		for _, c := range r.Candidates {
			assert.GreaterOrEqual(t, c.HeightMM, below, "in order")
			assert.Greater(t, c.SDMM, 0.0)
			assert.LessOrEqual(t, c.SandOdds+c.SiltOdds, 1.0)
			below = c.HeightMM
			sand, silt = sand+c.SandOdds, silt+c.SiltOdds
		}
		assert.LessOrEqual(t, sand, 1.0+1e-9)
		assert.LessOrEqual(t, silt, 1.0+1e-9)
	}
	best := func(odds func(Candidate) float64) (c Candidate) {
		for _, x := range got[2].Candidates {
			if odds(x) > odds(c) {
				c = x
			}
		}
		return c
	}
	sand := best(func(c Candidate) float64 { return c.SandOdds })
	assert.InDelta(t, 14.15, sand.HeightMM, 0.3)
	for ch := range 3 {
		assert.InDelta(t, sandLab[ch]-siltLab[ch], sand.Step[ch], 1, "below minus above")
	}
	silt := best(func(c Candidate) float64 { return c.SiltOdds })
	assert.InDelta(t, 26.7, silt.HeightMM, 2)

	assert.Empty(t, got[0].Shades, "an early photo does not show the last one's layers")
	require.Len(t, got[2].Shades, mostSlices)
	for _, s := range got[2].Shades {
		want, grainy := clayLab, false
		switch {
		case s.HeightMM < 13:
			want, grainy = sandLab, true
		case s.HeightMM < 15.5 || s.HeightMM > 25.5 && s.HeightMM < 28:
			continue // across a boundary
		case s.HeightMM < 26:
			want = siltLab
		}
		for ch := range 3 {
			assert.InDelta(t, want[ch], s.Lab[ch], 1.2, "at %.1f mm", s.HeightMM)
		}
		assert.Equal(t, grainy, s.Grain > 1.2, "grain %.2f at %.1f mm", s.Grain, s.HeightMM)
		assert.Greater(t, s.SD, 0.0)
		assert.Less(t, s.SD, 1.0)
	}
}

// The true tops of sand and silt are among what the last photos of the rendered
// jars in view hand on, with odds that count. Held-out figures are in
// DEVELOPERS.md.
func TestCandidatesHoldTheTruth(t *testing.T) {
	sands, silts, n, m := 0, 0, 0, 0
	for _, jar := range jars(t) {
		got, err := Read(cutJar(t, jar, 0, nil))
		require.NoError(t, err)
		last := len(got) - 1
		f, h := jar.Photos[last].FacingHeights, jar.WaterHeightMM
		sand, silt := 0.0, 0.0
		for _, c := range got[last].Candidates {
			if f.SandSilt != nil && math.Abs(c.HeightMM-*f.SandSilt) < 0.012*h {
				sand += c.SandOdds
			}
			if f.SiltClay != nil && math.Abs(c.HeightMM-*f.SiltClay) < max(2*c.SDMM, 0.02*h) {
				silt += c.SiltOdds
			}
		}
		t.Logf("%s: odds at the sand's top %.2f, at the silt's %.2f", jar.Name, sand, silt)
		if f.SandSilt != nil {
			n++
			if sand > 0.1 {
				sands++
			}
		}
		if f.SiltClay != nil {
			m++
			if silt > 0.1 {
				silts++
			}
		}
	}
	assert.Equal(t, n, sands)
	assert.GreaterOrEqual(t, float64(silts), 0.75*float64(m))
}
