package layers

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The strips that cannot be read, one fault each.
func TestStripsAtTheEdgeOfSense(t *testing.T) {
	good := settling(nil)[0]
	require.Empty(t, good.sound())
	nan, inf := math.NaN(), math.Inf(1)
	for name, change := range map[string]func(*Strip){
		"narrow":             func(s *Strip) { s.W, s.Lab = 7, s.Lab[:3*7*s.H] },
		"low":                func(s *Strip) { s.H, s.Lab = 39, s.Lab[:3*s.W*39] },
		"values missing":     func(s *Strip) { s.Lab = s.Lab[:len(s.Lab)-1] },
		"no span":            func(s *Strip) { s.USpan = 0 },
		"too wide":           func(s *Strip) { s.USpan = 1.01 },
		"upside down":        func(s *Strip) { s.BottomMM = s.TopMM },
		"endless":            func(s *Strip) { s.TopMM = inf },
		"no water":           func(s *Strip) { s.Water.MM = 0 },
		"water cut off":      func(s *Strip) { s.Water.MM = s.TopMM + 0.1 },
		"floor cut off":      func(s *Strip) { s.BottomMM = 0.021 * s.Water.MM },
		"negative doubt":     func(s *Strip) { s.FrameSDMM = -0.1 },
		"endless doubt":      func(s *Strip) { s.FrameSDMM = inf },
		"no time":            func(s *Strip) { s.ElapsedS = nan },
		"before it began":    func(s *Strip) { s.ElapsedS = -1 },
		"never":              func(s *Strip) { s.ElapsedS = inf },
		"bow without number": func(s *Strip) { s.BowFloorMM = nan },
		"endless bow":        func(s *Strip) { s.BowWaterMM = inf },
		"endless both":       func(s *Strip) { s.BowFloorMM, s.BowWaterMM = inf, inf },
	} {
		s := good
		change(&s)
		assert.NotEmpty(t, s.sound(), name)
	}
	for name, change := range map[string]func(*Strip){
		"least width":      func(s *Strip) { s.W, s.Lab = 8, s.Lab[:3*8*s.H] },
		"least height":     func(s *Strip) { s.H, s.Lab = 40, s.Lab[:3*s.W*40] },
		"whole width":      func(s *Strip) { s.USpan = 1 },
		"just the water":   func(s *Strip) { s.Water.MM = s.TopMM },
		"just the floor":   func(s *Strip) { s.BottomMM = 0.02 * s.Water.MM },
		"no doubt":         func(s *Strip) { s.FrameSDMM = 0 },
		"as it was shaken": func(s *Strip) { s.ElapsedS = 0 },
	} {
		s := good
		change(&s)
		assert.Empty(t, s.sound(), name)
	}
}

// What was found gives way to what a person placed where they are out of order by more than
// two standard deviations of both; the deposit's top stays and is listed.
func TestPlacedLinesAndWhatContradictsThem(t *testing.T) {
	found := Reading{SandTop: &Boundary{HeightMM: 20, SDMM: 0.6}, SiltTop: &Boundary{HeightMM: 30, SDMM: 0.6},
		DepositTop: &Boundary{HeightMM: 40, SDMM: 0.6}, HazeTop: &Boundary{HeightMM: 60, SDMM: 0.6}}
	const joint = 1.0 // of 0.6 and 0.8
	at := func(mm float64) *float64 { return &mm }
	for _, c := range []struct {
		placed Lines
		gone   []Line
	}{
		{Lines{}, nil},
		{Lines{SandTop: at(30 + 1.9*joint)}, nil},
		{Lines{SandTop: at(30 + 2.1*joint)}, []Line{SiltTop}},
		{Lines{SiltTop: at(20 - 1.9*joint)}, nil},
		{Lines{SiltTop: at(20 - 2.1*joint)}, []Line{SandTop}},
		{Lines{SiltTop: at(42.5)}, []Line{DepositTop}},
		{Lines{DepositTop: at(17)}, []Line{SandTop, SiltTop}},
		{Lines{DepositTop: at(63)}, []Line{HazeTop}},
		{Lines{SandTop: at(65)}, []Line{SiltTop, DepositTop, HazeTop}},
		{Lines{HazeTop: at(37)}, []Line{DepositTop}},
	} {
		r, conflicts := found.With(c.placed, 0.8)
		var gone []Line
		for _, x := range conflicts {
			gone = append(gone, x.Found)
		}
		assert.Equal(t, c.gone, gone)
		for name, b := range map[Line]*Boundary{SandTop: r.SandTop, SiltTop: r.SiltTop, HazeTop: r.HazeTop} {
			lost := false
			for _, g := range gone {
				lost = lost || g == name
			}
			assert.Equal(t, lost, b == nil, "%s", name)
		}
		assert.NotNil(t, r.DepositTop)
	}
	assert.InDelta(t, math.Hypot(0.3, 0.5), StatedSDMM(0.3, Depth{MM: 100}), 1e-12, "half a millimetre")
	assert.InDelta(t, math.Hypot(0.3, 0.6), StatedSDMM(0.3, Depth{MM: 200}), 1e-12, "or 0.3 % of the depth")
	assert.InDelta(t, math.Hypot(0.3, 0.5), StatedSDMM(0.3, Depth{MM: 125, Supposed: true}), 1e-12, "or half a millimetre of a usual jar's")
}

// A rival is spoken of from odds of one in four on, where it lies elsewhere than the line
// that is named, and not beside what a person placed.
func TestRivalsSpokenOf(t *testing.T) {
	odds := func(c Candidate) float64 { return c.SandOdds }
	r := Reading{Candidates: []Candidate{{HeightMM: 20, SandOdds: 0.5}, {HeightMM: 21.1, SandOdds: 0.3}, {HeightMM: 30, SandOdds: 0.26}, {HeightMM: 35, SandOdds: 0.28}, {HeightMM: 40, SandOdds: 0.24}}}
	z, ok := r.rival(&Boundary{HeightMM: 20}, 100, odds)
	assert.True(t, ok)
	assert.Equal(t, 35.0, z, "the likeliest of those elsewhere")
	_, ok = r.rival(nil, 100, odds)
	assert.False(t, ok)
	_, ok = r.rival(&Boundary{HeightMM: 20, Stated: true}, 100, odds)
	assert.False(t, ok)
	r.Candidates = r.Candidates[:2]
	_, ok = r.rival(&Boundary{HeightMM: 20}, 100, odds)
	assert.False(t, ok, "1.1 % of the depth off is the same line")
}
