package record_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/record"
)

func TestHowTheJarWasPrepared(t *testing.T) {
	r, err := record.Parse("jar.yaml", []byte("dispersant: yes\nshaken-for: 10 min\ndry-soil: 9 oz\nstones: 8 %\n"))
	require.NoError(t, err)
	assert.True(t, *r.Dispersant)
	assert.InDelta(t, 10, r.ShakenMin, 1e-9)
	assert.InDelta(t, 255.1, r.DrySoilG, 0.05) // 9 x 28.3495 g
	assert.InDelta(t, 8, *r.StonesPercent, 1e-9)
	assert.Equal(t, []string{record.Dispersant, record.ShakenFor, record.DrySoil, record.Stones}, r.Stated())

	r, err = record.Parse("jar.yaml", []byte("dispersant: no\nstones: out\ndry-soil: 0.25 kg\n"))
	require.NoError(t, err)
	assert.False(t, *r.Dispersant)
	assert.Zero(t, *r.StonesPercent)
	assert.InDelta(t, 250, r.DrySoilG, 1e-9)
}

// Grams by unit: 1 lb is 0.453 592 37 kg and has 16 oz, both exact (international yard and
// pound agreement, 1959; NIST Special Publication 811, appendix B.8).
func TestWeightsOfSoil(t *testing.T) {
	for text, grams := range map[string]float64{"1 lb": 453.59237, "0.5 pounds": 226.796185, "1 oz": 28.349523125, "16 ounces": 453.59237, "2 kg": 2000, "300": 300, "300 grams": 300} {
		got, err := record.ParseSoil(text)
		require.NoError(t, err, text)
		assert.InDelta(t, grams, got, 1e-9, text)
	}
}

func TestMistakesInHowTheJarWasPrepared(t *testing.T) {
	for line, want := range map[string]string{
		"dispersant: some":  "neither yes nor no",
		"shaken-for: 3 d":   "longer than",
		"dry-soil: 2 cups":  `unit "cups"`,
		"dry-soil: 1 g":     "outside 5 to 5000 g",
		"stones: a few":     "neither out nor a share",
		"stones: 95 %":      "outside 0 to 90 %",
		"shaken-for: quick": "quick",
	} {
		_, err := record.Parse("jar.yaml", []byte(line))
		require.Error(t, err, line)
		assert.Contains(t, err.Error(), want)
		assert.Contains(t, err.Error(), "jar.yaml:1: ")
	}
}
