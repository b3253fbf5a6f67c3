package layers

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Where the depth is only supposed, what is supposed makes no difference: heights are the
// same share of it, and a person is told shares and no millimetres.
func TestASupposedDepthMakesNoDifference(t *testing.T) {
	const times = 1.7
	known := settling(func(s *scene) { s.floating = 5 })
	strips := settling(func(s *scene) { s.floating = 5 })
	for i := range strips {
		s := &strips[i]
		for _, mm := range []*float64{&s.TopMM, &s.BottomMM, &s.Water.MM, &s.FrameSDMM, &s.BowFloorMM, &s.BowWaterMM} {
			*mm *= times
		}
		s.Water.Supposed = true
	}
	want, err := Read(known)
	require.NoError(t, err)
	got, err := Read(strips)
	require.NoError(t, err)
	shares := func(r Reading, d Depth) (out []float64) {
		for _, b := range []*Boundary{r.DepositTop, r.SandTop, r.SiltTop, r.HazeTop} {
			if b != nil {
				out = append(out, d.Share(b.HeightMM), d.Share(b.SDMM), d.Share(b.WidthMM))
			}
		}
		for _, c := range r.Candidates {
			out = append(out, d.Share(c.HeightMM), c.SandOdds, c.SiltOdds)
		}
		return append(out, d.Share(r.FloatingMM), r.Cloud)
	}
	told := 0
	for i := range want {
		a, b := shares(want[i], known[i].Water), shares(got[i], strips[i].Water)
		require.Greater(t, len(a), 5)
		assert.InDeltaSlice(t, a, b, 1e-6)
		require.Len(t, got[i].Notes, len(want[i].Notes))
		for k, n := range got[i].Notes {
			assert.Equal(t, want[i].Notes[k].Code, n.Code)
			assert.NotContains(t, n.Text.String(), " mm")
			if n.Code == NoteFloating {
				told++
				assert.Contains(t, want[i].Notes[k].Text.String(), " mm of floating")
				assert.Contains(t, n.Text.String(), "% of the water depth")
			}
		}
	}
	assert.Positive(t, told)
}

// What is wrong with a placed line is told by the same measure.
func TestAPlacedLineOutsideIsToldByTheDepth(t *testing.T) {
	high := 150.0
	l := Lines{SandTop: &high}
	assert.Contains(t, l.Sound(Depth{MM: 120}).String(), "150.0 mm, but only 0.0 to 120.0 mm")
	assert.Contains(t, l.Sound(Depth{MM: 120, Supposed: true}).String(), "125.0 % of the water depth, but only 0.0 to 100.0 % of the water depth")
}

// So is how surely a hand places a line.
func TestAPlacedLineIsAsSureAtAnySupposedDepth(t *testing.T) {
	share := func(mm float64) float64 {
		d := Depth{MM: mm, Supposed: true}
		return d.Share(StatedSDMM(0.002*mm, d))
	}
	assert.InDelta(t, share(100), share(250), 1e-12)
	assert.InDelta(t, 0.5, StatedSDMM(0, Depth{MM: 125}), 1e-12)
	assert.InDelta(t, 0.75, StatedSDMM(0, Depth{MM: 250}), 1e-12)
}
