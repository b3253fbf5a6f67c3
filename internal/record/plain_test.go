package record_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/record"
)

// What editors on some systems make of a text file: marks before it, other line ends.
func TestRecordsFromAnyEditor(t *testing.T) {
	r, err := record.Parse("jar.yaml", []byte("\xef\xbb\xbfwater-depth: 120 mm\r\ntemp: 20 C\r\n"))
	require.NoError(t, err)
	assert.Equal(t, 120.0, r.WaterDepthMM)
	tree, err := record.ParseTree("jar.yaml", []byte("\xef\xbb\xbfname: x\r\n"))
	require.NoError(t, err)
	assert.Equal(t, "x", tree["name"])
	for _, utf16 := range []string{"\xff\xfew\x00a\x00", "\xfe\xff\x00w\x00a"} {
		_, err := record.Parse("jar.yaml", []byte(utf16))
		assert.ErrorContains(t, err, "UTF-16")
	}
}

func TestMisspeltKeys(t *testing.T) {
	for given, meant := range map[string]string{"water-depht": "water-depth", "tmep": "temp", "shakenfor": "shaken-for", "organic_matter": "organic-matter"} {
		_, err := record.Parse("jar.yaml", []byte(given+": 1"))
		assert.ErrorContains(t, err, "did you mean "+meant, given)
	}
	// Three letters off, or half of a short name, is another word.
	for _, other := range []string{"colour", "orgonik-mutter", "tree"} {
		_, err := record.Parse("jar.yaml", []byte(other+": red"))
		assert.ErrorContains(t, err, "unknown key")
		assert.NotContains(t, err.Error(), "did you mean", other)
	}
}
