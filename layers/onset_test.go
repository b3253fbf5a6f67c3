package layers

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The deposit of the first minutes begins where the change does: at the sand's top where
// it lies bare, at that of the film upon it where there is one, too thin to make a line of
// its own.
func TestOnsetOfAFilm(t *testing.T) {
	film := [3]float64{31, 7, 13}
	for _, mm := range []float64{0, 0.6, 1.2, 1.8} {
		layers := []stratum{{20.05, sandLab, 2}}
		if mm > 0 {
			layers = append(layers, stratum{20.05 + mm, film, 0})
		}
		s := scene{elapsed: 60, water: mud, layers: layers}.strip()
		p := newPhoto(&s)
		l := line{z: 20.05}
		z, ok := p.onset(&l)
		require.True(t, ok, "%g mm", mm)
		assert.InDelta(t, 20.05+mm, z, 0.25, "%g mm", mm)
	}
	s := scene{elapsed: 60, water: mud}.strip()
	l := line{z: 50}
	_, ok := newPhoto(&s).onset(&l)
	assert.False(t, ok, "even mud")
	l.z = 1.11 * sceneWater
	_, ok = newPhoto(&s).onset(&l)
	assert.False(t, ok, "too little above to compare with")
}
