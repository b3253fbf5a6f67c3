package chart

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/reading"
)

// sieved is loam as a film shows it: sizes from 3 to 80 um.
func sieved() reading.Reading {
	r := loam()
	r.GrainCurve = &reading.GrainCurve{FinestUM: 3.14, CoarsestUM: 80.4}
	for i, um := range []float64{2, 5, 20, 50, 220, 2000} {
		v := 22 + 13*float64(i)
		r.GrainCurve.Points = append(r.GrainCurve.Points, reading.SizePoint{SizeUM: um, Finer: v, Low: v - 6, High: v + 6})
	}
	return r
}

func TestSizesThatAreNotSeenAreHatched(t *testing.T) {
	for _, width := range []float64{320, 640} {
		d := SizeCurve(sieved(), Options{Width: width})
		checkSVG(t, d)
		plain := SizeCurve(loam(), Options{Width: width})
		p := plot{d, scale{lo: 0.6, hi: 2000, from: 40, to: d.Width - 22, log: true}, scale{}}
		fine, coarse := p.x.at(3.14), p.x.at(80.4)
		hatches := 0
		for _, m := range d.marks {
			if m.line != edge || m.width != 0.7 {
				continue
			}
			for _, line := range m.paths {
				if line[0].Y > plain.Height-40 {
					continue // of the legend
				}
				hatches++
				assert.True(t, line[1].X <= fine+1e-9 || line[0].X >= coarse-1e-9, "between the ends all is seen")
			}
		}
		assert.Greater(t, hatches, 20)
		assert.Contains(t, d.Desc, "Over 80 µm: all of it was down at")
		assert.Contains(t, d.Desc, "Under 3.1 µm: some of it still floated")
		assert.Contains(t, d.Desc, "20 µm: 48 percent (42 to 54)", "the curve of all heights, not that of the tangents")
		assert.Greater(t, d.Height, plain.Height, "with words below")
	}
}

func TestACurveIsCutWhereItIsNotSeen(t *testing.T) {
	g := grainsOf(sieved())
	require.NotNil(t, g)
	seen := g.between(g.finest, g.coarsest)
	require.Len(t, seen, 5)
	assert.InDelta(t, 3.14, seen[0].SizeUM, 1e-9)
	assert.InDelta(t, 80.4, seen[4].SizeUM, 1e-9)
	// between 50 (61 percent) and 220 (74): ln(80.4/50)/ln(220/50) of the way
	assert.InDelta(t, 61+13*0.32060, seen[4].Finer, 0.01)
	r := sieved()
	r.GrainCurve.FinestUM = 100
	assert.Nil(t, grainsOf(r), "nothing is seen")
}
