package layers

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Where the line of the sand is lost, its grain still says about where it ends:
// on these rendered jars within two standard deviations (measured: 1.7 at most,
// where only the very floor is grainy), 2.8 mm too low in the mean, 4.4 mm off.
func TestGrainStandsInForALostSandLine(t *testing.T) {
	var off, offBy, sd, n float64
	for _, jar := range jars(t) {
		last := len(jar.Photos) - 1
		s := cutJar(t, jar, 0, nil)[last]
		truth := jar.Photos[last].FacingHeights
		out := []Reading{{DepositTop: &Boundary{HeightMM: *truth.DepositTop}}}
		readGrain([]*photo{newPhoto(&s)}, out)
		require.NotNil(t, out[0].SandTop, jar.Name)
		b := out[0].SandTop
		t.Logf("%s: %.1f +/- %.1f mm, truth %.1f mm", jar.Name, b.HeightMM, b.SDMM, *truth.SandSilt)
		assert.InDelta(t, *truth.SandSilt, b.HeightMM, 2*b.SDMM, jar.Name)
		d := b.HeightMM - *truth.SandSilt
		off, offBy, sd, n = off+d, offBy+math.Abs(d), sd+b.SDMM, n+1
	}
	assert.InDelta(t, 0, off/n, 5, "mm in the mean")
	assert.Less(t, offBy/n, 7.0, "mm off")
	assert.Less(t, sd/n, 18.0, "a standard deviation of mm")
}

// A deposit of smooth mud down to the floor holds little sand, and the reading
// says that no line was seen.
func TestNoGrainMeansLittleSand(t *testing.T) {
	for _, jar := range jars(t) {
		last := len(jar.Photos) - 1
		s := cutJar(t, jar, 0, nil)[last]
		truth := jar.Photos[last].FacingHeights
		sand, top, mm := *truth.SandSilt, *truth.DepositTop, s.mmPerRow()
		lab := append([]float32(nil), s.Lab...)
		for r := range s.H { // the mud above the sand, drawn out to the floor
			if z := s.TopMM - (float64(r)+0.5)*mm; z > 0 && z < top {
				from := sand + 2 + (top-sand-2)*z/top
				q := int((s.TopMM - from) / mm)
				copy(lab[3*r*s.W:3*(r+1)*s.W], s.Lab[3*q*s.W:3*(q+1)*s.W])
			}
		}
		s.Lab = lab
		out := []Reading{{DepositTop: &Boundary{HeightMM: top}}}
		p := newPhoto(&s)
		readGrain([]*photo{p}, out)
		require.NotNil(t, out[0].SandTop, jar.Name)
		assert.Less(t, out[0].SandTop.HeightMM, 0.03*s.Water.MM, jar.Name)
		p.addNotes(&out[0], true)
		require.NotEmpty(t, out[0].Notes)
		assert.Equal(t, NoteSandSilt, out[0].Notes[len(out[0].Notes)-2].Code, jar.Name)
	}
}
